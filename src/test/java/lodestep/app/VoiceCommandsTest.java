package lodestep.app;

import static lodestep.app.CommandRun.run;
import static lodestep.app.CommandRun.with;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import lodestep.app.CommandRun.Ended;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: what a level means to the strings is told with its range, and custom as custom. */
class VoiceCommandsTest {

  private static final String[] ROD = {
    "voice", "strings", "--alloy", "alnico 3", "--size", "4.6 x 15.5 mm"
  };
  private static final String[] COIL = {
    "voice", "coil", "--inductance", "3.4 H", "--resistance", "6.9 kohm", "--load", "210 kohm"
  };

  @Test
  void goesByTheSquareOfTheLevel() throws IOException {
    JsonNode full = run(with(ROD, "--json")).json();
    double level = full.get("fullChargeTesla").asDouble() / 2;
    JsonNode half = run(with(ROD, "--json", "--level", level * 1e3 + " mT")).json();

    assertThat(half.get("signalDecibels").asDouble()).isCloseTo(-6.02, within(0.01));
    double cents = full.get("strings").get(0).get("cents").asDouble();
    assertThat(cents).isBetween(-1.0, -0.01);
    assertThat(half.get("strings").get(0).get("cents").asDouble() / cents)
        .isCloseTo(0.25, within(0.001));
    // Up the neck the pole comes nearer to the middle of what still vibrates.
    JsonNode frets = full.get("strings").get(0).get("frets");
    assertThat(frets.get(2).get("cents").asDouble()).isNotEqualTo(cents);
  }

  @Test
  void marksWhatIsCustom(@TempDir Path folder) {
    Path drawn = folder.resolve("strings.svg");
    Ended strings = run(with(ROD, "--plot", drawn.toString()));

    assertThat(strings.code()).as(strings.err()).isZero();
    assertThat(strings.out())
        .contains("E4", "G/mm", "Out of tune along the neck", "Soft poles", "no source");
    assertThat(drawn).exists();
    Ended coil = run(with(COIL, "--capacitance", "640 pF"));
    assertThat(coil.out())
        .containsPattern("Peak of \\+[0-9.]+ dB at 3[0-9]{3} Hz")
        .contains("warm");
  }

  @Test
  void refusesWhatNobodyStringsOrWinds() {
    for (Ended refused :
        List.of(
            run(with(ROD, "--strings", "0.25 E8")),
            run(with(ROD, "--strings", "fat")),
            run(with(ROD, "--distance", "0.05 mm")),
            run(with(ROD, "--from-bridge", "700 mm")),
            run(with(ROD, "--level", "3000 G")),
            run(with(COIL, "--capacitance", "640 mF")))) {
      assertThat(refused.code()).isEqualTo(2);
      assertThat(refused.err()).startsWith("lodestep: ").hasLineCount(1);
    }
    assertThat(run(COIL).err()).contains("--capacitance");
  }
}
