package lodestep.tidy.planted.quantity;

/** A record whose equality and immutability an array spoils. */
@SuppressWarnings("ArrayRecordComponent")
record ArrayInside(byte[] bytes) {}
