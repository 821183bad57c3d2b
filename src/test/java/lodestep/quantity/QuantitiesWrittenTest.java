package lodestep.quantity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.function.Function;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Source of the conversions, from memory: NIST Special Publication 811 (2008), appendix B.8: 1 G =
 * 1e-4 T, 1 Oe = 1000/(4 pi) A/m = 79.57747 A/m, 1 in = 25.4 mm exactly, 1 mil = 25.4 um; 0 degC =
 * 273.15 K.
 */
class QuantitiesWrittenTest {

  private static final Offset<Double> EXACT = Offset.offset(1e-12);

  @ParameterizedTest
  @CsvSource({
    "385 G, 0.0385",
    "38.5 mT, 0.0385",
    "-385 G, -0.0385",
    "\u2212385G, -0.0385",
    "+0.0385 T, 0.0385",
    "1.28 kG, 0.128",
    "250 uT, 0.00025",
    "250 \u00b5T, 0.00025",
    "250 \u03bcT, 0.00025",
  })
  void readsFluxDensities(String text, double tesla) {
    assertThat(FluxDensity.parse(text).tesla()).isCloseTo(tesla, EXACT);
  }

  @ParameterizedTest
  @CsvSource({"1 Oe, 79.57747", "2 kOe, 159154.94", "50 kA/m, 50000", "640 A/m, 640"})
  void readsFieldStrengths(String text, double amperesPerMetre) {
    assertThat(FieldStrength.parse(text).amperesPerMetre())
        .isCloseTo(amperesPerMetre, Offset.offset(1e-7 * amperesPerMetre));
  }

  @ParameterizedTest
  @CsvSource({
    "4.75 mm, 0.00475",
    "0.187 in, 0.0047498",
    "3/16 in, 0.0047625",
    "187 mil, 0.0047498",
    ".5 in, 0.0127"
  })
  void readsLengths(String text, double metres) {
    assertThat(Length.parse(text).metres()).isCloseTo(metres, EXACT);
  }

  @Test
  void readsVoltageCurrentEnergyAndTemperature() {
    assertThat(Voltage.parse("12.7 V").volts()).isCloseTo(12.7, EXACT);
    assertThat(Voltage.parse("850 mV").volts()).isCloseTo(0.85, EXACT);
    assertThat(ElectricCurrent.parse("3.77 A").amps()).isCloseTo(3.77, EXACT);
    assertThat(ElectricCurrent.parse("40 mA").amps()).isCloseTo(0.04, EXACT);
    assertThat(Energy.parse("27 J").joules()).isCloseTo(27, EXACT);
    assertThat(Temperature.parse("21.5 \u00b0C").kelvin()).isCloseTo(294.65, Offset.offset(1e-9));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"385", "G", "", "385 g", "385 MT", "38,5 mT", "1e9 T", "385 G G", "NaN G"})
  void refusesWhatIsNoFluxDensity(String text) {
    refuses(text, FluxDensity::parse);
  }

  @ParameterizedTest
  @ValueSource(strings = {"4.75", "4,75 mm", "12 ft", "3/0 in", "1e5 m", "mm"})
  void refusesWhatIsNoLength(String text) {
    refuses(text, Length::parse);
  }

  @Test
  void saysWhatIsWrongAndHowToWriteIt() {
    assertThatThrownBy(() -> FluxDensity.parse("385"))
        .hasMessageContaining("'385' has no unit")
        .hasMessageContaining("written like");
    assertThatThrownBy(() -> Length.parse("4,75 mm")).hasMessageContaining("decimal point");
  }

  @Test
  void printsAsAWinderWritesIt() {
    assertThat(FluxDensity.ofGauss(385.24).inGauss()).isEqualTo("385.2 G");
    assertThat(FluxDensity.ofGauss(-385.24).inMilliTesla()).isEqualTo("-38.52 mT");
    assertThat(Length.ofMm(4.75).written()).isEqualTo("4.75 mm");
  }

  @Test
  void writesNothingWithoutASign() {
    assertThat(FluxDensity.ofGauss(-0.04).inGauss()).isEqualTo("0.0 G");
    assertThat(FluxDensity.ofGauss(-0.04).inMilliTesla()).isEqualTo("0.00 mT");
    assertThat(FluxDensity.ofGauss(-0.06).inGauss()).isEqualTo("-0.1 G");
  }

  private static void refuses(String text, Function<String, ?> parse) {
    assertThatThrownBy(() -> parse.apply(text)).isInstanceOf(IllegalArgumentException.class);
  }
}
