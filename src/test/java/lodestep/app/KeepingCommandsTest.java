package lodestep.app;

import static lodestep.app.CommandRun.ONE;
import static lodestep.app.CommandRun.with;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.app.CommandRun.Ended;
import lodestep.ledger.EventCodec;
import lodestep.port.LedgerArchive;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: what befalls a magnet after its verdict is on record, and it is read again before use. */
class KeepingCommandsTest {

  private static final String SETS =
      """
      name,set,alloy,shape,size,pole up,target,tolerance
      place,wren,alnico 2,rod,5.1 x 18 mm,south,430 G,9 G
      """;

  private final Path folder;
  private final Path ledger;

  KeepingCommandsTest(@TempDir Path folder) {
    this.folder = folder;
    this.ledger = folder.resolve("test.ledger");
  }

  private Ended onLedger(String... arguments) {
    return CommandRun.on(ledger, arguments);
  }

  private Ended match() throws IOException {
    Path sets = folder.resolve("sets.csv");
    Files.writeString(sets, SETS);
    return onLedger("match", sets.toString());
  }

  @Test
  void leavesANotedMagnetOutOfAMatchUntilItIsReadAgain() throws IOException {
    onLedger(ONE);
    assertThat(match().out()).contains("fits");

    Ended noted = onLedger("note", "one", "--what", "Drop", "--said", "on  its end");
    assertThat(noted.code()).isZero();
    assertThat(noted.out()).contains("drop, on its end", "lodestep reread one");

    assertThat(onLedger("history", "one").out())
        .contains("noted: drop", "on its end; to be read again", "To be read again: a drop");
    Ended open = match();
    assertThat(open.code()).isEqualTo(1);
    assertThat(open.out()).contains("open: none", "a drop was noted", "lodestep reread one");

    JsonNode reread = onLedger("reread", "--noted", "--json").json().get("magnets").get(0);
    assertThat(reread.get("finding").asText()).isIn("kept", "moved");
    assertThat(onLedger("history", "one", "--json").json().get(0).get("toBeReadAgain").asBoolean())
        .isFalse();
    // What it reads now is what it is matched by.
    String reads = String.valueOf(reread.get("fieldMicroTesla").asLong() / 100);
    String then = match().out();
    assertThat(then).doesNotContain("was noted");
    if (reread.get("finding").asText().equals("moved")) {
      assertThat(then).contains(reads + ".", "dial again");
    }
    assertThat(onLedger("prove").code()).isZero();
  }

  @Test
  void readsAKeptMagnetAgainWithNoPulseAndNoNewVerdict() throws IOException {
    onLedger(ONE);
    List<String> before = kinds();

    Ended again = onLedger("reread", "one", "--later", "3 months");

    assertThat(again.code()).isZero();
    assertThat(again.out())
        .contains("VIRTUAL", "eye protection", "kept: it reads -4", "91.3 days before", "(± ");
    List<String> added = kinds();
    added.subList(0, before.size()).clear();
    assertThat(added)
        .containsExactly(
            "program-started",
            "calibration-set",
            "head-seen",
            "zero-taken",
            "reading-taken",
            "magnet-reread",
            "program-stopped");
    assertThat(onLedger("history", "one").out()).contains("kept", "read again", "accepted");
    // No batch is left open by it.
    assertThat(onLedger("batch", "--continue").err()).contains("no batch left open");
  }

  @ParameterizedTest
  @CsvSource({
    "bar, 60 x 12 x 3.6 mm, 300 G",
    "bar through thickness, 24 x 12 x 5 mm, 150 G",
    "rod, 5.1 x 18 mm, 480 G"
  })
  void knowsAnyShapeAgainFromItsRecord(String shape, String size, String target) {
    Ended dialed =
        onLedger(
            "dial",
            "--name",
            "one",
            "--alloy",
            "alnico 5",
            "--shape",
            shape,
            "--size",
            size,
            "--pole-up",
            "north",
            "--target",
            target,
            "--tolerance",
            "4 %");
    assertThat(dialed.code()).as(dialed.out() + dialed.err()).isZero();

    assertThat(onLedger("history", "one").out()).containsPattern("Time\\s+alone\\s+is\\s+expected");
    Ended again = onLedger("reread", "one");
    assertThat(again.code()).as(again.err()).isZero();
    assertThat(again.out()).contains("kept: it reads");
  }

