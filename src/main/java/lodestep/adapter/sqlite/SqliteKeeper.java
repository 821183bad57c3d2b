package lodestep.adapter.sqlite;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import lodestep.adapter.file.WholeFiles;
import lodestep.ledger.Proof;
import lodestep.port.ChainEnd;
import lodestep.port.Hash;
import lodestep.port.LedgerException;
import lodestep.port.StoredEvent;
import org.jspecify.annotations.Nullable;

/**
 * Copies ledgers while they are written, makes ledgers of events, and puts one in another's place.
 * What it makes is synced when it returns. No state; one thread a file.
 */
public final class SqliteKeeper {

  /** Events a transaction when a ledger is made of another's events. */
  private static final int AT_ONCE = 5_000;

  private static final List<String> BESIDE = List.of("-wal", "-shm");

  private SqliteKeeper() {}

  /**
   * Copies a ledger as it stands at one moment, also while another program writes it, by SQLite's
   * own {@code VACUUM INTO}: what comes out is one file, packed, with no log beside it.
   *
   * @param to a file that is not there yet; taken away again if the copy fails
   * @throws LedgerException if one cannot be read, or the other not written
   */
  public static void copy(Path ledger, Path to) {
    // Refuses what is no ledger, or a newer one's.
    SqliteArchive.open(ledger).close();
    try (Connection reader = SqliteConnections.openReader(ledger.toAbsolutePath().normalize());
        PreparedStatement vacuum = reader.prepareStatement("VACUUM INTO ?")) {
      SqliteConnections.execute(reader, "PRAGMA query_only=OFF");
      vacuum.setString(1, to.toAbsolutePath().toString());
      vacuum.execute();
      WholeFiles.force(to);
    } catch (SQLException failed) {
      takeAway(to);
      throw SqliteErrors.explain("copied to " + to.getParent(), ledger, failed);
    } catch (IOException failed) {
      takeAway(to);
      throw unwritten(to, failed);
    }
  }

  private static void takeAway(Path half) {
    try {
      Files.deleteIfExists(half);
    } catch (IOException stays) {
      // It stands under a name that says it is unfinished, and the next one takes it away.
      return;
    }
  }

  private static LedgerException unwritten(Path file, IOException failed) {
    return new LedgerException(
        "the file " + file + " cannot be written: " + WholeFiles.why(failed), failed);
  }

  /**
   * Makes a ledger of events that are handed over one by one, the first of which creates it.
   *
   * @param file that is not there yet; taken away again if it fails
   * @param events hands each over to the consumer it is given, in rising order
   * @throws LedgerException if it cannot be written, or what hands over throws one
   */
  public static void make(Path file, Consumer<Consumer<StoredEvent>> events) {
    try {
      SqliteNative.prepare(WholeFiles.folderOf(file));
      try (Connection writer = SqliteConnections.openWriter(file)) {
        Filling filling = new Filling(writer);
        events.accept(filling);
        filling.end();
        SqliteConnections.execute(writer, "PRAGMA journal_mode=DELETE");
      }
      WholeFiles.force(file);
    } catch (SQLException failed) {
      takeAway(file);
      throw SqliteErrors.explain("written", file, failed);
    } catch (IOException failed) {
      takeAway(file);
      throw unwritten(file, failed);
    } catch (LedgerException | IllegalArgumentException refused) {
      takeAway(file);
      throw refused;
    }
  }

  /** Appends events to a file that no program has open, and leaves no log beside it. */
  public static void append(Path file, List<StoredEvent> events) {
    try (Connection writer = SqliteConnections.openWriter(file)) {
      SqliteConnections.raiseForm(writer);
      Filling filling = new Filling(writer);
      filling.begun = true;
      SqliteConnections.execute(writer, "BEGIN IMMEDIATE");
      events.forEach(filling);
      filling.end();
      SqliteConnections.execute(writer, "PRAGMA journal_mode=DELETE");
    } catch (SQLException failed) {
      throw SqliteErrors.explain("written", file, failed);
    }
  }

  private static final class Filling implements Consumer<StoredEvent> {

    private final Connection writer;
    private @Nullable PreparedStatement insert;
    private boolean begun;
    private int waiting;

    Filling(Connection writer) {
      this.writer = writer;
    }

