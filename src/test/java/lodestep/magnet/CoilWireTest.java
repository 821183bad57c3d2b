package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Copper: its resistance, and what warms it. */
class CoilWireTest {

  /** One square millimetre, one metre. */
  private static final CoilWire UNIT = new CoilWire(2e-3 / Math.sqrt(Math.PI), 1);

  private static Temperature degC(double degC) {
    return Temperature.ofDegC(degC);
  }

  /** IEC 60949 with K = 226 and β = 234.5, from memory; worked out beforehand. In A²s/mm⁴. */
  @Against(Against.Kind.FROM_MEMORY)
  @ParameterizedTest
  @CsvSource({
    "60, 7456",
    "105, 1.472e4",
    "130, 1.835e4",
    "155, 2.174e4",
    "180, 2.491e4",
    "1083, 8.398e4"
  })
  void theActionThatWarmsIsThatOfTheStandard(double toDegC, double expected) {
    double action = UNIT.actionAmpsSquaredSeconds(degC(20), degC(toDegC));

    assertThat(action).isCloseTo(expected, within(3e-4 * expected));
    assertThat(UNIT.after(degC(20), action).degC()).isCloseTo(toDegC, within(1e-6 * toDegC));
  }

  /**
   * I. M. Onderdonk's formula of fusing wire, from memory: (I/A)² · 33 t = log₁₀((Tm − Ta)/(234 +
   * Ta) + 1), A in circular mils.
   */
  @Against(Against.Kind.FROM_MEMORY)
  @ParameterizedTest
  @CsvSource({"20, 8.436e4", "40, 8.047e4"})
  void theActionThatMeltsIsThatOfAnotherFormula(double fromDegC, double expected) {
    double circularMils = 1 / (0.25 * Math.PI * 0.0254 * 0.0254);
    double melts = Math.log10((1083 - fromDegC) / (234 + fromDegC) + 1) / 33;
    double onderdonk = melts * circularMils * circularMils;

    double action = UNIT.actionAmpsSquaredSeconds(degC(fromDegC), degC(1083));

    assertThat(onderdonk).isCloseTo(expected, within(1e-3 * expected));
    assertThat(action).isCloseTo(onderdonk, within(0.01 * onderdonk));
  }

  /** dT = ρ(T) j² dt / c with ρ of IEC 60028 and 3.45 MJ/(K m³), step by step. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void theActionThatWarmsFollowsFromFirstPrinciples() {
    double temperature = 20;
    double action = 0;
    double step = 1;
    while (temperature < 130) {
      double ohmMetres = 1.7241e-8 * (1 + 3.93e-3 * (temperature - 20));
      temperature += ohmMetres * step * 1e12 / 3.45e6;
      action += step;
    }

    assertThat(UNIT.actionAmpsSquaredSeconds(degC(20), degC(130)))
        .isCloseTo(action, within(0.003 * action));
  }

  /**
   * American wire gauges, d = 0.127 mm · 92^((36 − n)/39) (ASTM B258, from memory): action from 20
   * to 130 °C, and resistance of a metre, both as in the usual tables, from memory.
   */
  @Against(Against.Kind.FROM_MEMORY)
  @ParameterizedTest
  @CsvSource({"20, 4916, 33.3e-3", "24, 769, 84.2e-3"})
  void wiresHaveTheFiguresOfTheirTable(int gauge, double action, double ohms) {
    double diameter = 0.127e-3 * Math.pow(92, (36 - gauge) / 39.0);
    CoilWire wire = new CoilWire(diameter, 1);

    assertThat(wire.actionAmpsSquaredSeconds(degC(20), degC(130)))
        .isCloseTo(action, within(2e-3 * action));
    assertThat(wire.ohmsAt(degC(20))).isCloseTo(ohms, within(2e-3 * ohms));
  }

  /** IEC 60028: 3.93 per mille for a kelvin at 20 °C. */
  @Against(Against.Kind.FROM_MEMORY)
  @Test
  void resistanceRisesWithTemperature() {
    assertThat(UNIT.ohmsAt(degC(20))).isCloseTo(1.0 / 58, within(1e-9));
    assertThat(UNIT.ohmsAt(degC(70)) / UNIT.ohmsAt(degC(20))).isCloseTo(1.1965, within(1e-9));
  }

  /** A small action warms by what it heats over what the copper holds. */
  @Test
  void aSmallPulseWarmsByItsHeat() {
    CoilWire wire = new CoilWire(0.8e-3, 12);
    double joules = 3;

    double rise = wire.after(degC(20), joules / wire.ohmsAt(degC(20))).degC() - 20;

    assertThat(rise).isCloseTo(joules / wire.heatJoulesPerKelvin(), within(0.005 * rise));
  }

  @Test
  void refusesWhatIsNoWire() {
    assertThatThrownBy(() -> new CoilWire(0, 1)).hasMessageContaining("diameter");
    assertThatThrownBy(() -> new CoilWire(1e-3, -1)).hasMessageContaining("length");
    assertThatThrownBy(() -> UNIT.after(degC(20), -1)).hasMessageContaining("0 or more");
  }
}
