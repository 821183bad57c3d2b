package lodestep.soak;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Goal: a failing run becomes a short list that still fails, and a file that fails again. */
class ShrinkerTest {

  /** A disk that loses rows shows only when the program is killed; all else is beside the point. */
  private static SavedRun failing() {
    List<Happening> happenings = new ArrayList<>();
    for (int i = 0; i < 6; i++) {
      happenings.add(new Happening(HappeningKind.INPUT_FLIPPED, 500 + 300 * i, 20, "work seat", 0));
      happenings.add(new Happening(HappeningKind.CLOCK_SET, 600 + 300 * i, 400, "", 60));
    }
    happenings.add(new Happening(HappeningKind.HOST_KILLED, 4_000, 2_000, "levels stay", 0));
    happenings.add(new Happening(HappeningKind.HEAD_SILENT, 20_000, 100, "", 0));
    Script script = new Script(25_000, happenings);
    Violation seen =
        SoakRun.of(Soaks.SETTINGS, 5, script, Planted.LOST_ROW).violation().orElseThrow();
    assertThat(seen.rule()).isEqualTo("INV-19");
    return new SavedRun(SoakRig.COIL, 5, Soaks.PLAN, Planted.LOST_ROW, script, seen);
  }

  @Test
  void leavesOutAllThatDoesNotMatterAndSavesTheRest() {
    SavedRun shrunk = Shrinker.shrunk(Soaks.SETTINGS, failing());

    assertThat(shrunk.script().happenings())
        .singleElement()
        .isEqualTo(new Happening(HappeningKind.HOST_KILLED, 4_000, 1, "levels stay", 0));
    assertThat(shrunk.violation().rule()).isEqualTo("INV-19");

    SavedRun read = SavedRun.read(shrunk.written());
    assertThat(read).isEqualTo(shrunk);
    assertThat(SoakRun.of(Soaks.SETTINGS, read.seed(), read.script(), read.planted()).violation())
        .contains(shrunk.violation());
  }

  @Test
  void writesOneHappeningALine() {
    String written = failing().written();

    assertThat(written.lines().filter(line -> line.contains("\"atMs\""))).hasSize(14);
    assertThat(written)
        .contains("{\"atMs\":4000,\"forMs\":2000,\"what\":\"host killed\",\"on\":\"levels stay\"}");
    assertThat(SavedRun.read(written)).isEqualTo(failing());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "{",
        "[]",
        "{\"lodestepSoakRun\": 2}",
        "{\"lodestepSoakRun\": 1, \"happenings\": []}",
        "{\"lodestepSoakRun\": 1, \"happenings\": [{\"what\": \"nothing of the kind\"}]}",
        "{\"lodestepSoakRun\": 1, \"happenings\": [{\"what\": \"bank leak\", \"atMs\": 1,"
            + " \"forMs\": 1, \"value\": -3}]}"
      })
  void refusesWhatIsNoSavedRun(String text) {
    assertThatThrownBy(() -> SavedRun.read(text)).isInstanceOf(IllegalArgumentException.class);
  }
}
