package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import lodestep.magnet.Against;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

/** The exact discharge against a published worked example and the textbook's closed forms. */
class RlcTest {

  /** The example prints its amplitude to four digits. */
  private static final double HALF_A_DIGIT_AMPS = 0.5e-4;

  /**
   * Nilsson and Riedel, Electric Circuits, example 8.11 (from memory): 0.1 µF charged to 100 V, 100
   * mH, 560 Ω; i = 0.1042 e^(−2800 t) sin 9600 t amperes.
   */
  @Against(Against.Kind.FROM_MEMORY)
  @Test
  void followsThePublishedUnderdampedExample() {
    Rlc loop = new Rlc(560.0, 0.1, 0.1e-6);

    for (double seconds : new double[] {20e-6, 134.06e-6, 300e-6, 900e-6}) {
      double published = 0.1042 * Math.exp(-2800.0 * seconds) * Math.sin(9600.0 * seconds);
      assertThat(loop.over(seconds).current(0.0, 100.0))
          .as("current at %s s", seconds)
          .isCloseTo(published, within(HALF_A_DIGIT_AMPS));
    }
  }

  /** The same example's peak: 68.7 mA at 134.06 µs. */
  @Test
  void peaksWhereThePublishedExamplePeaks() {
    Rlc loop = new Rlc(560.0, 0.1, 0.1e-6);

    double peak = loop.over(134.06e-6).current(0.0, 100.0);

    assertThat(peak).isCloseTo(68.7e-3, within(0.05e-3));
    assertThat(loop.over(129e-6).current(0.0, 100.0)).isLessThan(peak);
    assertThat(loop.over(139e-6).current(0.0, 100.0)).isLessThan(peak);
  }

  /** Critical damping, i = (V/L) t e^(−αt): the textbook's own form for equal roots. */
  @Test
  void followsTheCriticalForm() {
    double ohms = 2.0 * Math.sqrt(1e-3 / 2e-3);
    double alpha = ohms / 2e-3;
    Rlc loop = new Rlc(ohms, 1e-3, 2e-3);

    double seconds = 1e-3;

    double expected = 300.0 / 1e-3 * seconds * Math.exp(-alpha * seconds);
    assertThat(loop.over(seconds).current(0.0, 300.0)).isCloseTo(expected, within(1e-6));
  }

  /**
   * Overdamped, i = V (e^(s1 t) − e^(s2 t)) / (L (s1 − s2)): the textbook's form for real roots.
   */
  @Test
  void followsTheOverdampedForm() {
    double alpha = 3.0 / 2e-3;
    double root = Math.sqrt(alpha * alpha - 1.0 / (1e-3 * 2e-3));
    double s1 = -alpha + root;
    double s2 = -alpha - root;
    double seconds = 2.5e-3;

    double current = new Rlc(3.0, 1e-3, 2e-3).over(seconds).current(0.0, 300.0);

    double expected =
        300.0 / (1e-3 * (s1 - s2)) * (Math.exp(s1 * seconds) - Math.exp(s2 * seconds));
    assertThat(current).isCloseTo(expected, within(1e-6));
  }

  @Property
  void comesToTheSameInOneStepOrTwo(
      @ForAll @DoubleRange(min = 0.01, max = 10.0) double ohms,
      @ForAll @IntRange(min = 1, max = 2000) int firstMicros,
      @ForAll @IntRange(min = 1, max = 2000) int secondMicros) {
    double first = firstMicros * 1e-6;
    double second = secondMicros * 1e-6;
    Rlc loop = new Rlc(ohms, 0.25e-3, 20e-3);
    Rlc.Transition a = loop.over(first);
    double amps = a.current(3.0, 40.0);
    double volts = a.voltage(3.0, 40.0);

    Rlc.Transition b = loop.over(second);
    Rlc.Transition whole = loop.over(first + second);

    assertThat(b.current(amps, volts)).isCloseTo(whole.current(3.0, 40.0), within(1e-9));
    assertThat(b.voltage(amps, volts)).isCloseTo(whole.voltage(3.0, 40.0), within(1e-9));
  }

  @Test
  void keepsItsEnergyWithoutResistance() {
    Rlc loop = new Rlc(0.0, 0.3e-3, 22e-3);

    Rlc.Transition step = loop.over(1.7e-3);

    double amps = step.current(0.0, 40.0);
    double volts = step.voltage(0.0, 40.0);
    double joules = 0.5 * 0.3e-3 * amps * amps + 0.5 * 22e-3 * volts * volts;
    assertThat(joules).isCloseTo(0.5 * 22e-3 * 1600.0, within(1e-9));
  }
}
