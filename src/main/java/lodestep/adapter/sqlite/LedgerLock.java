package lodestep.adapter.sqlite;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.Properties;
import lodestep.port.LedgerException;
import org.sqlite.JDBC;

/**
 * Keeps a second program off a ledger. A small file beside the ledger is itself a database on which
 * a write lock is held as long as the ledger is open; in it stands which process that is. The
 * system drops the lock with the process, however it ends, so no lock ever outlives its holder.
 *
 * <p>Design note: a plain lock on a file channel would not do. Such a lock belongs to the whole
 * process and is lost as soon as any part of it closes another channel on the same file, which a
 * refused second attempt in the same process does; SQLite guards its own locks against that.
 */
final class LedgerLock implements AutoCloseable {

  private final Path file;
  private final Connection connection;

  private LedgerLock(Path file, Connection connection) {
    this.file = file;
    this.connection = connection;
  }

  /**
   * Takes the lock, or says at once who has it.
   *
   * @throws LedgerException if another holds it, in this process or any other, or the file beside
   *     the ledger cannot be written
   */
  static LedgerLock take(Path ledger) {
    Path file = ledger.resolveSibling(ledger.getFileName() + ".lock");
    try {
      Connection connection = new JDBC().connect(JDBC.PREFIX + file.toUri(), new Properties());
      if (connection == null) {
        throw new SQLException("the driver does not know " + file.toUri());
      }
      LedgerLock lock = new LedgerLock(file, connection);
      lock.hold(ledger);
      return lock;
    } catch (SQLException failed) {
      throw SqliteErrors.explain("opened", ledger, failed);
    }
  }

  /** Whether this very process may have the ledger open for writing; yes where there is doubt. */
  static boolean heldHere(Path ledger) {
    Path file = ledger.resolveSibling(ledger.getFileName() + ".lock");
    if (!Files.exists(file)) {
      return false;
    }
    try (Connection connection = new JDBC().connect(JDBC.PREFIX + file.toUri(), new Properties())) {
      long holder = SqliteConnections.number(connection, "SELECT process FROM holder");
      if (holder != ProcessHandle.current().pid()) {
        return false;
      }
      // The number stays behind when it is let go.
      SqliteConnections.execute(connection, "PRAGMA busy_timeout=0");
      SqliteConnections.execute(connection, "BEGIN IMMEDIATE");
      SqliteConnections.execute(connection, "ROLLBACK");
      return false;
    } catch (SQLException busyOrUnreadable) {
      return true;
    }
  }

  private void hold(Path ledger) throws SQLException {
    try {
      SqliteConnections.execute(connection, "PRAGMA busy_timeout=0");
      SqliteConnections.execute(connection, "BEGIN IMMEDIATE");
      SqliteConnections.execute(connection, "CREATE TABLE IF NOT EXISTS holder (process INTEGER)");
      SqliteConnections.execute(connection, "DELETE FROM holder");
      SqliteConnections.execute(
          connection, "INSERT INTO holder VALUES (" + ProcessHandle.current().pid() + ")");
      SqliteConnections.execute(connection, "COMMIT");
      // Held until closed; others can read meanwhile, but not begin to write.
      SqliteConnections.execute(connection, "BEGIN IMMEDIATE");
    } catch (SQLException failed) {
      LedgerException refusal = refusal(ledger, failed);
      connection.close();
      throw refusal;
    }
  }

  private LedgerException refusal(Path ledger, SQLException failed) {
    if (SqliteErrors.primaryCode(failed) != SqliteErrors.BUSY) {
      return SqliteErrors.explain("opened", ledger, failed);
    }
    return new LedgerException(
        String.format(
            "the ledger %s is in use by another Lodestep%s; stop that one first, or name another"
                + " ledger",
            ledger, holder()),
        failed);
  }

  private String holder() {
    try {
      return " (process " + SqliteConnections.text(connection, "SELECT process FROM holder") + ")";
    } catch (SQLException notYetWritten) {
      return "";
    }
  }

  /** Lets it go; a second call does nothing. */
  @Override
  public void close() {
    try {
      connection.close();
    } catch (SQLException failed) {
      throw SqliteErrors.explain("let go by its lock", file, failed);
    }
  }
}