  private List<String> kinds() {
    List<String> kinds = new ArrayList<>();
    try (LedgerArchive archive = SqliteArchive.open(ledger)) {
      archive.forEach(
          1,
          Long.MAX_VALUE,
          stored -> kinds.add(EventCodec.index(EventCodec.decode(stored)).kind()));
    }
    return kinds;
  }

  @Test
  void refusesWhatCannotBeNotedOrReadAgain() {
    onLedger(ONE);

    assertThat(onLedger("note", "on", "--what", "drop").err()).contains("no magnet 'on'", "one");
    assertThat(onLedger("note", "one", "--what", "dorp").err()).contains("did you mean 'drop'");
    assertThat(onLedger("note", "one", "--what", "drop", "--said", "x".repeat(201)).err())
        .contains("200 characters");
    assertThat(onLedger("reread").err()).contains("name a magnet");
    assertThat(onLedger("reread", "--noted").err()).contains("no magnet is noted");
    assertThat(onLedger("reread", "--batch", "4711").err()).contains("no accepted magnet");
    assertThat(onLedger("reread", "one", "--later", "soon").err()).contains("--later");
    assertThat(onLedger("reread", "two").err()).contains("no magnet 'two'");
  }

  @Test
  void refusesToCompareWhatWasNotAccepted() {
    onLedger(with(ONE, "--survives", "30 kA/m"));

    Ended again = onLedger("reread", "one");

    assertThat(again.code()).isEqualTo(2);
    assertThat(again.err()).contains("was not accepted: refused");
  }

  @Test
  void notesNothingWhereThereIsNoLedger() {
    assertThat(onLedger("note", "one", "--what", "heat").code()).isEqualTo(2);
    assertThat(ledger).doesNotExist();
  }

  @Test
  void judgesAMagnetAfterItsRest() {
    Ended ended = onLedger(with(ONE, "--read-after", "7 min"));

    assertThat(ended.code()).isZero();
    assertThat(ended.out()).contains("after a while", "read 7 min after its last pulse");
    assertThat(onLedger("history", "one").out())
        .contains("asked to keep", "to be judged 7 min after its last pulse");
  }

  @Test
  void saysWhereToPutAnAcceptedMagnet() {
    onLedger(ONE);

    assertThat(onLedger("history", "one").out())
        .contains("An opposing field up to", "in a year and", "comes no nearer than", "steel");
    assertThat(onLedger("explain", "one").out()).contains("Where to put it");
  }

  @Test
  void refusesARestThatIsTooLongForTheZero() {
    assertThat(onLedger(with(ONE, "--read-after", "3 h")).err()).contains("1 s to 60 min");
    assertThat(onLedger(with(ONE, "--survives", "-3 kA/m")).err()).contains("without a sign");
    assertThat(ledger).doesNotExist();
  }

  @Test
  void refusesByHandWhatOnlyARigCanKeep() {
    String[] hand = ONE.clone();
    hand[0] = "hand";

    Ended ended = onLedger(with(hand, "--survives", "5 kA/m"));

    assertThat(ended.code()).isEqualTo(2);
    assertThat(ended.err()).contains("leave them out");
    assertThat(ledger).doesNotExist();
  }

  @Test
  void refusesAFieldToSurviveOfAMagnetThatIsDemagnetised() {
    Ended ended =
        onLedger(
            "dial",
            "--alloy",
            "alnico 2",
            "--size",
            "5.1 x 18 mm",
            "--target",
            "demagnetise",
            "--survives",
            "5 kA/m");

    assertThat(ended.code()).isEqualTo(2);
    assertThat(ended.err()).contains("--survives: a magnet that is demagnetised");
  }

  @Test
  void saysBeforehandWhatAUsualMagnetWillHardlySurvive() {
    assertThat(onLedger(with(ONE, "--survives", "30 kA/m")).out())
        .contains("Mind ", "it will hardly survive that");
  }
}
