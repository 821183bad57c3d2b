package lodestep.port;

/**
 * What of an event stands beside its bytes, so that a store can find it without reading them. It
 * says nothing the bytes do not say, and a proof of the ledger compares the two.
 *
 * @param number of the event, from 1
 * @param kind word of its kind, for example {@code pulse-intended}
 * @param magnet number of the magnet it is about; 0 if about none
 * @param wallEpochMs wall time, in milliseconds since 1970-01-01 UTC
 */
public record EventIndex(long number, String kind, long magnet, long wallEpochMs) {}
