package lodestep.adapter.sqlite;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import lodestep.adapter.file.WholeFiles;
import lodestep.ledger.Chain;
import lodestep.ledger.Follows;
import lodestep.ledger.LedgerBinding;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.EventStore;
import lodestep.port.LedgerException;
import lodestep.port.StoredEvent;
import org.jspecify.annotations.Nullable;

/**
 * Events in one SQLite file, append-only: write-ahead log, every commit synced, one connection that
 * writes. One thread at a time; another reads through a {@link SqliteArchive} of its own.
 *
 * <p>Table {@code event}: {@code payload} and {@code hash} are the record; {@code number}, {@code
 * kind}, {@code magnet} and {@code wall_epoch_ms} are an index into it. Triggers refuse any change
 * but an append.
 *
 * <p>Nothing else in this process may open the file by other means: closing any channel on it would
 * drop SQLite's locks.
 */
public final class SqliteStore implements EventStore {

  private final Path file;
  private final LedgerLock lock;
  private final Connection writer;
  private final SqliteArchive reader;
  private @Nullable PreparedStatement insert;
  private ChainEnd end;
  private Optional<String> broken = Optional.empty();
  private boolean closed;

  private SqliteStore(Path file, LedgerLock lock, Connection writer, SqliteArchive reader) {
    this.file = file;
    this.lock = lock;
    this.writer = writer;
    this.reader = reader;
    this.end = reader.newest();
  }

  /**
   * Opens the ledger in this file for appending, or makes it with its first event. The file's own
   * consistency, the first event and the tail of the chain are checked.
   *
   * @param nowNs monotonic time, for the first event of a new ledger
   * @param wall wall time, for the same
   * @throws LedgerException if another program has it open, it belongs to another rig, it is
   *     damaged or newer, or it cannot be written; nothing is changed then
   */
  public static SqliteStore open(Path file, LedgerBinding binding, long nowNs, Instant wall) {
    Path real = prepareFolder(file);
    LedgerLock lock = LedgerLock.take(real);
    try {
      return open(real, lock, new EventDraft(binding.created(), nowNs, wall), binding);
    } catch (SQLException failed) {
      lock.close();
      throw SqliteErrors.explain("opened", real, failed);
    } catch (LedgerException refused) {
      lock.close();
      throw refused;
    }
  }

  private static SqliteStore open(
      Path file, LedgerLock lock, EventDraft created, LedgerBinding binding) throws SQLException {
    Connection writer = SqliteConnections.openWriter(file);
    try {
      if (SqliteConnections.number(writer, "SELECT count(*) FROM sqlite_schema") == 0) {
        SqliteSchema.create(writer, Chain.link(ChainEnd.EMPTY, created));
        forceFolder(file);
      }
      SqliteArchive reader = SqliteArchive.open(file);
      try {
        StartCheck.check(file, writer, reader, binding);
        SqliteConnections.raiseForm(writer);
        return new SqliteStore(file, lock, writer, reader);
      } catch (SQLException | LedgerException refused) {
        reader.close();
        throw refused;
      }
    } catch (SQLException | LedgerException refused) {
      writer.close();
      throw refused;
    }
  }

  /** One ledger has one name: links are followed, so that its lock stands beside the file. */
  private static Path prepareFolder(Path file) {
    Path absolute = file.toAbsolutePath().normalize();
    Path name = absolute.getFileName();
    Path folder = absolute.getParent();
    if (name == null || folder == null || Files.isDirectory(absolute)) {
      throw new LedgerException("the ledger " + absolute + " is a folder; name a file");
    }
    try {
      Files.createDirectories(folder);
      SqliteNative.prepare(folder.toRealPath());
      return Files.exists(absolute) ? absolute.toRealPath() : folder.toRealPath().resolve(name);
    } catch (IOException failed) {
      throw new LedgerException(
          String.format(
              "the folder %s for the ledger cannot be made; check path and rights", folder),
          failed);
    }
  }

  /** SQLite syncs the file, but its name in the folder is durable only once that is synced too. */
  private static void forceFolder(Path file) {
    Path folder = WholeFiles.folderOf(file);
    try {
      WholeFiles.forceFolder(folder);
    } catch (IOException failed) {
      throw new LedgerException(
          "the folder " + folder + " of the ledger cannot be synced; put it on a local disk",
          failed);
    }
  }

  @Override
  public void commit(List<StoredEvent> events) {
    broken.ifPresent(
        why -> {
          throw new LedgerException(why);
        });
    Follows.check(end, events);
    if (events.isEmpty()) {
      return;
    }
    try {
      SqliteConnections.execute(writer, "BEGIN IMMEDIATE");
      for (StoredEvent event : events) {
        SqliteSchema.bind(prepared(), event).executeUpdate();
      }
      SqliteConnections.execute(writer, "COMMIT");
      end = events.get(events.size() - 1).end();
    } catch (SQLException failed) {
      throw failure(failed);
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

  /**
   * After a full disk or a lock the transaction is rolled back and a later commit may work, with a
   * statement made anew, since the failed one is dead. After anything else it is not known what
   * reached the disk: then this store takes nothing more.
   */
  private LedgerException failure(SQLException failed) {
    LedgerException sentence = SqliteErrors.explain("written", file, failed);
    try {
      dropStatement();
      rollBack();
      if (!SqliteErrors.isClean(failed)) {
        broken = Optional.of(sentence.sentence());
      }
    } catch (SQLException alsoFailed) {
      sentence.addSuppressed(alsoFailed);
      broken = Optional.of(sentence.sentence());
    }
    return sentence;
  }

  private void rollBack() throws SQLException {
    try {
      SqliteConnections.execute(writer, "ROLLBACK");
    } catch (SQLException nothingToRollBack) {
      // After some errors SQLite has rolled back by itself; then a new transaction can begin.
      SqliteConnections.execute(writer, "BEGIN IMMEDIATE");
      SqliteConnections.execute(writer, "ROLLBACK");
    }
  }

  private void dropStatement() throws SQLException {
    PreparedStatement statement = insert;
    insert = null;
    if (statement != null) {
      statement.close();
    }
  }

  @Override
  public ChainEnd newest() {
    return end;
  }

  @Override
  public void forEach(long from, long to, Consumer<StoredEvent> each) {
    reader.forEach(from, to, each);
  }

  @Override
  public void forEachOfTime(long fromEpochMs, long toEpochMs, Consumer<StoredEvent> each) {
    reader.forEachOfTime(fromEpochMs, toEpochMs, each);
  }

  @Override
  public void forEachNamed(String kind, String name, Consumer<StoredEvent> each) {
    reader.forEachNamed(kind, name, each);
  }

  @Override
  public void forEachOfMagnet(long magnet, Consumer<StoredEvent> each) {
    reader.forEachOfMagnet(magnet, each);
  }

  @Override
  public void forEachOfKind(String kind, Consumer<StoredEvent> each) {
    reader.forEachOfKind(kind, each);
  }

  /** The connection that writes, for tests that make the disk fail. */
  Connection writer() {
    return writer;
  }

  /** Folds the log into the file and lets go of everything, whatever fails on the way. */
  @Override
  public void close() {
    if (closed) {
      return;
    }
    closed = true;
    try (lock;
        writer;
        reader) {
      dropStatement();
      if (broken.isEmpty()) {
        SqliteConnections.execute(writer, "PRAGMA wal_checkpoint(TRUNCATE)");
      }
    } catch (SQLException failed) {
      // All that was committed is safe in the log, and the next start folds it in.
      throw SqliteErrors.explain("closed", file, failed);
    }
  }
}
