package lodestep.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

class GaugeCalibrationTest {

  private static final Temperature REFERENCE = Temperature.ofDegC(23);

  private final GaugeCalibration calibration = new GaugeCalibration(400e3, 5e-4, REFERENCE, 0.002);

  @Test
  void countsBecomeTeslaAtTheReference() {
    assertThat(calibration.fluxDensity(-19_880, 120, REFERENCE).tesla())
        .isCloseTo(-0.05, within(1e-12));
  }

  @Test
  void warmGaugeCountsMoreForTheSameField() {
    double warm = calibration.fluxDensity(40_000, 0, Temperature.ofDegC(33)).tesla();

    assertThat(warm).isCloseTo(0.1 / 1.005, within(1e-12));
  }

  @Test
  void gainAndZeroAreCountedIntoAReading() {
    SettledReading reading =
        new SettledReading(new FluxDensity(-0.1), new FluxDensity(3e-5), 40, 50);

    SettledReading counted = calibration.counted(reading, new GaugeZero(100, 16, 30, 60));

    double zero = 16 / 400e3;
    // Half the coefficient over 10 K either way, rectangular (JCGM 100, 4.3.7): the half width over
    // the root of three.
    double warmth = 0.1 * 2.5e-4 * 10 / Math.sqrt(3);
    assertThat(counted.standardUncertainty().tesla())
        .isCloseTo(Math.sqrt(9e-10 + 4e-8 + warmth * warmth + zero * zero), within(1e-12));
    assertThat(counted.value()).isEqualTo(reading.value());
    assertThat(counted.samples()).isEqualTo(50);
    assertThat(counted.degreesOfFreedom()).isGreaterThan(1000);
  }

  @Test
  void refusesNonsense() {
    for (double wrong : List.of(0.0, -1.0, Double.NaN, Double.POSITIVE_INFINITY)) {
      assertThatThrownBy(() -> new GaugeCalibration(wrong, 0, REFERENCE, 0))
          .hasMessageContaining("counts per tesla above zero");
    }
    assertThatThrownBy(() -> new GaugeCalibration(1, 0.03, REFERENCE, 0))
        .hasMessageContaining("gain per kelvin out of range");
    assertThatThrownBy(() -> new GaugeCalibration(1, 0, REFERENCE, -0.1))
        .hasMessageContaining("relative uncertainty out of range");
    assertThatThrownBy(() -> new GaugeCalibration(1, 0, REFERENCE, Double.NaN))
        .hasMessageContaining("relative uncertainty out of range");
  }

  @Test
  void refusesCountsThatAreNoReading() {
    assertThatThrownBy(() -> calibration.fluxDensity(Double.NaN, 0, REFERENCE))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> calibration.fluxDensity(1e9, 0, REFERENCE))
        .hasMessageContaining("flux density out of range");
    assertThatThrownBy(() -> calibration.fluxDensity(1, 0, Temperature.ofDegC(900)))
        .hasMessageContaining("too far from its calibration at 23.0 °C");
  }

  @Test
  void refusesReadingsAndZerosWithoutSamples() {
    FluxDensity some = new FluxDensity(0.01);
    assertThatThrownBy(() -> new SettledReading(some, some, 3, 0)).hasMessageContaining("samples");
    assertThatThrownBy(() -> new SettledReading(some, new FluxDensity(-1e-6), 3, 9))
        .hasMessageContaining("standard uncertainty");
    assertThatThrownBy(() -> new GaugeZero(Double.NaN, 1, 3, 9)).hasMessageContaining("counts");
    assertThatThrownBy(() -> new GaugeZero(1, 1, 3, 0)).hasMessageContaining("samples");
  }
}
