package lodestep.quantity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.function.Function;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Resistors, capacitors and coils as their makers' sheets write them; prefixes as in the SI. */
class PartsWrittenTest {

  private static final Offset<Double> EXACT = Offset.offset(1e-12);

  @ParameterizedTest
  @CsvSource({
    "4.7 Ω, 4.7",
    "2.2kΩ, 2200",
    "300 mΩ, 0.3",
    "1 MΩ, 1e6",
    "22 ohm, 22",
    "3 kohm, 3000"
  })
  void readsResistances(String text, double ohms) {
    assertThat(Resistance.parse(text).ohms()).isCloseTo(ohms, EXACT);
  }

  @Test
  void readsTheOhmSignAndTheGreekLetterAlike() {
    assertThat(Resistance.parse("2 k\u2126")).isEqualTo(Resistance.parse("2 k\u03a9"));
  }

  @ParameterizedTest
  @CsvSource({"22 mF, 0.022", "4700 µF, 0.0047", "4700 uF, 0.0047", "0.5 F, 0.5", "47 nF, 4.7e-8"})
  void readsCapacitances(String text, double farads) {
    assertThat(Capacitance.parse(text).farads()).isCloseTo(farads, EXACT);
  }

  @ParameterizedTest
  @CsvSource({"0.25 mH, 2.5e-4", "330 µH, 3.3e-4", "330 uH, 3.3e-4", "1 H, 1"})
  void readsInductances(String text, double henries) {
    assertThat(Inductance.parse(text).henries()).isCloseTo(henries, EXACT);
  }

  @ParameterizedTest
  @ValueSource(strings = {"0 Ω", "-1 Ω", "20 MΩ", "3", "3 V", "3 Ohm", "2,2 kΩ"})
  void refusesWhatIsNoResistance(String text) {
    refuses(text, Resistance::parse);
  }

  @ParameterizedTest
  @ValueSource(strings = {"0 F", "-1 mF", "101 F", "22", "22 MF"})
  void refusesWhatIsNoCapacitance(String text) {
    refuses(text, Capacitance::parse);
  }

  @ParameterizedTest
  @ValueSource(strings = {"0 H", "-1 mH", "101 H", "22", "22 F"})
  void refusesWhatIsNoInductance(String text) {
    refuses(text, Inductance::parse);
  }

  @Test
  void rejectsNotANumber() {
    assertThatThrownBy(() -> new Resistance(Double.NaN)).hasMessageContaining("out of range");
    assertThatThrownBy(() -> new Capacitance(Double.NaN)).hasMessageContaining("out of range");
    assertThatThrownBy(() -> new Inductance(Double.NaN)).hasMessageContaining("out of range");
  }

  @Test
  void writesWithASuitablePrefix() {
    assertThat(new Resistance(2200).written()).isEqualTo("2.20 kΩ");
    assertThat(new Resistance(22).written()).isEqualTo("22.0 Ω");
    assertThat(new Resistance(0.3).written()).isEqualTo("0.30 Ω");
    assertThat(new Capacitance(0.022).written()).isEqualTo("22.0 mF");
    assertThat(new Capacitance(47e-6).written()).isEqualTo("0.047 mF");
    assertThat(new Inductance(0.25e-3).written()).isEqualTo("0.250 mH");
  }

  private static void refuses(String text, Function<String, ?> parse) {
    assertThatThrownBy(() -> parse.apply(text))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("'" + text + "'");
  }
}
