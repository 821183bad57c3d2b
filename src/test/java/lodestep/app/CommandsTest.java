package lodestep.app;

import static lodestep.app.CommandRun.ONE;
import static lodestep.app.CommandRun.run;
import static lodestep.app.CommandRun.with;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import lodestep.app.CommandRun.Ended;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: every command does what its help says, with its exit code, and refuses in one sentence. */
class CommandsTest {

  private final Path folder;
  private final Path ledger;

  CommandsTest(@TempDir Path folder) {
    this.folder = folder;
    this.ledger = folder.resolve("test.ledger");
  }

  private Ended onLedger(String... arguments) {
    return CommandRun.on(ledger, arguments);
  }

  @Test
  void dialsOneMagnetAndTellsEachStep() {
    Ended ended = onLedger(ONE);

    assertThat(ended.code()).isZero();
    assertThat(ended.out())
        .startsWith("VIRTUAL")
        .contains("eye protection", "as found", "charge, south", "knock down, north", "proof")
        .contains("1 accepted, 0 refused");
    assertThat(ended.err()).isEmpty();
  }

  @Test
  void saysTheSameInJsonWithNothingElseOnTheOutput() throws IOException {
    JsonNode result = onLedger(with(ONE, "--json")).json();
    JsonNode magnet = result.get("magnets").get(0);

    assertThat(result.get("rigKind").asText()).isEqualTo("virtual");
    assertThat(magnet.get("verdict").asText()).isEqualTo("accepted");
    assertThat(magnet.get("fieldMicroTesla").asLong()).isBetween(-43_800L, -42_200L);

    JsonNode history = onLedger("history", "one", "--json").json();
    assertThat(history).hasSize(1);
    assertThat(history.get(0).get("happenings").size()).isGreaterThan(6);
    JsonNode proof = onLedger("prove", "--json").json();
    assertThat(proof.get("whole").asBoolean()).isTrue();
    assertThat(proof.get("newestHash").asText()).hasSize(64);
  }

  @Test
  void runsTheDemoAndShowsTableAndHistory() {
    Ended ended = onLedger("demo");

    assertThat(ended.code()).isZero();
    assertThat(ended.out())
        .contains("6 of 6", "6 accepted, 0 refused", "History of magnet", "lodestep prove");
  }

  @Test
  void runsItsOwnExamplePlan() throws IOException {
    Path order = folder.resolve("order.csv");
    Files.writeString(order, run("plan", "--example").out());

    assertThat(run("plan", order.toString()).out()).contains("line", "name", "demagnetise");
    assertThat(run("plan", order.toString(), "--json").json().get("rows").size()).isGreaterThan(2);
    Ended ended = onLedger("batch", order.toString(), "--json");
    assertThat(ended.code()).isZero();
    assertThat(ended.json().get("open").asInt()).isZero();
    assertThat(ended.err()).contains("eye protection", "accepted");
  }

  @Test
  void endsWithOneWhenAMagnetIsNotAccepted() throws IOException {
    Path order = folder.resolve("order.csv");
    Files.writeString(
        order,
        """
        name,alloy,shape,size,pole up,target,tolerance
        up,alnico 5,rod,4.9 x 16.5 mm,north,840 G,9 G
        """);

    Ended ended = onLedger("batch", order.toString());

    assertThat(ended.code()).isEqualTo(1);
    assertThat(ended.out()).contains("0 accepted, 1 refused");
  }

  @Test
  void refusesByTheNameOfTheOption() {
    Ended ended =
        onLedger("dial", "--alloy", "alnica 5", "--size", "0 x 18 mm", "--tolerance", "8 G");

    assertThat(ended.code()).isEqualTo(2);
    assertThat(ended.err())
        .contains("--alloy: 'alnica 5'", "did you mean")
        .contains("--size: ", "--target: ")
        .doesNotContain("column");
    assertThat(ledger).doesNotExist();
  }

  @Test
  void refusesTargetsAndTolerancesThatCannotBe() {
    assertThat(onLedger(replaced("south", "north", "430 G", "-430 G")).err())
        .contains("--target: ");
    assertThat(onLedger(replaced("430 G", "4300 G")).err()).contains("--target: ");
    assertThat(onLedger(replaced("8 G", "0.1 G")).err()).contains("--tolerance: ");
    assertThat(ledger).doesNotExist();
  }

