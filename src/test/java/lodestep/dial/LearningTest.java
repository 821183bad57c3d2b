package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: what a reading adds to an attempt after each kind of pulse. */
class LearningTest {

  private static Dial after(Attempt attempt, double tesla) {
    return Learning.afterReading(attempt.dial(), Attempt.reading(tesla));
  }

  private static Progress.Point point(double aperM, double tesla) {
    return new Progress.Point(aperM, tesla);
  }

  @Test
  void beginsItsCurveWithWhatItFinds() {
    Progress progress = after(new Attempt(), 0.08).progress();

    assertThat(progress.points()).containsExactly(point(0, 0.08));
    assertThat(progress.asFound()).contains(Attempt.reading(0.08));
    assertThat(progress.last()).contains(Attempt.reading(0.08));
    assertThat(progress.firstCharge()).isEmpty();
  }

  @Test
  void keepsTheFirstReadingAsFound() {
    Attempt attempt = new Attempt().charged(0.1);
    attempt.asFound = Optional.of(Attempt.reading(0.002));

    assertThat(after(attempt, 0.09).progress().asFound()).contains(Attempt.reading(0.002));
  }

  @Test
  void beginsItsCurveAnewWithACharge() {
    Attempt attempt = new Attempt().went(0, 0.1, 20_000, 0.05).after(Purpose.CHARGE, 4e5, false);
    attempt.pole = PoleUp.SOUTH;
    attempt.charges = 1;

    Progress progress = after(attempt, -0.1).progress();

    assertThat(progress.points()).containsExactly(point(0, 0.1));
    assertThat(progress.firstCharge()).contains(Attempt.reading(-0.1));
    // What was seen of it stays known.
    assertThat(progress.earlier()).containsExactly(List.of(point(0, 0.1), point(20_000, 0.05)));
  }

  /** A charge after a charge has shown nothing of the curve between them. */
  @Test
  void keepsNothingOfAChargeThatNoKnockDownFollowed() {
    Attempt attempt = new Attempt().went(0, 0.1).after(Purpose.CHARGE, 6e5, true);
    attempt.charges = 2;

    assertThat(after(attempt, 0.1).progress().earlier()).isEmpty();
  }

  private static Attempt chargedTwice(double first) {
    Attempt attempt = new Attempt().after(Purpose.CHARGE, 6e5, true);
    attempt.charges = 2;
    attempt.firstCharge = Optional.of(Attempt.reading(first));
    return attempt;
  }

  /** A hundredth is the limit (IEC 60404-5, from memory). */
  @ParameterizedTest
  @CsvSource({
    "0.0991, 0.1, true",
    "0.0989, 0.1, false",
    "0.1009, 0.1, true",
    "0.1011, 0.1, false",
    "-0.0991, -0.1, true",
    "-0.0989, -0.1, false"
  })
  void takesAChargeForFullWhenTheSecondMovedItLittle(double first, double second, boolean full) {
    Dial dial = after(chargedTwice(first), second);

    assertThat(dial.memory().chargeProven(Attempt.KIND)).isEqualTo(full);
    assertThat(dial.progress().points()).hasSize(1);
    assertThat(dial.progress().firstCharge()).contains(Attempt.reading(first));
  }

  @Test
  void provesNothingByTheFirstCharge() {
    Attempt attempt = chargedTwice(0.0999);
    attempt.charges = 1;

    assertThat(after(attempt, 0.1).memory().chargeProven()).isEmpty();
  }

  @Test
  void keepsTheFirstChargeWhereNothingIsLeftToProve() {
    Attempt attempt = chargedTwice(0.09).proven();

    assertThat(after(attempt, 0.1).progress().firstCharge()).contains(Attempt.reading(0.09));
  }

  @Test
  void takesTheSecondChargeForTheFirstWhenTheFirstWasNotRead() {
    Attempt attempt = chargedTwice(0.09);
    attempt.firstCharge = Optional.empty();

    Dial dial = after(attempt, 0.1);

    assertThat(dial.progress().firstCharge()).contains(Attempt.reading(0.1));
    assertThat(dial.memory().chargeProven()).isEmpty();
  }

  @Test
  void addsAPointForEachKnockDownAtTheLargestFieldSoFar() {
    Attempt attempt = new Attempt().went(0, 0.1, 20_000, 0.06);

    assertThat(after(attempt.after(Purpose.KNOCK_DOWN, 22_000, false), 0.05).progress().points())
        .containsExactly(point(0, 0.1), point(20_000, 0.06), point(22_000, 0.05));
    assertThat(after(attempt.after(Purpose.KNOCK_DOWN, 19_900, false), 0.0599).progress().points())
        .endsWith(point(20_000, 0.06), point(20_000, 0.0599));
  }

  @Test
  void addsAPointForAProofThatMovedIt() {
    Attempt attempt = new Attempt().went(0, 0.1, 20_000, 0.06).after(Purpose.PROOF, 17_000, false);
    attempt.beforeProof = Optional.of(Attempt.reading(0.06));

    Progress held = after(attempt, 0.05996).progress();
    assertThat(held.points()).hasSize(2);
    assertThat(held.counts().proofs()).isZero();
    Progress moved = after(attempt, 0.05995).progress();
    assertThat(moved.points()).endsWith(point(20_000, 0.05995));
    assertThat(moved.counts().proofs()).isEqualTo(1);
    attempt.beforeProof = Optional.empty();
    assertThat(after(attempt, 0.05).progress().points()).hasSize(2);
  }

  @Test
  void addsNothingForAPulseThatDemagnetises() {
    Attempt attempt = new Attempt().went(0, 0.1).after(Purpose.DEMAGNETISE, 9e4, false);

    Progress progress = after(attempt, 0.02).progress();

    assertThat(progress.points()).containsExactly(point(0, 0.1));
    assertThat(progress.last()).contains(Attempt.reading(0.02));
  }
}
