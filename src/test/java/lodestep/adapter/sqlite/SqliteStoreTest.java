package lodestep.adapter.sqlite;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Instant;
import java.util.Collections;
import java.util.List;
import java.util.Properties;
import lodestep.config.RigKind;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.Proof;
import lodestep.ledger.SampleEvents;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import lodestep.port.StoredEvent;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.sqlite.JDBC;

class SqliteStoreTest {

  private static final LedgerBinding BINDING = new LedgerBinding("attic", RigKind.VIRTUAL);
  private static final List<LedgerEvent> AFTER_CREATION =
      SampleEvents.twoMagnets().subList(1, SampleEvents.twoMagnets().size());

  private final Path folder;
  private final Path file;

  SqliteStoreTest(@TempDir Path folder) {
    this.folder = folder;
    // A name with blanks, a question mark and a per cent sign, which mean other things in a URI.
    this.file = folder.resolve("my attic? 100%.ledger");
  }

  @Test
  void makesALedgerBoundToItsRig() {
    try (SqliteStore store = open()) {
      assertThat(store.newest().number()).isEqualTo(1);
      store.forEach(
          1,
          1,
          event ->
              assertThat(event.payload().utf8())
                  .contains("\"rig\":\"attic\",\"rigKind\":\"virtual\""));
    }
  }

  @Test
  void goesOnAfterBeingClosed() {
    fill();

    try (SqliteStore store = open()) {
      assertThat(store.newest().number()).isEqualTo(20);
      store.commit(
          SampleEvents.chained(store.newest(), List.of(SampleEvents.reading(4, "charged", 5))));
      assertThat(Proof.of(store, List.of()).words()).startsWith("whole: 21 events");
    }
  }

  @Test
  void leavesNothingBesideTheFileButItsLockAndLibrary() throws IOException {
    fill();
    try (SqliteArchive archive = SqliteArchive.open(file)) {
      assertThat(archive.newest().number()).isEqualTo(20);
    }

    try (var files = Files.list(folder)) {
      assertThat(files.map(path -> path.getFileName().toString()))
          .contains(file.getFileName().toString())
          .isSubsetOf(
              file.getFileName().toString(), file.getFileName() + ".lock", ".sqlite-library");
    }
  }

  @Test
  void asksForFullSynchronisationAndAWriteAheadLog() throws SQLException {
    try (SqliteStore store = open()) {
      // 2 is FULL: sqlite.org/pragma.html#pragma_synchronous.
      assertThat(SqliteConnections.text(store.writer(), "PRAGMA synchronous")).isEqualTo("2");
      assertThat(SqliteConnections.text(store.writer(), "PRAGMA journal_mode")).isEqualTo("wal");
    }
  }

  @Test
  void refusesASecondInstanceAndNamesTheFirst() {
    try (SqliteStore store = open()) {
      assertRefused("in use by another Lodestep (process " + ProcessHandle.current().pid() + ")");
      // The refused attempt has not loosened the first one's hold.
      assertRefused("in use by another Lodestep");
      assertThat(store.newest().number()).isEqualTo(1);
    }
    open().close();
  }

  @Test
  void refusesASecondInstanceThroughALink() throws IOException {
    Path link = folder.resolve("link");
    try (SqliteStore store = open()) {
      Files.createSymbolicLink(link, file);
      assertThat(store.newest().number()).isEqualTo(1);

      assertThatExceptionOfType(LedgerException.class)
          .isThrownBy(() -> SqliteStore.open(link, BINDING, 0, Instant.EPOCH))
          .withMessageContaining("in use by another Lodestep");
    }
  }

  @ParameterizedTest
  @CsvSource({
    "attic, REAL, 'belongs to a virtual rig, and this rig is real'",
    "cellar, VIRTUAL, 'belongs to the rig ''attic'', and this rig is ''cellar'''"
  })
  void refusesAnotherRig(String rig, RigKind kind, String sentence) {
    fill();

    assertThatExceptionOfType(LedgerException.class)
        .isThrownBy(() -> SqliteStore.open(file, new LedgerBinding(rig, kind), 0, Instant.EPOCH))
        .withMessageContaining(sentence)
        .withMessageContaining(file.getFileName().toString());

    // Refused, it was let go of and is as it was.
    try (SqliteStore store = open()) {
      assertThat(store.newest().number()).isEqualTo(20);
    }
  }

