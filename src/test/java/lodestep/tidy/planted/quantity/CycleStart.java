package lodestep.tidy.planted.quantity;

/** Is imported by the layer that this one imports. */
public record CycleStart(int number) {}
