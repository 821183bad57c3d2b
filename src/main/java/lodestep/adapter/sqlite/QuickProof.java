package lodestep.adapter.sqlite;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lodestep.ledger.RowProof;
import lodestep.port.ChainEnd;

/**
 * Proves parts of a ledger from its pages, past SQLite. It only ever says that a part is surely
 * whole; where it does not, SQLite has to be asked. Any thread, once it has begun.
 */
final class QuickProof implements AutoCloseable {

  /** The log can be begun anew once while a reader looks on, and then no more. */
  private static final int TRIES = 2;

  private final Optional<DatabasePages> pages;
  private boolean begun;
  private int root;
  private ChainEnd newest = ChainEnd.EMPTY;

  private QuickProof(Optional<DatabasePages> pages) {
    this.pages = pages;
  }

  /**
   * To be opened before any connection to the file and closed after the last. Where this process
   * itself keeps the ledger, or may not look at the log as SQLite does, it will say nothing.
   */
  static QuickProof open(Path given) {
    Path file = given.toAbsolutePath().normalize();
    try {
      boolean may = SqliteConnections.writable(file) || !Files.exists(DatabasePages.log(file));
      return new QuickProof(
          may && Files.isRegularFile(file) && !LedgerLock.heldHere(file)
              ? Optional.of(DatabasePages.open(file))
              : Optional.empty());
    } catch (IOException unreadable) {
      return new QuickProof(Optional.empty());
    }
  }

  /**
   * Begins, under a read transaction that is held until this is closed.
   *
   * @param tableRoot page at which the table of events begins
   * @param last newest event that the transaction sees
   */
  void begin(long tableRoot, ChainEnd last) {
    root = (int) tableRoot;
    newest = last;
    try {
      begun = root == tableRoot && pages.isPresent() && pages.get().known();
    } catch (IOException unreadable) {
      begun = false;
    }
  }

  /** Whether the events after this one are surely as they were written, to the last of the part. */
  boolean surely(ChainEnd start, List<ChainEnd> anchors, long last) {
    try {
      for (int i = 0; begun && i < TRIES; i++) {
        Optional<LogFrames> frames = pages.orElseThrow().frames();
        if (frames.isEmpty()) {
          return false;
        }
        RowProof proof = new RowProof(start, anchors);
        long from = start.number() == 0 ? Long.MIN_VALUE : start.number() + 1;
        boolean sure =
            new TableRows(pages.orElseThrow(), frames.get(), proof, from, last).surely(root);
        if (pages.orElseThrow().stand(frames.get())) {
          return sure && (last < newest.number() || proof.end().equals(newest));
        }
      }
      return false;
    } catch (IOException unreadable) {
      return false;
    }
  }

  @Override
  public void close() {
    try {
      if (pages.isPresent()) {
        pages.get().close();
      }
    } catch (IOException readOnly) {
      // Nothing was written that could be lost.
      begun = false;
    }
  }
}
