package lodestep.adapter.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.List;
import lodestep.ledger.LedgerBinding;
import lodestep.port.StoredEvent;

/** The one table of a ledger, and what keeps it append-only. */
final class SqliteSchema {

  static final String INSERT =
      "INSERT INTO event (number, kind, magnet, wall_epoch_ms, payload, hash)"
          + " VALUES (?, ?, ?, ?, CAST(? AS TEXT), ?)";

  /** Finds the events of a day. */
  static final String BY_TIME = "CREATE INDEX event_time ON event (wall_epoch_ms)";

  /** A magnet's name as its event says it; nothing where the bytes are no JSON. */
  static final String NAME = "CASE WHEN json_valid(payload) THEN payload ->> '$.name' END";

  /** Finds magnets by name. */
  static final String BY_NAME =
      "CREATE INDEX event_name ON event (" + NAME + ") WHERE kind = 'magnet-named'";

  /** What was added later: it holds nothing that the events do not say, and can be made again. */
  static final List<String> LATER = List.of(BY_TIME, BY_NAME);

  /** The payload is text, so that the record can be read with any SQLite shell for years. */
  static final List<String> OBJECTS =
      List.of(
          "CREATE TABLE event ("
              + "number INTEGER PRIMARY KEY, kind TEXT NOT NULL, magnet INTEGER NOT NULL,"
              + " wall_epoch_ms INTEGER NOT NULL, payload TEXT NOT NULL, hash BLOB NOT NULL)"
              + " STRICT",
          "CREATE INDEX event_magnet ON event (magnet, number) WHERE magnet > 0",
          "CREATE INDEX event_kind ON event (kind, number)",
          BY_TIME,
          BY_NAME,
          "CREATE TRIGGER event_no_update BEFORE UPDATE ON event"
              + " BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END",
          "CREATE TRIGGER event_no_delete BEFORE DELETE ON event"
              + " BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END",
          // Also stops INSERT OR REPLACE, whose deletes fire no trigger.
          "CREATE TRIGGER event_follows BEFORE INSERT ON event"
              + " WHEN NEW.number <> (SELECT coalesce(max(number), 0) + 1 FROM event)"
              + " BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END");

  private static final List<String> MARKS =
      List.of(
          "PRAGMA application_id=" + SqliteConnections.APPLICATION_ID,
          "PRAGMA user_version=" + LedgerBinding.SCHEMA);

  private SqliteSchema() {}

  /** Makes a ledger of an empty file, with its first event, all or nothing. */
  static void create(Connection connection, StoredEvent first) throws SQLException {
    SqliteConnections.execute(connection, "BEGIN EXCLUSIVE");
    for (List<String> statements : List.of(MARKS, OBJECTS)) {
      for (String statement : statements) {
        SqliteConnections.execute(connection, statement);
      }
    }
    try (PreparedStatement insert = connection.prepareStatement(INSERT)) {
      bind(insert, first).executeUpdate();
    }
    SqliteConnections.execute(connection, "COMMIT");
  }

  /** Gives {@link #INSERT} this event. */
  static PreparedStatement bind(PreparedStatement insert, StoredEvent event) throws SQLException {
    int column = 0;
    insert.setLong(++column, event.number());
    insert.setString(++column, event.index().kind());
    insert.setLong(++column, event.index().magnet());
    insert.setLong(++column, event.index().wallEpochMs());
    insert.setBytes(++column, event.payload().toArray());
    insert.setBytes(++column, event.hash().bytes().toArray());
    return insert;
  }
}