  @Test
  void refusesWhatIsNotThereInOneSentence() {
    assertThat(run("batch", folder.resolve("none.csv").toString()).err())
        .contains("cannot read the plan");
    assertThat(onLedger("history", "x").err()).contains("there is no ledger");
    assertThat(run("rig", folder.resolve("none.toml").toString()).err()).contains("no such file");
    assertThat(run("batch").err()).contains("one of the two");
    assertThat(run("nonsense").code()).isEqualTo(2);
    assertThat(run("demo", "--seed", "x").err()).contains("'x' is no whole number");
  }

  @Test
  void refusesToGoOnWhenNothingIsOpen() {
    onLedger(ONE);

    Ended ended = onLedger("batch", "--continue");

    assertThat(ended.code()).isEqualTo(2);
    assertThat(ended.err()).contains("no batch left open");
  }

  @Test
  void makesNoLedgerToGoOnIn() {
    Ended ended = onLedger("batch", "--continue");

    assertThat(ended.code()).isEqualTo(2);
    assertThat(ended.err()).contains("there is no ledger");
    assertThat(ledger).doesNotExist();
  }

  @Test
  void refusesAPlanWithoutEndAfterReadingWhatAPlanMayHave() {
    Ended ended = run("plan", "/dev/zero");

    assertThat(ended.code()).isEqualTo(2);
    assertThat(ended.err()).contains("more than 1,000,000 bytes is no plan");
  }

  @Test
  void namesRigAndLedgerInTheCommandsItProposes() {
    // Where the folder's name has a blank, the proposed path stands in quote marks.
    assertThat(onLedger("demo").out())
        .containsPattern("Prove it whole with: lodestep prove --ledger \\S.*test\\.ledger");
  }

  @Test
  void listsEveryInterlockWithItsRemedy() throws IOException {
    assertThat(run("interlocks").out()).contains("trip 10: ", "  why  ", "  do   ");
    assertThat(run("interlocks", "--json").json().size()).isGreaterThan(25);
  }

  @Test
  void showsTheRigInWordsAndInSiUnits() throws IOException {
    assertThat(run("rig").out()).contains("22.0 mF", "rod coil");
    JsonNode rig = run("rig", "--json").json();
    assertThat(rig.get("bank").get("capacitanceFarads").asDouble()).isEqualTo(0.022);
  }

  @Test
  void hasAnExampleInTheHelpOfEveryCommand() {
    for (String command :
        List.of(
            "demo",
            "batch",
            "dial",
            "read",
            "hand",
            "plan",
            "history",
            "prove",
            "interlocks",
            "rig")) {
      assertThat(run(command, "--help").out()).contains("xample", "lodestep " + command);
    }
    assertThat(run("--help").out()).contains("Exit codes").doesNotContain("null");
  }

  @Test
  void readsTheHeadLiveALineASecond() {
    Ended ended = run("read", "--zero", "--for", "8s");

    assertThat(ended.code()).isZero();
    assertThat(ended.out())
        .startsWith("VIRTUAL")
        .contains("Caution: charged magnets crush and shatter.")
        .contains(
            "Reading in the rod nest, 2.00 mm from the face; calibration: nominal, not cal",
            "The zero is taken.")
        .containsPattern("No pole: -?0\\.\\d G\\.")
        .containsPattern("North face: \\d{3}\\.\\d G\\. Least ")
        .hasLineCount(6 + 8);
    assertThat(run("read", "--for", "2s", "--unit", "millitesla").out()).contains(" mT.");
  }

  @Test
  void readsTheHeadLiveAsAJsonObjectALine() throws IOException {
    Ended ended = run("read", "--for", "7s", "--nest", "bar nest", "--json");

    List<String> lines = ended.out().lines().toList();
    assertThat(lines).hasSize(7);
    JsonNode last = JsonMapper.builder().build().readTree(lines.get(6));
    assertThat(last.get("nest").asText()).isEqualTo("bar nest");
    assertThat(last.get("standOffMicroMetres").asLong()).isEqualTo(2000);
    assertThat(last.get("pole").asText()).isEqualTo("north");
    assertThat(last.get("fieldMicroTesla").asLong()).isGreaterThan(10_000);
    assertThat(last.get("smallestMicroTesla").asLong()).isLessThan(1_000);
    assertThat(last.get("silence").asText()).isEmpty();
    assertThat(ended.err()).contains("VIRTUAL", "No zero has been taken");
  }

