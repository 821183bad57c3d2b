package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: what those who watch are shown of the magnet at work, and of which nothing. Method:
 * attempts on magnets that fall by an even 2 µT for each A/m from 100 mT.
 */
class ForeseenTest {

  /** Half of the full charge is left by 25 kA/m, a fifth by 40. */
  @Test
  void showsTheNominalCurveOfAChargedMagnetOfWhichNothingMoreIsKnown() {
    List<Explained.FieldFor> curve = Foreseen.curve(new Attempt().charged(0.1).dial());

    assertThat(fieldFor(curve, 0.05)).isCloseTo(25_000, within(1e-6));
    assertThat(fieldFor(curve, 0.02)).isCloseTo(40_000, within(1e-6));
  }

  /** The levels shown are parts of what it read when full, not of what it reads now. */
  @Test
  void showsTheCurveFromTheFullChargeDownwardsAfterAKnockDownToo() {
    List<Explained.FieldFor> curve = Foreseen.curve(new Attempt().knocked(22_000, 0.06).dial());

    // It needed a tenth more than the nominal magnet, and is shown to.
    assertThat(fieldFor(curve, 0.06)).isCloseTo(22_000, within(100.0));
    assertThat(curve.get(0).level().tesla()).isGreaterThan(0.09).isLessThan(0.1);
  }

  private static double fieldFor(List<Explained.FieldFor> curve, double tesla) {
    return curve.stream()
        .filter(point -> Math.abs(point.level().tesla() - tesla) < 1e-9)
        .findFirst()
        .orElseThrow()
        .expected()
        .amperesPerMetre();
  }

  @Test
  void showsNoCurveBeforeTheMagnetIsChargedAndRead() {
    Attempt notRead = new Attempt().went(0, 0.1);
    Attempt notCharged = new Attempt().reads(0.1);

    assertThat(Foreseen.curve(notRead.dial())).isEmpty();
    assertThat(Foreseen.curve(notCharged.dial())).isEmpty();
  }

  @Test
  void showsNoCurveOfAMagnetThatIsNotBroughtToALevel() {
    Attempt down = new Attempt().charged(0.1);
    down.task = Attempt.downBy(0.04, 0.001);

    assertThat(Foreseen.curve(down.dial())).isEmpty();
  }

  /** Three tenths of the 100 mT of a nominal full charge are too little for any charge. */
  @ParameterizedTest
  @CsvSource({"0.0301, true", "0.0299, false"})
  void showsNoCurveOfAMagnetThatDidNotTakeItsCharge(double tesla, boolean shown) {
    Attempt attempt = new Attempt().charged(tesla);

    assertThat(Foreseen.curve(attempt.dial()).isEmpty()).isNotEqualTo(shown);
  }

  @Test
  void showsNoCurveWhereAnEarlierChargeOfItsWasNotTaken() {
    Attempt attempt = new Attempt().charged(0.1);
    attempt.earlier = List.of(List.of());
    assertThat(Foreseen.curve(attempt.dial())).isEmpty();

    attempt.earlier = List.of(new Attempt().went(0, 0.01, 20_000, 0.005).points);
    assertThat(Foreseen.curve(attempt.dial())).isEmpty();

    attempt.earlier = List.of(new Attempt().went(0, 0.1, 20_000, 0.06).points);
    assertThat(Foreseen.curve(attempt.dial())).isNotEmpty();
  }

  // What it is judged by.

  private static Optional<Task.ToLevel> level(Task task) {
    Attempt attempt = new Attempt().reads(0.06);
    attempt.task = task;
    return Foreseen.level(attempt.dial());
  }

  @Test
  void tellsTheLevelThatIsAskedOnEitherPole() {
    assertThat(level(Attempt.level(0.06, 0.001)))
        .contains((Task.ToLevel) Attempt.level(0.06, 0.001));
    assertThat(level(Attempt.level(-0.06, 0.001)))
        .contains((Task.ToLevel) Attempt.level(-0.06, 0.001));
  }

  /** It reads 90 mT as found, so that 40 mT less are 50. */
  @Test
  void tellsTheLevelThatAMagnetIsToComeDownToOnceItWasFound() {
    Attempt attempt = new Attempt();
    attempt.task = Attempt.downBy(0.04, 0.001);
    assertThat(Foreseen.level(attempt.dial())).isEmpty();

    attempt.asFound = Optional.of(Attempt.reading(0.09));
    Task.ToLevel level = Foreseen.level(attempt.dial()).orElseThrow();
    assertThat(level.target().tesla()).isCloseTo(0.05, within(1e-12));
    assertThat(level.tolerance().tesla()).isCloseTo(0.001, within(1e-12));
  }

  @Test
  void tellsNoLevelWhereNothingIsToBeLeftOrAFullChargeIsAsked() {
    assertThat(level(new Task.Demagnetise(new FluxDensity(0.5e-3)))).isEmpty();
    assertThat(level(new Task.FullCharge())).isEmpty();
  }

  @Test
  void tellsWhatANominalMagnetOfItsKindReadsWhenFull() {
    assertThat(Foreseen.expectedFull(new Attempt().dial())).isEqualTo(new FluxDensity(0.1));
  }
}
