package lodestep.app;

import static lodestep.app.CommandRun.ONE;
import static lodestep.app.CommandRun.run;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.app.CommandRun.Ended;
import lodestep.ledger.EventCodec;
import lodestep.port.LedgerEvent.LedgerSetAside;
import lodestep.port.StoredEvent;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: after damage one named command leads on, and the new record knows of the old one. */
class SetAsideCommandTest {

  private static final Pattern COMMAND =
      Pattern.compile("with: lodestep (\\S+) (\\S+) \"([^\"]+)\"");

  private static final int PAGE_BYTES = 4_096;

  private final Path ledger;

  SetAsideCommandTest(@TempDir Path folder) {
    this.ledger = folder.resolve("my bench.ledger");
  }

  private Ended onLedger(String... arguments) {
    return CommandRun.on(ledger, arguments);
  }

  private List<StoredEvent> events() {
    List<StoredEvent> all = new ArrayList<>();
    try (SqliteArchive archive = SqliteArchive.open(ledger)) {
      archive.forEach(1, Long.MAX_VALUE, all::add);
    }
    return all;
  }

  private void tamper(String... statements) throws SQLException {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + ledger);
        Statement statement = connection.createStatement()) {
      for (String sql : statements) {
        statement.execute(sql);
      }
    }
  }

  /** The start's refusal names a command; a person types just that. */
  private JsonNode setAsideAsTold(Ended refused) throws IOException {
    assertThat(refused.code()).isEqualTo(2);
    assertThat(refused.err()).hasLineCount(1);
    Matcher told = COMMAND.matcher(refused.err());
    assertThat(told.find()).as(refused.err()).isTrue();
    Ended done = run(told.group(1), told.group(2), told.group(3), "--json");
    assertThat(done.code()).as(done.err()).isZero();
    return done.json();
  }

  private LedgerSetAside secondEvent() {
    return (LedgerSetAside) EventCodec.decode(events().get(1)).event();
  }

  @Test
  void beginsANewLedgerThatNamesTheOldOnesLastGoodEvent() throws IOException, SQLException {
    onLedger(ONE);
    List<StoredEvent> before = events();
    tamper("DROP TRIGGER event_no_update", "UPDATE event SET magnet = 2 WHERE number = 14");
    byte[] damaged = Files.readAllBytes(ledger);

    JsonNode done = setAsideAsTold(onLedger(ONE));

    Path aside = Path.of(done.get("setAsideAs").asText());
    assertThat(Files.readAllBytes(aside)).isEqualTo(damaged);
    assertThat(secondEvent().name()).isEqualTo(aside.getFileName().toString());
    assertThat(secondEvent().lastNumber()).isEqualTo(13);
    assertThat(secondEvent().lastHash()).isEqualTo(before.get(12).hash().toString());
    assertThat(secondEvent().why()).contains("event 14");
    assertThat(onLedger("prove").code()).isZero();
    assertThat(onLedger(ONE).code()).isZero();
    assertThat(events().get(0).index().kind()).isEqualTo("ledger-created");
  }

  /** As a bad block leaves it: SQLite itself finds a page that cannot be. */
  @Test
  void setsAFileAsideOfWhichAPageIsGone() throws IOException {
    onLedger(ONE);
    long pages = Files.size(ledger) / PAGE_BYTES;
    try (RandomAccessFile file = new RandomAccessFile(ledger.toFile(), "rw")) {
      for (long page = pages * 3 / 4; page < pages; page++) {
        file.seek(page * PAGE_BYTES);
        file.write(new byte[PAGE_BYTES / 2]);
      }
    }

    JsonNode done = setAsideAsTold(onLedger(ONE));

    assertThat(Path.of(done.get("setAsideAs").asText())).exists();
    assertThat(done.get("goodUpToEvent").asLong()).isPositive();
    assertThat(secondEvent().lastNumber()).isEqualTo(done.get("goodUpToEvent").asLong());
    assertThat(onLedger(ONE).code()).isZero();
  }

  @Test
  void asksWhoseItIsWhenThatCanBeReadNoMore() throws IOException {
    Files.writeString(ledger, "nothing of a ledger is left here\n".repeat(40));

    Ended asks = onLedger("set-aside");
    Path rig =
        Path.of(System.getProperty("lodestep.repository", ""))
            .resolve("firmware-host/board/rig-virtual.toml");
    Ended done = onLedger("set-aside", "--rig", rig.toString());

    assertThat(asks.code()).isEqualTo(2);
    assertThat(asks.err()).contains("name its rig with --rig").hasLineCount(1);
    assertThat(done.code()).as(done.err()).isZero();
    assertThat(secondEvent().lastNumber()).isZero();
    assertThat(secondEvent().lastHash()).isEqualTo("00".repeat(32));
    assertThat(onLedger(ONE).code()).isZero();
  }

  @Test
  void leavesAWholeLedgerWhereItIs() throws IOException {
    onLedger(ONE);
    byte[] before = Files.readAllBytes(ledger);

    Ended ended = onLedger("set-aside");

    assertThat(ended.code()).isEqualTo(2);
    assertThat(ended.err()).contains("is whole up to event ").hasLineCount(1);
    assertThat(Files.readAllBytes(ledger)).isEqualTo(before);
  }

  @Test
  void takesABackupInTheDamagedOnesPlaceAndSaysSo() throws IOException, SQLException {
    onLedger(ONE);
    Path backups = ledger.resolveSibling("backups");
    onLedger("backup", "--folder", backups.toString());
    int whole = events().size();
    tamper("DROP TRIGGER event_no_update", "UPDATE event SET magnet = 2 WHERE number = 14");

    Ended restored = onLedger("restore", backups.toString());

    assertThat(restored.code()).as(restored.err()).isZero();
    assertThat(restored.out()).contains("good up to event 13", "it is damaged: event 14");
    List<StoredEvent> now = events();
    assertThat(now).hasSize(whole + 1);
    assertThat(EventCodec.decode(now.get(whole)).event())
        .isInstanceOfSatisfying(
            LedgerSetAside.class, event -> assertThat(event.lastNumber()).isEqualTo(13));
    assertThat(onLedger("prove").code()).isZero();
  }
}
