package lodestep.ledger;

import java.time.Instant;
import lodestep.port.LedgerEvent;

/**
 * An event read back from the record. Any thread, immutable.
 *
 * @param number its number, from 1
 * @param atNs monotonic time in nanoseconds; comparable only within one run of the program
 * @param wall what the wall clock said, to a millisecond; a label only
 */
public record LedgerEntry(long number, LedgerEvent event, long atNs, Instant wall) {}
