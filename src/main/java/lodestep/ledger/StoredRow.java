package lodestep.ledger;

/**
 * Where an event's row lies in an array that holds it as it is stored: what stands beside its bytes
 * as numbers, the rest as places. The hash follows the payload without a gap.
 *
 * @param number the event's number
 * @param magnet the magnet that stands beside its bytes
 * @param wallEpochMs the time that stands beside its bytes, in milliseconds since 1970 UTC
 * @param kind where the kind's word begins, in UTF-8
 * @param kindEnd where it ends
 * @param payload where the canonical bytes begin
 * @param hash where they end and the hash begins
 */
public record StoredRow(
    long number, long magnet, long wallEpochMs, int kind, int kindEnd, int payload, int hash) {}
