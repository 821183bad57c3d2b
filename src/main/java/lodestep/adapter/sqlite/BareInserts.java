package lodestep.adapter.sqlite;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.Properties;
import lodestep.port.Bytes;
import lodestep.port.LedgerException;
import org.sqlite.JDBC;

/**
 * The least that SQLite can do to keep bytes durable, for a comparison: one table of one column, no
 * index, no trigger, the same log and the same sync. No ledger, and never one's file. One thread.
 */
public final class BareInserts implements AutoCloseable {

  private final Connection connection;
  private final PreparedStatement insert;

  private BareInserts(Connection connection) throws SQLException {
    this.connection = connection;
    this.insert = connection.prepareStatement("INSERT INTO bare VALUES (CAST(? AS TEXT))");
  }

  /**
   * Opens a database of its own in this file.
   *
   * @throws LedgerException if it cannot be made
   */
  public static BareInserts into(Path file) {
    try {
      Connection connection = new JDBC().connect(JDBC.PREFIX + file.toUri(), new Properties());
      if (connection == null) {
        throw new SQLException("the driver does not know " + file);
      }
      SqliteConnections.text(connection, "PRAGMA journal_mode=WAL");
      SqliteConnections.execute(connection, "PRAGMA synchronous=FULL");
      SqliteConnections.execute(connection, "CREATE TABLE IF NOT EXISTS bare (payload TEXT)");
      return new BareInserts(connection);
    } catch (SQLException failed) {
      throw SqliteErrors.explain("opened", file, failed);
    }
  }

  /** Inserts these bytes in a transaction of their own, and waits until they are synced. */
  public void commit(Bytes bytes) {
    try {
      SqliteConnections.execute(connection, "BEGIN IMMEDIATE");
      insert.setBytes(1, bytes.toArray());
      insert.executeUpdate();
      SqliteConnections.execute(connection, "COMMIT");
    } catch (SQLException failed) {
      throw new LedgerException("a bare insert failed: " + failed.getMessage(), failed);
    }
  }

  @Override
  public void close() {
    try {
      insert.close();
      connection.close();
    } catch (SQLException failed) {
      throw new LedgerException("the bare inserts cannot be closed", failed);
    }
  }
}
