package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: a winder works rings like rods and bars, from the plan to the history. */
class RingsCommandTest {

  private static final String RIG =
      Path.of(System.getProperty("lodestep.repository"))
          .resolve("firmware-host/board/rig-virtual-ring.toml")
          .toString();

  private static final List<String> RING =
      List.of("--alloy", "alnico 3", "--shape", "ring", "--size", "16.4 x 6.3 x 9.4 mm");

  private final Path folder;

  RingsCommandTest(@TempDir Path folder) {
    this.folder = folder;
  }

  private static CommandRun.Ended asked(String command, String... more) {
    List<String> all = new ArrayList<>(List.of("magnet", command));
    all.addAll(RING);
    all.addAll(List.of(more));
    return CommandRun.run(all.toArray(String[]::new));
  }

  @Test
  void worksABatchOfRingsAndKeepsTheirHistory() throws IOException {
    Path plan = folder.resolve("order.csv");
    Path ledger = folder.resolve("rings.ledger");
    Files.writeString(
        plan,
        """
        name,alloy,shape,size,pole up,target,tolerance
        eel,alnico 3,ring,16.4 x 6.3 x 9.4 mm,north,140 G,5 G
        pike,alnico 2,ring,16.4 x 6.3 x 9.4 mm,south,150 G,5 G
        """);

    CommandRun.Ended checked = CommandRun.run("plan", plan.toString(), "--rig", RIG);
    CommandRun.Ended worked =
        CommandRun.on(ledger, "batch", plan.toString(), "--rig", RIG, "--seed", "6");
    CommandRun.Ended history = CommandRun.on(ledger, "history", "eel", "--rig", RIG);

    assertThat(checked.out()).contains("ring 16.40 x 6.30 x 9.40 mm", "ring nest");
    assertThat(worked.code()).as(worked.out() + worked.err()).isZero();
    assertThat(worked.out()).contains("2 accepted, 0 refused");
    assertThat(history.out()).contains("alnico 3 ring 16.40 x 6.30 x 9.40 mm", "accepted");
  }

  @Test
  void saysWhatARingReadsOverItsWallAndOverItsHole() throws IOException {
    CommandRun.Ended words = asked("charging", "--rig", RIG);
    JsonNode json = asked("charging", "--rig", RIG, "--json").json();

    assertThat(words.out())
        .contains("over the middle of its wall", "over its hole", "the wide coil gives up to");
    assertThat(words.out().lines()).allMatch(line -> line.length() <= 80);
    assertThat(json.get("readBesideAxisMetres").doubleValue()).isCloseTo(5.675e-3, within(1e-9));
    assertThat(json.get("fullChargeOnAxisTesla").doubleValue())
        .isLessThan(json.get("fullChargeTesla").doubleValue());
  }

  @Test
  void answersEachQuestionAboutARing() {
    assertThat(asked("curve", "--rig", RIG).out()).contains("reverse peak", "ring 16.40");
    assertThat(asked("coil").out()).contains("turns", "ring 16.40");
    assertThat(asked("levels", "--rig", RIG).code()).isZero();
    assertThat(asked("charging", "--stand-off", "2 mm").out())
        .contains("This rig has no nest for a ring.");
    assertThat(
            CommandRun.run(
                    "magnet",
                    "charging",
                    "--shape",
                    "ring",
                    "--alloy",
                    "alnico 3",
                    "--size",
                    "6.3 x 16.4 x 9.4 mm",
                    "--rig",
                    RIG)
                .err())
        .contains("--size: a ring's inside diameter is smaller than its outside one")
        .hasLineCount(1);
  }
}
