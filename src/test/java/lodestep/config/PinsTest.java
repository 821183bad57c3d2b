package lodestep.config;

import static lodestep.config.RigFileTest.lineOf;
import static lodestep.config.RigFileTest.pins;
import static lodestep.config.RigFileTest.problems;
import static lodestep.config.RigFileTest.real;
import static lodestep.config.RigFileTest.rig;
import static lodestep.config.RigFileTest.shipped;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Goal: a real rig's lines each have a pin of their own on which they are safe. */
class PinsTest {

  @Test
  void namesEveryPinAsThePortsDo() {
    List<String> lines =
        Stream.concat(Arrays.stream(InputLine.values()), Arrays.stream(OutputLine.values()))
            .map(line -> line.name().toLowerCase(Locale.ROOT))
            .toList();

    assertThat(PinNames.ALL).containsExactlyInAnyOrderElementsOf(lines);
    assertThat(PinNames.OUTPUTS)
        .containsExactlyInAnyOrderElementsOf(
            Arrays.stream(OutputLine.values())
                .map(line -> line.name().toLowerCase(Locale.ROOT))
                .toList());
  }

  @Test
  void refusesOnePinForTwoLinesAndNamesBoth() throws IOException {
    String text = real(pins()).replace("lid_b = 17", "lid_b = 16");

    assertThat(problems(text))
        .containsExactly(
            "rig.toml:"
                + lineOf(text, "lid_b")
                + ":1: pin 16 of 'lid_b' is already that of 'lid_a' in line "
                + lineOf(text, "lid_a")
                + "; each line has a pin of its own");
  }

  @ParameterizedTest
  @ValueSource(strings = {"-1", "28", "9.5", "\"9\""})
  void refusesAPinNumberThatNoBoardHas(String number) throws IOException {
    assertThat(problems(real(pins()).replace("bank_fill = 9", "bank_fill = " + number)))
        .singleElement()
        .asString()
        .contains("'bank_fill' must be a whole number from 0 to 27");
  }

  @ParameterizedTest
  @CsvSource({
    "bank_fill = 9, bank_fill = 0, who they are",
    "lid_a = 16, lid_a = 3, a broken wire reads closed",
    "lid_a = 16, lid_a = 14, console",
    "coil_fire = 13, coil_fire = 8, pulls it up until the program runs",
  })
  void refusesAPinOnWhichTheLineWouldNotBeSafe(String good, String bad, String why)
      throws IOException {
    String text = real(pins()).replace(good, bad);
    String name = bad.substring(0, bad.indexOf(' '));

    assertThat(problems(text))
        .singleElement()
        .asString()
        .startsWith("rig.toml:" + lineOf(text, name) + ":1: pin ")
        .contains(" is not for '" + name + "'")
        .contains(why);
  }

  @Test
  void letsAnInputBeOnALineThatOnlyAnOutputMustNotHave() throws IOException {
    assertThat(rig(real(pins()).replace("lid_a = 16", "lid_a = 8")).pins())
        .containsEntry("lid_a", 8);
  }

  @Test
  void refusesARealRigWithoutOneOfTheNeededLines() throws IOException {
    assertThat(problems(real(pins().replace("stop_loop", "# stop_loop"))))
        .singleElement()
        .asString()
        .contains("[pins] has no 'stop_loop'");
  }

  @Test
  void refusesARealRigWithoutPinsOrHead() throws IOException {
    assertThat(problems(shipped().replace("\"virtual\"", "\"real\"")))
        .hasSize(2)
        .anySatisfy(problem -> assertThat(problem).contains("needs a [head]"))
        .anySatisfy(problem -> assertThat(problem).contains("needs [pins]"));
  }

  @Test
  void refusesAVirtualRigWithPins() throws IOException {
    assertThat(problems(shipped() + "[pins]\n" + pins()))
        .singleElement()
        .asString()
        .contains("a virtual rig has no pins");
  }
}