  @Test
  void refusesAnotherProgramsDatabaseAndLeavesItAlone() throws SQLException {
    tamper("CREATE TABLE stamps (country TEXT)");

    assertRefused("is no ledger");

    try (Connection connection = plain()) {
      assertThat(SqliteConnections.text(connection, "SELECT name FROM sqlite_schema"))
          .isEqualTo("stamps");
      assertThat(SqliteConnections.text(connection, "PRAGMA journal_mode")).isEqualTo("delete");
    }
  }

  @Test
  void refusesAFileThatIsNoDatabase() throws IOException {
    Files.writeString(file, "a letter to the winder, long enough to be taken for something else\n");

    assertRefused("is no ledger");
    assertThat(Files.readString(file)).startsWith("a letter");
  }

  @Test
  void refusesAFolder() throws IOException {
    Files.createDirectory(file);

    assertRefused("is a folder");
  }

  @Test
  void refusesAPlaceWhereNoFileCanBe() throws IOException {
    Files.writeString(folder.resolve("note"), "");

    assertThatExceptionOfType(LedgerException.class)
        .isThrownBy(
            () -> SqliteStore.open(folder.resolve("note/x.ledger"), BINDING, 0, Instant.EPOCH))
        .withMessageContaining("cannot be made");
  }

  @Test
  void saysThatThereIsNoLedgerToRead() {
    assertThatExceptionOfType(LedgerException.class)
        .isThrownBy(() -> SqliteArchive.open(file))
        .withMessageContaining("there is no ledger");
    assertThat(file).doesNotExist();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "UPDATE event SET payload = '{}' WHERE number = 3",
        "UPDATE event SET magnet = 9",
        "DELETE FROM event WHERE number = 20",
        "DELETE FROM event",
        "INSERT INTO event SELECT 22, kind, magnet, wall_epoch_ms, payload, hash FROM event"
            + " WHERE number = 20",
        "INSERT OR REPLACE INTO event SELECT 20, kind, magnet, wall_epoch_ms, payload, hash"
            + " FROM event WHERE number = 19"
      })
  void refusesEveryChangeButAnAppend(String change) throws SQLException {
    fill();

    assertThatExceptionOfType(SQLException.class)
        .isThrownBy(() -> tamper(change))
        .withMessageContaining("append-only");

    try (SqliteStore store = open()) {
      assertThat(Proof.of(store, List.of()).words()).startsWith("whole: 20 events");
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "UPDATE event SET payload = replace(payload, '41200', '41201') WHERE number = 17 | 17",
        "UPDATE event SET magnet = 3 WHERE number = 19 | 19",
        "UPDATE event SET kind = 'trip-reset' WHERE number = 11 | 11",
        "UPDATE event SET wall_epoch_ms = 5 WHERE number = 1 | 1",
        "UPDATE event SET hash = zeroblob(32) WHERE number = 4 | 4",
        "DELETE FROM event WHERE number = 9 | 9"
      })
  void namesTheEventThatWasChangedInTheFile(String change, long number) throws SQLException {
    fill();
    tamper("DROP TRIGGER event_no_update", "DROP TRIGGER event_no_delete", change);

    assertRefused("is damaged (event " + number + ":");
    try (SqliteArchive archive = SqliteArchive.open(file)) {
      assertThat(Proof.of(archive, List.of()).words())
          .startsWith("not whole: event " + number + ":");
    }
  }

  @Test
  void takesEverythingBackWhenTheDiskIsFullAndGoesOnWhenThereIsRoom() throws SQLException {
    try (SqliteStore store = open()) {
      commit(store, AFTER_CREATION);
      String pages = SqliteConnections.text(store.writer(), "PRAGMA page_count");
      SqliteConnections.execute(store.writer(), "PRAGMA max_page_count=" + pages);
      List<StoredEvent> many =
          SampleEvents.chained(
              store.newest(), Collections.nCopies(100, SampleEvents.reading(4, "x", 5)));

      assertThatExceptionOfType(LedgerException.class)
          .isThrownBy(() -> store.commit(many))
          .withMessageContaining("the disk is full; make room");
      assertThat(store.newest().number()).isEqualTo(20);
      assertThat(Proof.of(store, List.of()).words()).startsWith("whole: 20 events");

      SqliteConnections.execute(store.writer(), "PRAGMA max_page_count=1000000");
      store.commit(many);
      assertThat(Proof.of(store, List.of()).words()).startsWith("whole: 120 events");
    }
  }

  @Test
  void saysThatItIsReadOnly() throws SQLException {
    try (SqliteStore store = open()) {
      // Gives the same result code as a file without the right to write, which root always has.
      SqliteConnections.execute(store.writer(), "PRAGMA query_only=ON");

      assertThatExceptionOfType(LedgerException.class)
          .isThrownBy(() -> commit(store, AFTER_CREATION))
          .withMessageContaining("it is read-only; make file and folder writable");
      assertThat(store.newest().number()).isEqualTo(1);
    }
  }

  @Test
  void takesNothingMoreAfterAnotherProgramWroteToIt() throws SQLException {
    try (SqliteStore store = open()) {
      tamper("INSERT INTO event SELECT 2, kind, magnet, wall_epoch_ms, payload, hash FROM event");

      for (int i = 0; i < 2; i++) {
        assertThatExceptionOfType(LedgerException.class)
            .isThrownBy(() -> commit(store, AFTER_CREATION))
            .withMessageContaining("something else has written to it");
      }
    }
    assertRefused("is damaged (event 2:");
  }

  @Test
  void isReadWhileItIsWritten() {
    try (SqliteStore store = open();
        SqliteArchive archive = SqliteArchive.open(file)) {
      assertThat(archive.newest().number()).isEqualTo(1);

      commit(store, AFTER_CREATION);

      assertThat(archive.newest()).isEqualTo(store.newest());
      assertThat(Proof.of(archive, List.of()).words()).startsWith("whole: 20 events");
    }
  }

  @Test
  void doesNotLoseItsLockToAReaderInTheSameProgram() {
    try (SqliteStore store = open()) {
      SqliteArchive.open(file).close();

      commit(store, AFTER_CREATION);
      assertRefused("in use by another Lodestep");
    }
  }

  @Test
  void isReadWithoutTheRightToWriteAndLeavesNoTrace() throws SQLException, IOException {
    fill();

    try (Connection reader = SqliteConnections.openReader(file, false)) {
      assertThat(SqliteConnections.number(reader, "SELECT max(number) FROM event")).isEqualTo(20);
      try (var files = Files.list(folder)) {
        assertThat(files.map(Path::toString)).noneMatch(path -> path.endsWith("-wal"));
      }
      assertThatExceptionOfType(SQLException.class)
          .isThrownBy(() -> SqliteConnections.execute(reader, "PRAGMA user_version=1"));
    }
  }

  @Test
  void isReadWithoutTheRightToWriteWhileItIsWritten() throws SQLException {
    try (SqliteStore store = open();
        Connection reader = SqliteConnections.openReader(file, false)) {
      commit(store, AFTER_CREATION);

      assertThat(SqliteConnections.number(reader, "SELECT max(number) FROM event")).isEqualTo(20);
    }
  }

  private SqliteStore open() {
    return SqliteStore.open(file, BINDING, 0, Instant.EPOCH);
  }

  private void fill() {
    try (SqliteStore store = open()) {
      commit(store, AFTER_CREATION);
    }
  }

  private static void commit(SqliteStore store, List<LedgerEvent> events) {
    store.commit(SampleEvents.chained(store.newest(), events));
  }

  private void assertRefused(String sentence) {
    assertThatExceptionOfType(LedgerException.class)
        .isThrownBy(() -> open().close())
        .withMessageContaining(sentence);
  }

  /** Does to the file what any other program could. */
  private void tamper(String... statements) throws SQLException {
    try (Connection connection = plain()) {
      for (String statement : statements) {
        SqliteConnections.execute(connection, statement);
      }
    }
  }

  private Connection plain() throws SQLException {
    Connection connection = new JDBC().connect(JDBC.PREFIX + file.toUri(), new Properties());
    if (connection == null) {
      throw new SQLException("no connection");
    }
    return connection;
  }
}
