package lodestep.adapter.sqlite;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BiFunction;
import java.util.function.Consumer;
import lodestep.ledger.Chain;
import lodestep.ledger.EventCodec;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.EventIndex;
import lodestep.port.Hash;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerException;
import lodestep.port.StoredEvent;

/**
 * Reads a ledger's file on a connection of its own, also while the ledger is being written by this
 * or another process. One thread at a time.
 */
public final class SqliteArchive implements LedgerArchive {

  private static final String COLUMNS =
      "SELECT number, kind, magnet, wall_epoch_ms, CAST(payload AS BLOB), hash FROM event ";

  private static final int KIND_COLUMN = 2;

  private final Path file;
  private final Connection connection;

  private SqliteArchive(Path file, Connection connection) {
    this.file = file;
    this.connection = connection;
  }

  /**
   * Opens the ledger in this file for reading; nothing is changed.
   *
   * @throws LedgerException if it is not there, not a ledger, or a newer one
   */
  public static SqliteArchive open(Path file) {
    Path absolute = file.toAbsolutePath().normalize();
    if (!Files.isRegularFile(absolute)) {
      throw new LedgerException("there is no ledger " + absolute + "; check the path");
    }
    if (absolute.getParent() != null) {
      SqliteNative.prepare(absolute.getParent());
    }
    try {
      SqliteArchive archive = new SqliteArchive(absolute, SqliteConnections.openReader(absolute));
      archive.refuseNewer();
      return archive;
    } catch (SQLException failed) {
      throw SqliteErrors.explain("read", absolute, failed);
    }
  }

  /** An event of a kind that is not known here is no damage if it stands whole in the chain. */
  private void refuseNewer() {
    try {
      for (String kind : kinds()) {
        if (!EventCodec.knows(kind)) {
          refuseIfWhole(kind);
        }
      }
    } catch (SQLException failed) {
      throw SqliteErrors.explain("read", file, failed);
    }
  }

  /**
   * The words of all kinds there are, each found by the index and not by going through all rows.
   */
  private List<String> kinds() throws SQLException {
    return SqliteConnections.texts(
        connection,
        "WITH RECURSIVE found(kind) AS (SELECT min(kind) FROM event UNION ALL"
            + " SELECT (SELECT min(kind) FROM event WHERE kind > found.kind) FROM found"
            + " WHERE found.kind NOT NULL) SELECT kind FROM found WHERE kind NOT NULL");
  }

  private void refuseIfWhole(String kind) {
    query(
        "WHERE kind = ? ORDER BY number LIMIT 1",
        bind -> bind.setString(1, kind),
        event -> {
          ChainEnd[] before = {ChainEnd.EMPTY};
          forEach(event.number() - 1, event.number() - 1, last -> before[0] = last.end());
          boolean saysSo = event.payload().utf8().contains("\"kind\":\"" + kind + "\"");
          if (saysSo && event.hash().equals(Chain.next(before[0].hash(), event.payload()))) {
            close();
            throw new LedgerException(
                String.format(
                    "the ledger %s was written by a newer Lodestep: its event %d is of a kind"
                        + " ('%s') that this one does not know; use the newer one, or name another"
                        + " ledger",
                    file, event.number(), kind));
          }
        });
  }

  /** Keeps in view what stands there at the next look, until it is closed. */
  void hold() {
    try {
      SqliteConnections.execute(connection, "BEGIN");
    } catch (SQLException failed) {
      throw SqliteErrors.explain("read", file, failed);
    }
  }

  /** The page at which the table of events begins. */
  long root() {
    try {
      return SqliteConnections.number(
          connection, "SELECT rootpage FROM sqlite_schema WHERE type = 'table' AND name = 'event'");
    } catch (SQLException failed) {
      throw SqliteErrors.explain("read", file, failed);
    }
  }

  @Override
  public ChainEnd newest() {
    ChainEnd[] found = {ChainEnd.EMPTY};
    // Whether it is whole is found by those who read the events.
    query(
        "ORDER BY number DESC LIMIT 1",
        bind -> {},
        event -> found[0] = event.end(),
        (number, hash) -> asFarAsItGoes(hash));
    return found[0];
  }

  @Override
  public void forEach(long from, long to, Consumer<StoredEvent> each) {
    query(
        "WHERE number BETWEEN ? AND ? ORDER BY number",
        bind -> {
          bind.setLong(1, from);
          bind.setLong(2, to);
        },
        each);
  }

