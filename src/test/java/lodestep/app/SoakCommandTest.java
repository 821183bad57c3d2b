package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import lodestep.cli.Commands;
import lodestep.cli.SoakWork;
import lodestep.soak.Happening;
import lodestep.soak.HappeningKind;
import lodestep.soak.Planted;
import lodestep.soak.SavedRun;
import lodestep.soak.Script;
import lodestep.soak.SoakRig;
import lodestep.soak.Violation;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: the command "soak" plays what it is asked, tells what came of it, and saves what fails. */
class SoakCommandTest {

  private static final Path BOARD =
      Path.of(System.getProperty("lodestep.repository", "."), "firmware-host", "board");

  private record Ended(int code, String out, String err) {
    JsonNode json() throws IOException {
      return JsonMapper.builder().build().readTree(out);
    }
  }

  private final Path folder;

  SoakCommandTest(@TempDir Path folder) {
    this.folder = folder;
  }

  private Ended soak(String... arguments) {
    String[] all = new String[arguments.length + 3];
    all[0] = "soak";
    all[1] = "--save";
    all[2] = folder.toString();
    System.arraycopy(arguments, 0, all, 3, arguments.length);
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    int code =
        Commands.run(
            new Wiring(Outside.unattended()),
            new PrintWriter(out, true),
            new PrintWriter(err, true),
            all);
    return new Ended(code, out.toString(), err.toString());
  }

  @Test
  void playsTheSeedsAskedForAndSaysHowToGoOn() {
    Ended ended = soak("--seeds", "1..3");

    assertThat(ended.code()).isZero();
    assertThat(ended.err()).isEmpty();
    assertThat(ended.out())
        .contains("Seeds 1 to 3, 2 at a time", "rig years")
        .contains("No rule was broken.", "Go on with: lodestep soak --seeds 4..");
    assertThat(folder).isEmptyDirectory();
  }

  /** Also that the words a person names and those of the soak are the same. */
  @Test
  void playsOneKindOfRigOrHasEachSeedDrawOne() throws IOException {
    List<String> drawn = kinds("--seeds", "1..3");
    assertThat(drawn).hasSizeGreaterThan(1);
    assertThat(SoakWork.RIG_KINDS)
        .containsAll(drawn)
        .isEqualTo(Arrays.stream(SoakRig.values()).map(SoakRig::word).toList());
    for (String kind : SoakWork.RIG_KINDS) {
      assertThat(kinds("--seeds", "1", "--rig-kind", kind)).containsExactly(kind);
    }
    String file = BOARD.resolve("rig-virtual-switched.toml").toString();
    assertThat(kinds("--seeds", "1", "--rig", file)).containsExactly("switched");
  }

  private List<String> kinds(String... arguments) throws IOException {
    String[] all = Arrays.copyOf(arguments, arguments.length + 1);
    all[arguments.length] = "--json";
    Ended ended = soak(all);
    assertThat(ended.code()).isZero();
    List<String> kinds = new ArrayList<>();
    ended.json().get("rigs").forEach(rig -> kinds.add(rig.get("kind").asText()));
    return kinds;
  }

  @Test
  void comesToTheSameFiguresOnAnyNumberOfThreads() throws IOException {
    assertThat(figures("1")).isEqualTo(figures("3"));
  }

  private JsonNode figures(String threads) throws IOException {
    Ended ended = soak("--seeds", "40..44", "--threads", threads, "--json");
    assertThat(ended.code()).isZero();
    ObjectNode node = (ObjectNode) ended.json();
    assertThat(node.get("rigYearsAnHour").asDouble()).isPositive();
    assertThat(node.get("lastSeed").asLong()).isEqualTo(44);
    node.remove(List.of("threads", "wallSeconds", "rigYearsAnHour"));
    return node;
  }

  @Test
  void findsTheCanaryOfSeedOneHundredAndCountsItApart() throws IOException {
    JsonNode json = soak("--seeds", "100", "--json").json();

    assertThat(json.get("planted").elements().next().asLong()).isEqualTo(1);
    assertThat(json.get("all").get("runs").asLong()).isZero();
  }

  private Path saved(Planted planted) throws IOException {
    String plan;
    try (InputStream in =
        SoakCommandTest.class.getResourceAsStream("/lodestep/plans/soak-coil.csv")) {
      plan = new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
    Happening lid = new Happening(HappeningKind.LID_OPENED, 4_000, 300, "", 0);
    Violation seen = new Violation("INV-16", "words", 9_000, "as it was seen");
    SavedRun run =
        new SavedRun(SoakRig.COIL, 5, plan, planted, new Script(20_000, List.of(lid)), seen);
    Path file = folder.resolve("saved.json");
    Files.writeString(file, run.written());
    return file;
  }

  @Test
  void playsASavedRunAgainAndFailsAsItDid() throws IOException {
    Ended ended = soak("--replay", saved(Planted.SECOND_OUTCOME).toString());

    assertThat(ended.code()).isEqualTo(1);
    assertThat(ended.out()).contains("lid opened", "This time: INV-16", "planted");
  }

  @Test
  void refusesASavedRunOnARigOfAnotherKind() throws IOException {
    String rig = BOARD.resolve("rig-virtual-switched.toml").toString();

    Ended ended = soak("--replay", saved(Planted.NOTHING).toString(), "--rig", rig);

    assertThat(ended.code()).isEqualTo(2);
    assertThat(ended.err()).contains("is a run on a rig of the kind 'coil'");
  }

  @Test
  void saysOfASavedRunThatItIsMended() throws IOException {
    Ended ended = soak("--replay", saved(Planted.NOTHING).toString());

    assertThat(ended.code()).isZero();
    assertThat(ended.out()).contains("This time: no rule was broken");
  }

  @Test
  void refusesInOneSentence() throws IOException {
    Path none = folder.resolve("none.json");
    Files.writeString(none, "{\"seed\": 3}");
    for (List<String> wrong :
        List.of(
            List.of("--seeds", "5..1"),
            List.of("--seeds", "many"),
            List.of("--seeds", "-3"),
            List.of("--for", "soon"),
            List.of("--for", "0s"),
            List.of("--threads", "0"),
            List.of("--threads", "65"),
            List.of("--rig-kind", "bank"),
            List.of("--rig-kind", "jig", "--rig", BOARD.resolve("rig-virtual-jig.toml").toString()),
            List.of("--rig", BOARD.resolve("rig-real-head.toml").toString()),
            List.of("--plan", folder.resolve("nowhere.csv").toString()),
            List.of("--replay", folder.resolve("nowhere.json").toString()),
            List.of("--replay", none.toString()))) {
      Ended ended = soak(wrong.toArray(String[]::new));

      assertThat(ended.code()).as("%s", wrong).isEqualTo(2);
      assertThat(ended.out()).as("%s", wrong).isEmpty();
      assertThat(ended.err().lines().filter(line -> !line.startsWith("See: ")))
          .as("%s", wrong)
          .singleElement()
          .satisfies(line -> assertThat(line).startsWith("lodestep: "));
    }
  }
}