  @Test
  void saysInItsOwnWordsWhatItDoesNotKnow() {
    Ended command = run("dail");
    assertThat(command.code()).isEqualTo(2);
    assertThat(command.err())
        .startsWith("lodestep: there is no command 'dail'; did you mean 'dial'?")
        .contains("Commands: ", "history", "soak", "See: lodestep --help")
        .doesNotContain("index");
    assertThat(command.err().lines()).allSatisfy(line -> assertThat(line).hasSizeLessThan(81));
    assertThat(run("read", "nest").err())
        .startsWith("lodestep: 'nest' is one word too many for lodestep read")
        .contains("See: lodestep read --help");
    assertThat(run("read", "--nset", "bar nest").err())
        .startsWith("lodestep: lodestep read has no option --nset; did you mean '--nest'?");
    assertThat(run("read", "--nset=bar nest").err()).contains("no option --nset; did you");
    assertThat(run("help", "reed").err())
        .startsWith("lodestep: there is no command 'reed'; did you mean 'read'?");
    assertThat(run("-x").err()).startsWith("lodestep: lodestep has no option -x");
  }

  @Test
  void refusesToReadWhatItIsNotTold() {
    assertThat(run("read", "--nest", "hole").err())
        .contains("--nest: no nest 'hole'; this rig has rod nest, bar nest")
        .doesNotContain("[");
    assertThat(run("read", "--nest", "bar nst").err()).contains("did you mean 'bar nest'?");
    assertThat(run("read", "--unit", "furlong").err()).contains("--unit: 'furlong'");
    assertThat(run("read", "--for", "soon").err()).contains("--for: 'soon'", "5s");
    assertThat(run("read", "--for", "0s").code()).isEqualTo(2);
    assertThat(run("read", "--tone").err())
        .contains("--tone, --target and --tolerance go together");
    assertThat(run("read", "--tone", "--target", "430 G", "--tolerance", "loud").err())
        .contains("--tolerance: ");
  }

  @Test
  void guidesOneMagnetByHandAndShowsItsHistory() throws IOException {
    Ended ended = onLedger(byHand("--typed", "870 G by shelf gauge"));

    assertThat(ended.code()).isZero();
    assertThat(ended.out())
        .startsWith("VIRTUAL")
        .contains("eye protection", "Fingers never go between the jaws")
        .contains("it took the charge", "Stop. Take the opposing magnet right away")
        .contains("accepted after");
    assertThat(ended.err()).isEmpty();
    assertThat(onLedger("history", "one").out())
        .contains("typed, not ours", "shelf gauge: 870 G (pole not said)")
        .contains("by hand, charge, south", "by hand, knock down, north", "accepted");
    JsonNode history = onLedger("history", "one", "--json").json();
    assertThat(history.get(0).get("happenings").toString()).contains("act by hand");
    assertThat(onLedger("prove").code()).isZero();
  }

  @Test
  void saysTheEndOfWorkByHandInJson() throws IOException {
    Ended ended = onLedger(byHand("--json"));

    assertThat(ended.json().get("verdict").asText()).isEqualTo("accepted");
    assertThat(ended.json().get("fieldMicroTesla").asLong()).isBetween(-44_500L, -41_500L);
    assertThat(ended.err()).contains("eye protection");
  }

  @Test
  void refusesWorkByHandThatCannotBe() {
    assertThat(onLedger(byHand("--typed", "870 G")).err()).contains("--typed: whose reading");
    assertThat(onLedger("hand", "--alloy", "alnica 5").err()).contains("--alloy: 'alnica 5'");
    assertThat(ledger).doesNotExist();
  }

  @Test
  void refusesToDialOnAHeadAlone() throws IOException {
    Path rig = folder.resolve("rig.toml");
    Path repository = Path.of(System.getProperty("lodestep.repository", ""));
    Files.copy(repository.resolve("firmware-host/board/rig-real-head.toml"), rig);

    Ended ended = onLedger(with(ONE, "--rig", rig.toString()));

    assertThat(ended.code()).isEqualTo(2);
    assertThat(ended.err()).contains("is a head alone and drives nothing", "lodestep hand");
    assertThat(ledger).doesNotExist();
    assertThat(run("rig", rig.toString()).out()).contains("drives  nothing");
  }

  private static String[] byHand(String... more) {
    List<String> all = new ArrayList<>(List.of(ONE));
    all.set(0, "hand");
    all.set(all.size() - 1, "15 G");
    all.addAll(List.of(more));
    return all.toArray(String[]::new);
  }

  private static String[] replaced(String... oldAndNew) {
    List<String> words = new ArrayList<>(List.of(ONE));
    for (int at = 0; at < oldAndNew.length; at += 2) {
      words.set(words.indexOf(oldAndNew[at]), oldAndNew[at + 1]);
    }
    return words.toArray(String[]::new);
  }
}
