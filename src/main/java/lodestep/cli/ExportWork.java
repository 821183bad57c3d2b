package lodestep.cli;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lodestep.ledger.ExportHead;
import lodestep.ledger.LedgerEntry;

/** What the commands on exports need of the program. Every refusal is a {@link Refusal}. */
public interface ExportWork {

  /**
   * One magnet's part of a ledger.
   *
   * @param unbroken with all events between its first and last
   */
  record Part(long magnet, boolean unbroken) {}

  /** An export that was written. */
  record Exported(Path file, ExportHead head, long events) {}

  /** Writes the whole ledger, or one magnet's part, to a file that is not there yet. */
  Exported export(Path ledgerFile, Optional<Part> part, Path to);

  /**
   * An export that was read and proven as far as it can be.
   *
   * @param entries of a part, rising; empty of a whole ledger
   */
  record Imported(ExportHead head, long events, List<LedgerEntry> entries) {
    public Imported {
      entries = List.copyOf(entries);
    }
  }

  /** Reads an export and makes nothing of it. */
  Imported look(Path export);

  /** Makes a ledger of a whole export, in a file that is not there yet. */
  Imported make(Path export, Path ledgerFile);
}
