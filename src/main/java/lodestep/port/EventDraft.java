package lodestep.port;

import java.time.Instant;

/**
 * An event as the control thread hands it over; the ledger gives it its number and its hash.
 *
 * @param atNs monotonic time of the scan, in nanoseconds
 * @param wall what the wall clock said; a label only
 */
public record EventDraft(LedgerEvent event, long atNs, Instant wall) {}