  /**
   * As {@link #forEach}, for millions of events: texts are read as bytes, and a kind's word is made
   * once.
   */
  void forEachInARow(long from, long to, Consumer<StoredEvent> each) {
    String sql =
        "SELECT number, CAST(kind AS BLOB), magnet, wall_epoch_ms, CAST(payload AS BLOB), hash"
            + " FROM event WHERE number BETWEEN ? AND ? ORDER BY number";
    Map<Bytes, String> words = new HashMap<>();
    try (PreparedStatement statement = connection.prepareStatement(sql)) {
      statement.setLong(1, from);
      statement.setLong(2, to);
      try (ResultSet rows = statement.executeQuery()) {
        while (rows.next()) {
          String kind = words.computeIfAbsent(Bytes.copyOf(bytes(rows, KIND_COLUMN)), Bytes::utf8);
          // A row that was spoilt is handed over too: naming it is for the proof.
          each.accept(event(rows, kind, (number, hash) -> asFarAsItGoes(hash)));
        }
      }
    } catch (SQLException failed) {
      throw SqliteErrors.explain("read", file, failed);
    }
  }

  @Override
  public void forEachOfTime(long fromEpochMs, long toEpochMs, Consumer<StoredEvent> each) {
    query(
        "WHERE wall_epoch_ms >= ? AND wall_epoch_ms < ? ORDER BY number",
        bind -> {
          bind.setLong(1, fromEpochMs);
          bind.setLong(2, toEpochMs);
        },
        each);
  }

  @Override
  public void forEachNamed(String kind, String name, Consumer<StoredEvent> each) {
    query(
        "WHERE kind = 'magnet-named' AND " + SqliteSchema.NAME + " = ? ORDER BY number",
        bind -> bind.setString(1, name),
        each);
  }

  @Override
  public void forEachOfMagnet(long magnet, Consumer<StoredEvent> each) {
    query("WHERE magnet = ? AND magnet > 0 ORDER BY number", bind -> bind.setLong(1, magnet), each);
  }

  @Override
  public void forEachOfKind(String kind, Consumer<StoredEvent> each) {
    query("WHERE kind = ? ORDER BY number", bind -> bind.setString(1, kind), each);
  }

  @FunctionalInterface
  private interface Binder {
    void bind(PreparedStatement statement) throws SQLException;
  }

  private void query(String where, Binder binder, Consumer<StoredEvent> each) {
    query(where, binder, each, this::whole);
  }

  private void query(
      String where,
      Binder binder,
      Consumer<StoredEvent> each,
      BiFunction<Long, byte[], Hash> hashes) {
    try (PreparedStatement statement = connection.prepareStatement(COLUMNS + where)) {
      binder.bind(statement);
      try (ResultSet rows = statement.executeQuery()) {
        while (rows.next()) {
          each.accept(event(rows, text(rows, KIND_COLUMN), hashes));
        }
      }
    } catch (SQLException failed) {
      throw SqliteErrors.explain("read", file, failed);
    }
  }

  private StoredEvent event(ResultSet rows, String kind, BiFunction<Long, byte[], Hash> hashes)
      throws SQLException {
    long number = rows.getLong(1);
    int column = KIND_COLUMN;
    EventIndex index = new EventIndex(number, kind, rows.getLong(++column), rows.getLong(++column));
    Bytes payload = Bytes.copyOf(bytes(rows, ++column));
    return new StoredEvent(index, payload, hashes.apply(number, bytes(rows, ++column)));
  }

  private Hash whole(long number, byte[] hash) {
    if (hash.length != Hash.SIZE_BYTES) {
      throw new LedgerException(
          String.format(
              "the ledger %s is damaged: event %d has no whole hash; set it aside and begin a new"
                  + " one with: lodestep set-aside --ledger \"%s\"",
              file, number, file));
    }
    return new Hash(Bytes.copyOf(hash));
  }

  /** Zeros follow from no bytes that anybody knows. */
  private static Hash asFarAsItGoes(byte[] hash) {
    return hash.length == Hash.SIZE_BYTES ? new Hash(Bytes.copyOf(hash)) : Hash.ZERO;
  }

  private static String text(ResultSet rows, int column) throws SQLException {
    String found = rows.getString(column);
    return found == null ? "" : found;
  }

  private static byte[] bytes(ResultSet rows, int column) throws SQLException {
    byte[] found = rows.getBytes(column);
    return found == null ? new byte[0] : found;
  }

  @Override
  public void close() {
    try {
      connection.close();
    } catch (SQLException failed) {
      throw SqliteErrors.explain("closed", file, failed);
    }
  }
}
