package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: a coil of at most 70 °C rests above 50 °C, and once it rests until it is at 42 °C. */
class CoolingTest {

  @ParameterizedTest
  @CsvSource({
    "49.99, false, false",
    "50.01, false, true",
    "41.99, true, false",
    "42.01, true, true",
    "55, true, true"
  })
  void restsAboveItsLimitUntilItIsCooler(double degC, boolean waiting, boolean due) {
    Temperature coil = Temperature.ofDegC(degC);

    assertThat(Cooling.due(Attempt.ON_BANK, coil, waiting)).isEqualTo(due);
    assertThat(Cooling.due(Attempt.onSupply(32.0), coil, waiting)).isEqualTo(due);
  }

  @ParameterizedTest
  @CsvSource({"false", "true"})
  void neverRestsWhereThereIsNoCoil(boolean waiting) {
    assertThat(Cooling.due(Attempt.onJig(true, 3), Temperature.ofDegC(300), waiting)).isFalse();
  }

  @Test
  void doesNotRestAtTheVeryTemperature() {
    double limit = Attempt.COIL.temperatureMax().kelvin() - 20;

    assertThat(Cooling.due(Attempt.ON_BANK, new Temperature(limit), false)).isFalse();
    assertThat(Cooling.due(Attempt.ON_BANK, new Temperature(limit - 8), true)).isFalse();
  }
}
