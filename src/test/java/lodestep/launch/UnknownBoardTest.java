package lodestep.launch;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import lodestep.config.RigReading;
import lodestep.ledger.LedgerBinding;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: a rig of a board, run where there is no such board, is refused in one sentence and leaves
 * everything as it was. Method: the program in a process of its own, each file shipped for a board
 * with pins; no head is at its port either, so that on a board the test would energise nothing.
 */
@Timeout(300)
class UnknownBoardTest {

  private static final String NO_BOARD =
      "lodestep: this computer is no board whose lines can be driven, but the rig is a real one;"
          + " run on a Raspberry Pi, or name a rig.toml of kind \"virtual\"";

  private final Lodestep lodestep;

  UnknownBoardTest(@TempDir Path folder) {
    this.lodestep = new Lodestep(folder);
  }

  private Path rig(String name) throws IOException {
    Path shipped = Path.of(System.getProperty("lodestep.repository"), "firmware-host/board", name);
    String text = Files.readString(shipped);
    assertThat(text).contains("[pins]", "/dev/lodestep-head");
    return Files.writeString(
        lodestep.folder().resolve("rig.toml"),
        text.replace("/dev/lodestep-head", lodestep.folder().resolve("no head").toString()));
  }

  private static void assertRefused(Ending ended) throws IOException {
    assertThat(ended.exitCode()).as(ended.said()).isEqualTo(2);
    assertThat(ended.said()).hasLineCount(1);
    if (onABoard()) {
      assertThat(ended.said()).startsWith("lodestep: ");
    } else {
      assertThat(ended.said().strip()).isEqualTo(NO_BOARD);
    }
  }

  /** The sentence then tells what else is missing. */
  private static boolean onABoard() throws IOException {
    Path model = Path.of("/proc/device-tree/model");
    return Files.exists(model) && Files.readString(model).contains("Raspberry Pi");
  }

  private List<String> batch(Path rig, String... more) throws IOException {
    List<String> arguments = new ArrayList<>(List.of("batch", "--rig", rig.toString()));
    arguments.addAll(List.of("--ledger", lodestep.ledger().toString()));
    arguments.addAll(List.of(more));
    return arguments;
  }

  private Ending run(List<String> arguments) throws IOException, InterruptedException {
    return lodestep.run(arguments.toArray(String[]::new));
  }

  @ParameterizedTest
  @ValueSource(strings = {"coil", "jig", "coil-and-jig", "switched"})
  void saysOneSentenceAndLeavesNoLedger(String kind) throws IOException, InterruptedException {
    Path rig = rig("rig-real-" + kind + ".toml");
    String plan = lodestep.plan().toString();

    assertRefused(run(batch(rig, plan)));

    try (Stream<Path> left = Files.list(lodestep.folder())) {
      assertThat(left.map(file -> file.getFileName().toString()))
          .containsExactlyInAnyOrder("rig.toml", "order.csv", "state");
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"jig", "switched"})
  void leavesTheRigsLedgerAsItWas(String kind) throws IOException, InterruptedException {
    Path rig = rig("rig-real-" + kind + ".toml");
    RigConfig config = ((RigReading.Rig) RigFile.read("rig.toml", Files.readString(rig))).config();
    Instant wall = Instant.parse("2031-03-04T08:00:00Z");
    SqliteStore.open(lodestep.ledger(), new LedgerBinding(config.name(), config.kind()), 0, wall)
        .close();
    byte[] before = Files.readAllBytes(lodestep.ledger());

    assertRefused(run(batch(rig, lodestep.plan().toString())));
    assertRefused(run(batch(rig, "--continue")));

    assertThat(Files.readAllBytes(lodestep.ledger())).isEqualTo(before);
    assertThat(lodestep.prove().output()).startsWith("whole");
  }
}
