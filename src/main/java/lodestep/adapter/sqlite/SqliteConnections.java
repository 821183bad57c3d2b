package lodestep.adapter.sqlite;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Properties;
import lodestep.ledger.LedgerBinding;
import lodestep.port.LedgerException;
import org.sqlite.JDBC;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteOpenMode;

/** Opens connections to a ledger's file, and sees that they are as asked. */
final class SqliteConnections {

  /**
   * Marks the file as a ledger (SQLite's {@code application_id}), so that no other program's
   * database is ever taken for one. The letters "LSTP" in ASCII.
   */
  static final int APPLICATION_ID = 0x4c535450;

  /** How long a statement waits for another connection's lock, in milliseconds. */
  private static final int BUSY_MS = 2_000;

  private static final int SYNCHRONOUS_FULL = 2;

  private SqliteConnections() {}

  /**
   * The one connection that writes. Makes the file if it is not there; the schema is the caller's.
   *
   * @throws LedgerException if a setting does not read back as asked, or the file is not a ledger,
   *     or a newer one
   */
  static Connection openWriter(Path file) throws SQLException {
    Connection connection = connect(file.toUri().toString(), new SQLiteConfig());
    try {
      execute(connection, "PRAGMA busy_timeout=" + BUSY_MS);
      checkForm(connection, file, true);
      expect(connection, file, "journal_mode=WAL", "wal");
      // FULL syncs every commit; NORMAL would lose acknowledged events in a power cut.
      execute(connection, "PRAGMA synchronous=FULL");
      expect(connection, file, "synchronous", Integer.toString(SYNCHRONOUS_FULL));
      // Where the system has a stronger sync than fsync, use it; elsewhere this does nothing.
      execute(connection, "PRAGMA fullfsync=ON");
      execute(connection, "PRAGMA trusted_schema=OFF");
      proveWritable(connection);
      return connection;
    } catch (SQLException | LedgerException refused) {
      connection.close();
      throw refused;
    }
  }

  /**
   * SQLite opens a file that may not be written all the same, and even begins a transaction on it;
   * only a write shows. This one changes nothing and is taken back.
   */
  private static void proveWritable(Connection connection) throws SQLException {
    long version = number(connection, "PRAGMA user_version");
    execute(connection, "BEGIN IMMEDIATE");
    execute(connection, "PRAGMA user_version=" + version);
    execute(connection, "ROLLBACK");
  }

  /**
   * A connection that only reads, also while another one writes.
   *
   * @throws LedgerException if the file is not a ledger, or a newer one
   */
  static Connection openReader(Path file) throws SQLException {
    return openReader(file, writable(file));
  }

  /** Whether a ledger's file and its folder can be written, so that a log can be shared. */
  static boolean writable(Path file) {
    Path folder = file.getParent();
    return folder != null && Files.isWritable(folder) && Files.isWritable(file);
  }

  /** As {@link #openReader(Path)}, told whether file and folder can be written. */
  static Connection openReader(Path file, boolean writable) throws SQLException {
    Connection connection = connectReader(file, writable);
    try {
      execute(connection, "PRAGMA busy_timeout=" + BUSY_MS);
      execute(connection, "PRAGMA query_only=ON");
      checkForm(connection, file, false);
      return connection;
    } catch (SQLException | LedgerException refused) {
      connection.close();
      throw refused;
    }
  }

  /**
   * Where it may, the reader has the right to write, though it is told not to: it needs the shared
   * memory of the log, and as the last to leave it clears the log away. A ledger at rest in a
   * folder that cannot be written, on a backup disk perhaps, has nowhere for that; but it has no
   * log either, and is read as a file that nobody changes.
   */
  private static Connection connectReader(Path file, boolean writable) throws SQLException {
    String uri = file.toUri().toString();
    SQLiteConfig config = new SQLiteConfig();
    config.resetOpenMode(SQLiteOpenMode.CREATE);
    if (writable) {
      return connect(uri, config);
    }
    config.setReadOnly(true);
    boolean atRest = !Files.exists(file.resolveSibling(file.getFileName() + "-wal"));
    return connect(atRest ? uri + "?immutable=1" : uri, config);
  }

  private static Connection connect(String uri, SQLiteConfig config) throws SQLException {
    Properties properties = config.toProperties();
    Connection connection = new JDBC().connect(JDBC.PREFIX + uri, properties);
    if (connection == null) {
      throw new SQLException("the driver does not know " + uri);
    }
    return connection;
  }

  /**
   * Marks a ledger of an older form as one of this program's, before anything is appended to it: an
   * older program does not know what it may find there.
   */
  static void raiseForm(Connection connection) throws SQLException {
    for (String index : SqliteSchema.LATER) {
      execute(connection, index.replace("CREATE INDEX", "CREATE INDEX IF NOT EXISTS"));
    }
    if (number(connection, "PRAGMA user_version") < LedgerBinding.SCHEMA) {
      execute(connection, "PRAGMA user_version=" + LedgerBinding.SCHEMA);
    }
  }

  private static void checkForm(Connection connection, Path file, boolean mayBeEmpty)
      throws SQLException {
    long id = number(connection, "PRAGMA application_id");
    boolean empty = id == 0 && number(connection, "SELECT count(*) FROM sqlite_schema") == 0;
    if (empty && mayBeEmpty) {
      return;
    }
    if (id != APPLICATION_ID) {
      throw new LedgerException("the file " + file + " is no ledger; name another file");
    }
    long version = number(connection, "PRAGMA user_version");
    if (version > LedgerBinding.SCHEMA) {
      throw new LedgerException(
          String.format(
              "the ledger %s is of form %d, and this program knows up to %d; use a newer Lodestep",
              file, version, LedgerBinding.SCHEMA));
    }
  }

  private static void expect(Connection connection, Path file, String pragma, String wanted)
      throws SQLException {
    String got = text(connection, "PRAGMA " + pragma);
    if (!got.equals(wanted)) {
      throw new LedgerException(
          String.format(
              "the ledger %s cannot be kept safely there: %s reads back as '%s', not '%s';"
                  + " put it on a local disk",
              file, pragma, got, wanted));
    }
  }

  /** Runs a statement; its result, if any, is closed, since an open one blocks later statements. */
  static void execute(Connection connection, String sql) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute(sql);
    }
  }

  /** The first column of the first row as a whole number. */
  static long number(Connection connection, String sql) throws SQLException {
    return Long.parseLong(text(connection, sql));
  }

  /** The first column of the first row as text; the empty text if there is none. */
  static String text(Connection connection, String sql) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      String found = rows.next() ? rows.getString(1) : null;
      return found == null ? "" : found;
    }
  }

  /** The first column of all rows as text; none where there is nothing. */
  static List<String> texts(Connection connection, String sql) throws SQLException {
    List<String> found = new ArrayList<>();
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      while (rows.next()) {
        String text = rows.getString(1);
        if (text != null) {
          found.add(text);
        }
      }
    }
    return found;
  }
}
