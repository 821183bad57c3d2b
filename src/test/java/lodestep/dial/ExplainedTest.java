package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Collections;
import java.util.List;
import lodestep.magnet.CurveFamily;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;

/**
 * Goal: what is told of a dialed magnet is what the planner went by. Method: magnets that fall by
 * an even 2 µT for each A/m from 100 mT and need a tenth more field.
 */
class ExplainedTest {

  private static final MagnetCurve OWN =
      new MagnetCurve(
          List.of(
              new Attempt().went(0, 0.1, 17_600, 0.068, 24_000, 0.0564).points,
              new Attempt().went(0, 0.1, 21_500, 0.0609).points));

  private static Explained explained(List<MagnetCurve> lot) {
    return Explained.of(
        CurveFamily.stretched(Attempt.EVEN, Attempt.SPREAD),
        new FluxDensity(0.1),
        Attempt.ON_BANK,
        new FieldStrength(40_000),
        new FluxDensity(0.06),
        lot,
        OWN);
  }

  @Test
  void tellsEachPulseOfEachChargeInItsOrder() {
    Explained explained = explained(List.of());

    assertThat(explained.taughtBy()).isZero();
    assertThat(explained.steps()).hasSize(3);
    assertThat(explained.steps().stream().map(Explained.Step::charge)).containsExactly(1, 1, 2);
    assertThat(explained.steps().get(2).read().tesla()).isEqualTo(0.0609);
  }

  /** By alloy and shape alone: 17.6 kA/m of 50 would leave 64.8 mT, known to a tenth of 35.2. */
  @Test
  void expectsTheNominalCurveBeforeTheFirstPulse() {
    Explained.Step first = explained(List.of()).steps().get(0);

    assertThat(first.expected().tesla()).isCloseTo(0.0648, within(1e-6));
    assertThat(first.uncertainty().tesla()).isCloseTo(0.00352, withinPercentage(8));
    // It left 68 mT, so it needs a tenth more than the curve: 22 kA/m to the target.
    assertThat(first.toTarget().expected().amperesPerMetre())
        .isCloseTo(22_000, withinPercentage(1));
    assertThat(first.toTarget().least()).isLessThan(first.toTarget().expected());
    assertThat(first.toTarget().most()).isGreaterThan(first.toTarget().expected());
  }

  @Test
  void knowsAfterItsReadingsWhatItDidNotBefore() {
    Explained explained = explained(List.of());
    int half = 10;

    assertThat(explained.before().get(half).level().tesla()).isCloseTo(0.05, within(1e-9));
    assertThat(explained.before().get(half).expected().amperesPerMetre())
        .isCloseTo(25_000, within(1e-6));
    assertThat(explained.after().get(half).expected().amperesPerMetre())
        .isCloseTo(27_500, withinPercentage(1));
    assertThat(width(explained.after().get(half))).isLessThan(width(explained.before().get(half)));
  }

  @Test
  void expectsFromTheFirstWhatItsLotHasShown() {
    MagnetCurve alike = new MagnetCurve(List.of(new Attempt().went(0, 0.1, 22_000, 0.06).points));
    Explained explained = explained(Collections.nCopies(6, alike));

    assertThat(explained.taughtBy()).isEqualTo(6);
    assertThat(explained.steps().get(0).expected().tesla()).isCloseTo(0.068, within(2e-4));
  }

  private static double width(Explained.FieldFor field) {
    return field.most().amperesPerMetre() / field.least().amperesPerMetre();
  }
}
