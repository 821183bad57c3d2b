package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import java.util.stream.Stream;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TaskTest {

  private static FluxDensity gauss(double gauss) {
    return FluxDensity.ofGauss(gauss);
  }

  @ParameterizedTest
  @CsvSource({"700, 670", "-700, -670", "30.1, 0.1"})
  void comesDownByAnAmountOnEitherPole(double foundGauss, double leftGauss) {
    assertThat(new Drop.By(gauss(30)).from(gauss(foundGauss)).orElseThrow().gauss())
        .isCloseTo(leftGauss, within(1e-9));
  }

  @ParameterizedTest
  @CsvSource({"30", "-29.9", "0"})
  void doesNotComeDownThroughNothing(double foundGauss) {
    assertThat(new Drop.By(gauss(30)).from(gauss(foundGauss))).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({"700, 595", "-700, -595"})
  void comesDownByAPartOfWhatItReads(double foundGauss, double leftGauss) {
    assertThat(new Drop.ByPart(0.15).from(gauss(foundGauss)).orElseThrow().gauss())
        .isCloseTo(leftGauss, within(1e-9));
  }

  @Test
  void takesAPartAsToleranceOfTheLevelItComesTo() {
    Task.DownBy task = new Task.DownBy(new Drop.ByPart(0.15), new Tolerance.OfTarget(0.02));

    Task.ToLevel level = task.from(gauss(-700)).orElseThrow();

    assertThat(level.target().gauss()).isCloseTo(-595, within(1e-9));
    assertThat(level.tolerance().gauss()).isCloseTo(11.9, within(1e-9));
  }

  @Test
  void cannotComeDownToLessThanItsTolerance() {
    Task.DownBy task = new Task.DownBy(new Drop.By(gauss(30)), new Tolerance.Fixed(gauss(8)));

    assertThat(task.from(gauss(37.9))).isEmpty();
    assertThat(task.from(gauss(38.1))).isPresent();
  }

  @Test
  void refusesWhatCannotBeMeant() {
    assertRefused(() -> new Task.ToLevel(gauss(0), gauss(1)), "demagnetise");
    assertRefused(() -> new Task.ToLevel(gauss(-9), gauss(9)), "not between zero and the target");
    assertRefused(() -> new Task.ToLevel(gauss(9), gauss(0)), "not between zero and the target");
    assertRefused(() -> new Task.Demagnetise(gauss(0)), "not above zero");
    assertRefused(() -> new Drop.By(gauss(-1)), "not down");
    assertRefused(() -> new Drop.ByPart(1.5), "down by 150.0 % is not between");
    assertRefused(() -> new Drop.ByPart(Double.NaN), "not between");
    assertRefused(() -> new Tolerance.Fixed(gauss(0)), "not above zero");
    assertRefused(() -> new Tolerance.OfTarget(Double.NaN), "not between");
  }

  private static void assertRefused(Runnable making, String why) {
    assertThatThrownBy(making::run)
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining(why);
  }

  @ParameterizedTest
  @CsvSource({
    "12 %, 0.12",
    "12%, 0.12",
    ".5 per cent, 0.005",
    "1.25 percent, 0.0125",
    "-3 %, -0.03"
  })
  void readsPerCentAsWritten(String text, double fraction) {
    assertThat(Percent.fraction(text).orElseThrow()).isCloseTo(fraction, within(1e-15));
  }

  @Test
  void writesPerCentWithoutBinaryDust() {
    assertThat(Percent.words(0.07)).isEqualTo("7 %");
    assertThat(Percent.words(0.125)).isEqualTo("12.5 %");
    assertThat(Percent.fraction("12 G")).isEmpty();
    assertThat(Percent.fraction("%")).isEmpty();
  }

  @Test
  void signsALevelByThePole() {
    assertThat(PoleUp.NORTH.signed(gauss(-5))).isEqualTo(gauss(5));
    assertThat(PoleUp.SOUTH.signed(gauss(5))).isEqualTo(gauss(-5));
    assertThat(PoleUp.SOUTH.sign()).isEqualTo(-1);
  }

  @Test
  void saysEachTaskInWords() {
    Task level = new Task.ToLevel(gauss(-430), gauss(8));
    Task by = new Task.DownBy(new Drop.By(gauss(40)), new Tolerance.Fixed(gauss(8)));
    Task part = new Task.DownBy(new Drop.ByPart(0.12), new Tolerance.OfTarget(0.02));
    Task none = new Task.Demagnetise(gauss(5));

    assertThat(level.word() + ", " + level.targetWords() + ", " + level.toleranceWords())
        .isEqualTo("level, -430.0 G, 8.0 G");
    assertThat(by.word() + ", " + by.targetWords() + ", " + by.toleranceWords())
        .isEqualTo("down-by, down 40.0 G, 8.0 G");
    assertThat(part.targetWords() + ", " + part.toleranceWords()).isEqualTo("down 12 %, 2 %");
    assertThat(none.word() + ", " + none.targetWords() + ", " + none.toleranceWords())
        .isEqualTo("demagnetise, demagnetise, 5.0 G");
    Task full = new Task.FullCharge();
    assertThat(full.word() + ", " + full.targetWords() + ", " + full.toleranceWords())
        .isEqualTo("full-charge, full charge, 1 %");
    assertThat(Stream.of(level, by, none, full).map(Task::charges))
        .containsExactly(true, false, false, true);
  }

  @Test
  void writesAFractionInPartsPerMillion() {
    assertThat(Percent.partsPerMillion(0.15)).isEqualTo(150_000);
    assertThat(Percent.partsPerMillion(-1.6e-6)).isEqualTo(-2);
  }

  @Test
  void hasAWordForEachPurposeVerdictAndMode() {
    assertThat(Purpose.values())
        .extracting(Purpose::word)
        .containsExactly("charge", "knock down", "demagnetise", "proof");
    assertThat(Verdict.values())
        .extracting(Verdict::word)
        .containsExactly("accepted", "refused", "recharge needed", "tripped");
    assertThat(PlannerMode.values())
        .extracting(PlannerMode::word)
        .containsExactly("expected curve", "small steps");
    assertThat(PoleUp.SOUTH.word()).isEqualTo("south");
  }

  @Test
  void takesTheToleranceOfALevelJustBelowIt() {
    assertThat(new Task.ToLevel(gauss(-9), gauss(8.9)).tolerance()).isEqualTo(gauss(8.9));
    assertThat(
            new Task.DownBy(new Drop.By(gauss(30)), new Tolerance.Fixed(gauss(8))).from(gauss(38)))
        .isEmpty();
    assertRefused(() -> new Drop.By(gauss(0)), "not down");
    assertRefused(() -> new Drop.ByPart(0), "not between");
    assertRefused(() -> new Tolerance.OfTarget(0), "not between");
    assertRefused(() -> new Tolerance.OfTarget(1), "the tolerance 100.0 % is not between");
    assertRefused(() -> new Drop.ByPart(1), "demagnetise");
  }

  @Test
  void knowsWhatWasChargedBeforeItWasPutIn() {
    Attempt attempt = new Attempt();
    assertThat(attempt.work().chargedBeforeSeated()).isFalse();
    attempt.charge = Optional.empty();
    assertThat(attempt.work().chargedBeforeSeated()).isTrue();
    attempt.task = Attempt.downBy(0.01, 0.001);
    assertThat(attempt.work().chargedBeforeSeated()).isFalse();

    assertThat(attempt.work().source(Purpose.PROOF)).isEqualTo(attempt.knockDown);
    assertThatThrownBy(() -> attempt.work().source(Purpose.CHARGE))
        .isInstanceOf(IllegalStateException.class);
  }

  @Test
  void countsEachPulseByItsPurposeAndAChargeAfterAKnockDownAsANewOne() {
    Progress fresh = new Attempt().went(0, 0.1).progress();
    Progress knocked = new Attempt().went(0, 0.1, 9_000, 0.09).progress();

    assertThat(fresh.counting(Purpose.CHARGE).counts())
        .isEqualTo(new Progress.Counts(1, 1, 0, 0, 0, 0));
    assertThat(knocked.counting(Purpose.CHARGE).counts())
        .isEqualTo(new Progress.Counts(1, 1, 0, 1, 0, 0));
    assertThat(knocked.counting(Purpose.KNOCK_DOWN).counts())
        .isEqualTo(new Progress.Counts(1, 0, 1, 0, 0, 0));
    assertThat(knocked.counting(Purpose.DEMAGNETISE).counts())
        .isEqualTo(new Progress.Counts(1, 0, 0, 0, 1, 0));
    assertThat(knocked.counting(Purpose.PROOF).counts())
        .isEqualTo(new Progress.Counts(1, 0, 0, 0, 0, 0));
    assertThat(knocked.counts().plusRecharge().plusMovedProof())
        .isEqualTo(new Progress.Counts(0, 0, 0, 1, 0, 1));
  }

  @Test
  void cannotComeDownToTheVeryWidthOfItsTolerance() {
    FluxDensity quarter = new FluxDensity(0.25);
    Task.DownBy task = new Task.DownBy(new Drop.By(quarter), new Tolerance.Fixed(quarter));

    assertThat(task.from(new FluxDensity(0.5))).isEmpty();
    assertThat(task.from(new FluxDensity(0.75))).isPresent();
  }

  @Test
  void remembersTheReadingBeforeAProofAndTheFieldThatDemagnetised() {
    Progress read = new Attempt().reads(0.06).progress();
    FieldStrength field = new FieldStrength(9_000);
    Progress proof = read.fired(new Move.Fire(Purpose.PROOF, field, false));
    Progress knocked = proof.fired(new Move.Fire(Purpose.KNOCK_DOWN, field, false));

    assertThat(proof.beforeProof()).isEqualTo(read.last());
    assertThat(read.fired(new Move.Fire(Purpose.CHARGE, field, true)).beforeProof()).isEmpty();
    assertThat(knocked.beforeProof()).isEqualTo(read.last());
    assertThat(knocked.largestDemagnetisingAperM()).isZero();
    assertThat(
            read.fired(new Move.Fire(Purpose.DEMAGNETISE, field, true)).largestDemagnetisingAperM())
        .isEqualTo(9_000);
  }
}
