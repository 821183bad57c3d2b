package lodestep.ledger;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;

/**
 * An event read back from the record. Any thread, immutable.
 *
 * @param number its number, from 1
 * @param atNs monotonic time in nanoseconds; comparable only within one run of the program
 * @param wall what the wall clock said, to a millisecond; a label only
 */
public record LedgerEntry(long number, LedgerEvent event, long atNs, Instant wall) {

  /** All entries of this kind, oldest first; errors are the archive's. */
  public static List<LedgerEntry> all(LedgerArchive archive, Class<? extends LedgerEvent> kind) {
    List<LedgerEntry> entries = new ArrayList<>();
    archive.forEachOfKind(EventCodec.kind(kind), stored -> entries.add(EventCodec.decode(stored)));
    return entries;
  }
}
