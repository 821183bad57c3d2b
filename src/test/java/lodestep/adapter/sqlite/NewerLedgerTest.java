package lodestep.adapter.sqlite;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import lodestep.config.RigKind;
import lodestep.ledger.Chain;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.SampleEvents;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: a ledger of a newer program is told from a damaged one, and says what to do. */
class NewerLedgerTest {

  private static final LedgerBinding BINDING = new LedgerBinding("attic", RigKind.VIRTUAL);

  private final Path file;

  NewerLedgerTest(@TempDir Path folder) {
    this.file = folder.resolve("attic.ledger");
  }

  private SqliteStore open() {
    return SqliteStore.open(file, BINDING, 0, Instant.EPOCH);
  }

  @BeforeEach
  void fill() {
    try (SqliteStore store = open()) {
      List<LedgerEvent> all = SampleEvents.twoMagnets();
      store.commit(SampleEvents.chained(store.newest(), all.subList(1, all.size())));
    }
  }

  private void assertRefused(String words) {
    assertThatExceptionOfType(LedgerException.class)
        .isThrownBy(this::open)
        .withMessageContaining(words);
  }

  private void tamper(String... statements) throws SQLException {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file)) {
      for (String statement : statements) {
        SqliteConnections.execute(connection, statement);
      }
    }
  }

  @Test
  void refusesALedgerOfANewerForm() throws SQLException {
    tamper("PRAGMA user_version=" + (LedgerBinding.SCHEMA + 1));

    assertRefused("use a newer Lodestep");
    assertThatExceptionOfType(LedgerException.class)
        .isThrownBy(() -> SqliteArchive.open(file))
        .withMessageContaining("use a newer Lodestep");
  }

  /** A kind that only a later program knows, whole in its chain; gives its number. */
  private long appendedByANewerProgram() throws SQLException {
    ChainEnd last;
    try (SqliteArchive archive = SqliteArchive.open(file)) {
      last = archive.newest();
    }
    long number = last.number() + 1;
    String payload =
        "{\"atNs\":\"5\",\"kind\":\"magnet-sung\",\"number\":" + number + ",\"wallEpochMs\":5}";
    tamper(
        String.format(
            "INSERT INTO event VALUES (%d, 'magnet-sung', 0, 5, '%s', x'%s')",
            number, payload, Chain.next(last.hash(), Bytes.ofUtf8(payload))));
    return number;
  }

  @Test
  void saysThatANewerProgramHasWrittenWhatItDoesNotKnow() throws SQLException {
    long number = appendedByANewerProgram();

    assertRefused("newer Lodestep: its event " + number + " is of a kind ('magnet-sung')");
    assertRefused("use the newer one, or name another ledger");
    assertThatExceptionOfType(LedgerException.class)
        .isThrownBy(() -> SqliteArchive.open(file))
        .withMessageContaining("newer Lodestep");
  }

  @Test
  void takesNoDamagedEventForANewerPrograms() throws SQLException {
    long number = appendedByANewerProgram();
    tamper(
        "DROP TRIGGER event_no_update",
        "UPDATE event SET payload = replace(payload, 'sung', 'sing'), kind = 'magnet-sing'"
            + " WHERE number = "
            + number);

    assertRefused("is damaged (event " + number);
  }

  @Test
  void raisesTheFormOfAnOlderLedgerBeforeItIsWrittenTo() throws SQLException {
    tamper("PRAGMA user_version=" + (LedgerBinding.SCHEMA - 1));

    try (SqliteStore store = open()) {
      assertThat(SqliteConnections.number(store.writer(), "PRAGMA user_version"))
          .isEqualTo(LedgerBinding.SCHEMA);
    }
  }
}
