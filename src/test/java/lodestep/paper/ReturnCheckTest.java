package lodestep.paper;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import lodestep.paper.ReturnCheck.Doubts;
import lodestep.paper.ReturnCheck.Pole;
import lodestep.paper.ReturnCheck.Reading;
import lodestep.paper.ReturnCheck.Result;
import lodestep.paper.ReturnCheck.Verdict;
import org.junit.jupiter.api.Test;

/** Goal: a return check says what the readings bear, and no more. */
class ReturnCheckTest {

  private static final double GAUSS = 1e-4;

  private static Pole pole(long number, double then, double now, double u, double degC) {
    return new Pole(
        number,
        new Reading(then * GAUSS, u * GAUSS, 20),
        new Reading(now * GAUSS, u * GAUSS, degC));
  }

  /**
   * One pole worked by hand, after JCGM 100:2008, 5.1.2. Then 400 G at 20 °C, now 392 G at 25 °C,
   * each with u = 0.4 G; the coefficient is −0.020 ± 0.010 per cent a kelvin, placement 0.4 per
   * cent, common 0.14 per cent, ageing 0.1 per cent, and 1.5 per cent counts.
   *
   * <p>392 G / (1 − 0.0002 · 5) = 392.392 G; 392.392 / 400 − 1 = −1.902 per cent. u² = (0.98098 ·
   * 0.001)² + 0.001² + (0.0001 · 5)² + 0.004² (1 + 0.98098²) + 0.0014² = 35.570 · 10⁻⁶, u = 0.5964
   * per cent. With the ageing's 0.1 / √3 per cent: 0.5992 per cent. (−1.5 + 1.802) / 0.5992 =
   * 0.504, and the normal distribution there is 0.6929, by the usual table (0.50: 0.6915, 0.51:
   * 0.6950).
   */
  @Test
  void agreesWithAPoleWorkedByHand() {
    Result result =
        new ReturnCheck(
                List.of(pole(1, 400, 392, 0.4, 25)),
                new Doubts(0.004, 0.0014, -0.0002, 0.0001),
                0.001,
                0.015)
            .result();

    ReturnCheck.Change change = result.poles().get(0);
    assertThat(change.change()).isCloseTo(-0.019019, within(1e-6));
    assertThat(change.u()).isCloseTo(0.005964, within(1e-6));
    assertThat(change.odds().lost()).isCloseTo(0.6929, within(2e-4));
    assertThat(change.odds().gained()).isLessThan(1e-6);
    assertThat(result.verdict()).isEqualTo(Verdict.CANNOT_TELL);
    assertThat(result.probability()).isEqualTo(change.odds().lost());
  }

  private static final Doubts USUAL = new Doubts(0.004, 0.0014, -0.0002, 0.0001);

  private static Result of(double... parts) {
    List<Pole> poles = new ArrayList<>();
    for (int at = 0; at < parts.length; at++) {
      poles.add(pole(at + 1, 420, 420 * (1 + parts[at]), 0.4, 21));
    }
    return new ReturnCheck(poles, USUAL, 0.0005, 0.015).result();
  }

  @Test
  void findsAllPolesLowerAndOnePoleLower() {
    Result all = of(-0.03, -0.032, -0.029, -0.031, -0.03, -0.028);
    Result one = of(0, 0.002, -0.045, -0.001, 0.001, 0);

    assertThat(all.verdict()).isEqualTo(Verdict.LOST);
    assertThat(all.decided().pole()).isZero();
    assertThat(one.verdict()).isEqualTo(Verdict.LOST);
    assertThat(one.decided().pole()).isEqualTo(3);
    assertThat(of(0.04, 0.041, 0.039).verdict()).isEqualTo(Verdict.GAINED);
    assertThat(of(0.001, -0.002, 0.003, 0, -0.001, 0.001).verdict()).isEqualTo(Verdict.UNCHANGED);
  }

  /** A pole that was charged the other way has lost all and more. */
  @Test
  void takesAReversedPoleForALoss() {
    assertThat(of(0, 0, -2, 0).verdict()).isEqualTo(Verdict.LOST);
  }

  @Test
  void doesNotTakeExpectedAgeingForALoss() {
    List<Pole> poles = List.of(pole(1, 400, 390, 0.2, 20), pole(2, 400, 390, 0.2, 20));
    Doubts sure = new Doubts(0.0005, 0.0005, 0, 0);

    assertThat(new ReturnCheck(poles, sure, 0, 0.01).result().verdict()).isEqualTo(Verdict.LOST);
    assertThat(new ReturnCheck(poles, sure, 0.025, 0.02).result().verdict())
        .isNotEqualTo(Verdict.LOST);
  }

  /** Two thousand returned pickups each: how often the verdict is wrong. */
  @Test
  void isSeldomWrongOfPickupsWhoseTruthIsKnown() {
    SplittableRandom random = new SplittableRandom(41);
    int wronglyLost = 0;
    int wronglyUnchanged = 0;
    int told = 0;
    for (int pickup = 0; pickup < 2_000; pickup++) {
      Verdict same = drawn(random, 0).verdict();
      Verdict weaker = drawn(random, -0.03).verdict();
      wronglyLost += same == Verdict.LOST || same == Verdict.GAINED ? 1 : 0;
      wronglyUnchanged += weaker == Verdict.UNCHANGED ? 1 : 0;
      told += same == Verdict.UNCHANGED ? 1 : 0;
    }

    assertThat(wronglyLost).as("of 2,000 unchanged").isLessThan(20);
    assertThat(wronglyUnchanged).as("of 2,000 that lost 3 per cent").isLessThan(5);
    // One of its six poles is out by more than 1.5 per cent, 2.53 standard deviations, in 6.9 per
    // cent of them: 1,862 are left, give or take 11.
    assertThat(told).as("of 2,000 unchanged, told so").isBetween(1_817, 1_907);
  }

  private static Result drawn(SplittableRandom random, double truth) {
    double gauge = random.nextGaussian() * USUAL.common();
    List<Pole> poles = new ArrayList<>();
    for (int number = 1; number <= 6; number++) {
      double placed = USUAL.placement();
      double then = 420 * (1 + placed * random.nextGaussian()) + 0.4 * random.nextGaussian();
      double now =
          420 * (1 + truth) * (1 + placed * random.nextGaussian() + gauge)
              + 0.4 * random.nextGaussian();
      poles.add(pole(number, then, now, 0.4, 20));
    }
    return new ReturnCheck(poles, USUAL, 0, 0.015).result();
  }

  @Test
  void refusesWhatHasNoMeaning() {
    assertThatIllegalArgumentException()
        .isThrownBy(() -> new ReturnCheck(List.of(), USUAL, 0, 0.01));
    assertThatIllegalArgumentException()
        .isThrownBy(() -> new ReturnCheck(List.of(pole(2, 0, 390, 0.2, 20)), USUAL, 0, 0.01))
        .withMessageContaining("pole 2 read nothing then");
    assertThatIllegalArgumentException()
        .isThrownBy(() -> new ReturnCheck(List.of(pole(1, 1, 1, 0, 20)), USUAL, Double.NaN, 0.01));
  }
}
