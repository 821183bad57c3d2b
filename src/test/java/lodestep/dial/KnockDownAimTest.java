package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import lodestep.magnet.KnockDownCurve;
import lodestep.quantity.FieldStrength;
import org.junit.jupiter.api.Test;

/**
 * Goal: the next pulse's field, against figures reckoned by hand. Method: a curve that falls evenly
 * by 2 µT for each A/m from 100 mT, a target of 60 mT and an accepted half width of 1 mT: the aim
 * is at 60.3 mT.
 */
class KnockDownAimTest {

  private static final double AIM = 0.0603;

  private static final KnockDownAim EVEN = new KnockDownAim(Attempt.EVEN, 0.06, 0.001);

  private static List<Progress.Point> points(double... fieldAndLevel) {
    return new Attempt().went(fieldAndLevel).points;
  }

  @Test
  void countsEqualStepsFromTheLastPulseOn() {
    assertThat(EVEN.equalStep(points(0, 0.1))).isCloseTo(500, within(1e-6));
    assertThat(EVEN.equalStep(points(0, 0.1, 4_000, 0.095))).isCloseTo(4_500, within(1e-6));
    // A weaker magnet falls by less for an ampere per metre.
    assertThat(EVEN.equalStep(points(0, 0.08))).isCloseTo(625, within(1e-6));
  }

  @Test
  void takesTheSteepestPlaceOfTheCurveForASafeStep() {
    List<Double> fractions = new ArrayList<>(List.of(1.0, 0.95, 0.7, 0.2, 0.1));
    KnockDownCurve steep = new KnockDownCurve(new FieldStrength(10_000), fractions);
    KnockDownAim aim = new KnockDownAim(steep, 0.06, 0.001);

    // At most half of the charge in 10 kA/m; the charge is the larger of both.
    assertThat(aim.safeStep(points(3_000, 0.09), 0.1))
        .isCloseTo(3_000 + 0.8 * (0.09 - AIM) / (0.5 * 0.1 / 10_000), within(0.1));
    assertThat(aim.safeStep(points(3_000, 0.09), 0.05))
        .isCloseTo(3_000 + 0.8 * (0.09 - AIM) / (0.5 * 0.09 / 10_000), within(0.1));
  }

  @Test
  void takesTheWorstEndOfAStepFromTheSteepestPlace() {
    // 5 kA/m at 2 µT each of a magnet of 0.1 T, and steeper by 1.15.
    assertThat(EVEN.lowestAfter(7_000, points(2_000, 0.0995), 0.09))
        .isCloseTo(0.0995 - 1.15 * 5_000 * 2e-6 * 0.995, within(1e-9));
    // The nominal full charge where that is the larger.
    assertThat(EVEN.lowestAfter(5_000, points(0, 0.1), 0.12))
        .isCloseTo(0.1 - 1.15 * 5_000 * 2e-6 * 1.2, within(1e-9));
  }
}