    @Override
    public void accept(StoredEvent event) {
      try {
        if (!begun) {
          begun = true;
          SqliteSchema.create(writer, event);
          SqliteConnections.execute(writer, "BEGIN IMMEDIATE");
          return;
        }
        SqliteSchema.bind(prepared(), event).executeUpdate();
        waiting++;
        if (waiting == AT_ONCE) {
          SqliteConnections.execute(writer, "COMMIT");
          SqliteConnections.execute(writer, "BEGIN IMMEDIATE");
          waiting = 0;
        }
      } catch (SQLException failed) {
        throw new LedgerException(
            "event "
                + event.number()
                + " cannot be written: "
                + SqliteErrors.why(failed, Path.of("")),
            failed);
      }
    }

    private PreparedStatement prepared() throws SQLException {
      PreparedStatement statement = insert;
      if (statement == null) {
        statement = writer.prepareStatement(SqliteSchema.INSERT);
        insert = statement;
      }
      return statement;
    }

    void end() throws SQLException {
      PreparedStatement statement = insert;
      if (statement != null) {
        statement.close();
      }
      if (begun) {
        SqliteConnections.execute(writer, "COMMIT");
      }
    }
  }

  /**
   * What stands in a file that should be a ledger, as far as it can be read.
   *
   * @param first hash of event 1; none if that cannot be read or is not good
   * @param good the last event up to which everything is proven
   * @param fault what is wrong with it; none if it is whole
   */
  public record Standing(Optional<Hash> first, ChainEnd good, Optional<String> fault) {}

  /** Looks at a file and changes nothing, however damaged it is. */
  public static Standing standing(Path file) {
    ChainEnd[] good = {ChainEnd.EMPTY};
    Hash[] first = {Hash.ZERO};
    try (SqliteArchive archive = SqliteArchive.open(file)) {
      Proof proof = Proof.fromStart(List.of());
      archive.forEachInARow(
          Long.MIN_VALUE,
          Long.MAX_VALUE,
          event -> {
            proof.accept(event);
            if (proof.result() instanceof Proof.Result.Whole whole) {
              good[0] = whole.end();
              first[0] = event.number() == 1 ? event.hash() : first[0];
            }
          });
      Optional<String> fault =
          proof
              .result()
              .match(
                  whole -> SqliteProof.fault(file),
                  broken -> Optional.of("event " + broken.number() + ": " + broken.what()));
      return new Standing(known(first[0]), good[0], fault);
    } catch (LedgerException unreadable) {
      return new Standing(known(first[0]), good[0], Optional.of(unreadable.sentence()));
    }
  }

  private static Optional<Hash> known(Hash first) {
    return first.equals(Hash.ZERO) ? Optional.empty() : Optional.of(first);
  }

  /** A ledger's place, held so that no other Lodestep can write there. */
  public static final class Place implements AutoCloseable {

    private final Path ledger;
    private final LedgerLock lock;

    private Place(Path ledger, LedgerLock lock) {
      this.ledger = ledger;
      this.lock = lock;
    }

    /**
     * Takes hold of a ledger's place, whether or not a file is there.
     *
     * @throws LedgerException if another program has it open
     */
    public static Place take(Path ledger) {
      Path folder = WholeFiles.folderOf(ledger);
      SqliteNative.prepare(folder);
      return new Place(ledger, LedgerLock.take(ledger));
    }

    /**
     * Puts a finished file in the ledger's place. What stands there gets another name before, with
     * its log if it has one that cannot be folded in; at no moment is there neither.
     *
     * @param aside the new name of what stands there; ignored where nothing does
     */
    public void put(Path finished, Path aside) {
      try {
        if (Files.exists(ledger)) {
          moveAside(aside);
        }
        Files.move(finished, ledger, StandardCopyOption.ATOMIC_MOVE);
        WholeFiles.forceFolder(WholeFiles.folderOf(ledger));
      } catch (IOException failed) {
        throw new LedgerException(
            String.format(
                "%s cannot take the place of %s: %s", finished, ledger, WholeFiles.why(failed)),
            failed);
      }
    }

    private void moveAside(Path aside) throws IOException {
      try {
        // A second name first: whatever happens next, the old file is there under one of them.
        Files.createLink(aside, ledger);
      } catch (UnsupportedOperationException | IOException noLinksHere) {
        Files.move(ledger, aside);
      }
      for (String beside : BESIDE) {
        Path log = ledger.resolveSibling(ledger.getFileName() + beside);
        if (Files.exists(log)) {
          Files.move(log, aside.resolveSibling(aside.getFileName() + beside));
        }
      }
    }

    @Override
    public void close() {
      lock.close();
    }
  }
}
