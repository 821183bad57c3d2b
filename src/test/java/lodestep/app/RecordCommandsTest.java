package lodestep.app;

import static lodestep.app.CommandRun.ONE;
import static lodestep.app.CommandRun.run;
import static lodestep.app.CommandRun.with;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import lodestep.app.CommandRun.Ended;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Goal: what is on record and what a rig is can be read, and says no more than it knows. */
class RecordCommandsTest {

  private final Path ledger;

  RecordCommandsTest(@TempDir Path folder) {
    this.ledger = folder.resolve("test.ledger");
  }

  private Ended onLedger(String... arguments) {
    return CommandRun.on(ledger, arguments);
  }

  @Test
  void givesAMagnetWithoutANameOneThatIsFree() {
    onLedger(ONE);
    onLedger(with(ONE, "--name", "One-2"));

    Ended third = onLedger(ONE);

    assertThat(third.out()).contains("one-3");
    assertThat(third.err()).doesNotContain("on record already");
    assertThat(onLedger(with(ONE, "--name", "ONE-3")).err())
        .contains("A magnet named 'ONE-3' is on record already, number ");
    assertThat(onLedger("history", "one").out()).containsOnlyOnce("History of magnet");
    assertThat(onLedger("history", "one-3").out())
        .contains(
            "one-3, begun on ", "\nalnico 2 rod 5.10 x 18.00 mm, pole up south, target -430.0 G");
  }

  @Test
  void saysWhatAProofCannotTellAndComparesWhatWasNoted() throws IOException {
    onLedger(ONE);
    JsonNode proof = onLedger("prove", "--json").json();
    String noted = proof.get("newestEvent").asText() + ":" + proof.get("newestHash").asText();
    assertThat(proof.get("notedUpToEvent").asLong()).isZero();
    assertThat(onLedger("prove").out())
        .startsWith("whole: ")
        .contains("cannot be told from the ledger alone")
        .containsPattern("compare event " + proof.get("newestEvent").asText() + " and\\s+its hash");
    assertThat(onLedger("prove", "--noted", noted).out()).contains("nothing is cut off");
    onLedger(ONE);

    Ended later = onLedger("prove", "--noted", noted);
    Ended beyond = onLedger("prove", "--noted", noted.replaceFirst("^\\d+", "999"));

    assertThat(later.code()).isZero();
    assertThat(later.out().replace("\n", " "))
        .contains("up to event " + proof.get("newestEvent").asText());
    assertThat(beyond.code()).isEqualTo(1);
    assertThat(beyond.out()).startsWith("not whole").contains("999 was noted elsewhere");
    assertThat(onLedger("prove", "--noted", noted.replaceFirst("^\\d+", "9")).code()).isEqualTo(1);
    assertThat(onLedger("prove", "--noted", "45").err())
        .startsWith("lodestep: --noted: '45'")
        .hasLineCount(1);
  }

  @Test
  void saysInOneSentenceThatARowOfTheLedgerIsDamaged() throws SQLException {
    onLedger(ONE);
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + ledger);
        Statement statement = connection.createStatement()) {
      statement.execute("DROP TRIGGER event_no_update");
      statement.execute("UPDATE event SET hash = x'00' WHERE number = 9");
    }

    Ended proof = onLedger("prove");
    Ended history = onLedger("history", "one");

    assertThat(proof.code()).isEqualTo(1);
    assertThat(proof.out()).startsWith("not whole: event 9: ").hasLineCount(1);
    assertThat(history.code()).isEqualTo(2);
    assertThat(history.err())
        .contains("is damaged: event 9", "lodestep set-aside --ledger")
        .hasLineCount(1);
  }

  @Test
  void namesTheNearestMagnetOnRecord() {
    onLedger(with(ONE, "--name", "teal-4"));

    Ended ended = onLedger("history", "teal-5");

    assertThat(ended.code()).isEqualTo(2);
    assertThat(ended.err()).contains("teal-4");
  }

  @ParameterizedTest
  @CsvSource({"jig, jig", "coil-and-jig, setting", "switched, ladder"})
  void runsTheDemoOnEachKindOfRig(String kind, String column) throws IOException {
    Path rig =
        Path.of(System.getProperty("lodestep.repository", ""))
            .resolve("firmware-host/board")
            .resolve("rig-virtual-" + kind + ".toml");

    Ended ended = onLedger("demo", "--rig", rig.toString());

    assertThat(ended.code()).as(ended.err()).isZero();
    assertThat(ended.out())
        .contains(" 0 refused, 0 recharge needed, 0 open", "VIRTUAL")
        .containsPattern("attempt +what +" + column + " +peak");
  }

  @ParameterizedTest
  @ValueSource(strings = {"coil", "jig", "coil-and-jig", "switched"})
  void checksARigForABoardAnywhereAndRunsNoDemoOnIt(String kind) throws IOException {
    String rig =
        Path.of(System.getProperty("lodestep.repository", ""))
            .resolve("firmware-host/board/rig-real-" + kind + ".toml")
            .toString();

    Ended shown = run("rig", rig);
    Ended refused = run("demo", "--rig", rig);

    assertThat(shown.code()).isZero();
    assertThat(shown.out()).contains(", real", "/dev/lodestep-head", "stop_loop", "pin");
    assertThat(refused.code()).isEqualTo(2);
    assertThat(refused.err()).contains("the demo is for virtual rigs").hasLineCount(1);
  }
}
