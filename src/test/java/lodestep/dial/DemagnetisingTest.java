package lodestep.dial;

import static lodestep.dial.Moves.assertEnds;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: each decision on the way to a magnet without charge, with a coil and with a jig. */
class DemagnetisingTest {

  /** Of a saturating field of 200 kA/m and a coercivity of 40: see {@link LaddersTest}. */
  private static final int COARSE = 17;

  private static final int ALL = 52;

  /** Uncharged is at most 0.5 mT, two uncertainties of 10 µT counted in. */
  private static Attempt attempt(int made, double tesla) {
    Attempt attempt = new Attempt().reads(tesla).went(0, tesla);
    attempt.task = new Task.Demagnetise(new FluxDensity(0.5e-3));
    attempt.demagnetising = made;
    attempt.pulses = made;
    return attempt;
  }

  private static Attempt after(int made, double tesla, double aperM, boolean north) {
    return attempt(made, tesla).after(Purpose.DEMAGNETISE, aperM, north);
  }

  private static void assertFires(Move move, double aperM, boolean north) {
    Moves.assertFires(move, Purpose.DEMAGNETISE, aperM, north);
  }

  @ParameterizedTest
  @CsvSource({"0.00047", "-0.00047"})
  void acceptsWhatCameUncharged(double tesla) {
    assertEnds(attempt(0, tesla).next(), Verdict.ACCEPTED, "uncharged as it came");
  }

  @ParameterizedTest
  @CsvSource({"0.00049, false", "-0.00049, true"})
  void beginsAgainstWhatItReads(double tesla, boolean north) {
    assertFires(attempt(0, tesla).next(), 200_000, north);
  }

  @Test
  void turnsTheFieldOverWithEachPulse() {
    assertFires(after(1, 0.05, 200_000, false).next(), 160_000, true);
    assertFires(after(2, 0.05, 160_000, true).next(), 128_000, false);
  }

  @Test
  void readsOnlyAtTheEndOfALadder() {
    assertFires(after(1, 0.0001, 200_000, false).next(), 160_000, true);
    assertEnds(
        after(COARSE, 0.0004, 5_600, false).next(),
        Verdict.ACCEPTED,
        "uncharged after 17 falling pulses");
    assertFires(after(COARSE, 0.0006, 5_600, false).next(), 100_000, true);
    assertEnds(
        after(ALL, -0.0004, 5_900, false).next(),
        Verdict.ACCEPTED,
        "uncharged after 52 falling pulses");
  }

  @Test
  void trimsWhatTheLaddersLeft() {
    assertFires(after(ALL, 0.002, 5_900, true).next(), 24_000, false);
    // The ladder's last pulse may have gone either way.
    assertFires(after(ALL, -0.002, 5_900, false).next(), 24_000, true);
    assertFires(after(ALL + 1, 0.0015, 24_000, false).next(), 25_200, false);
    assertEnds(
        after(ALL + 1, 0.0004, 24_000, false).next(),
        Verdict.ACCEPTED,
        "52 falling pulses and 1 that took off the rest");
  }

  @Test
  void endsWhereTrimmingTurnedItOver() {
    assertEnds(
        after(ALL + 1, -0.0015, 24_000, false).next(),
        Verdict.REFUSED,
        "it still reads -15.0 G after 52 falling pulses and 1");
  }

  @Test
  void endsWhereTrimmingComesToTheFineLaddersFirst() {
    // 24 kA/m x 1.05^29 is 98.8, and x 1.05^30 is 103.7.
    assertFires(after(ALL + 29, 0.002, 94_000, false).next(), 98_787, false);
    assertEnds(after(ALL + 30, 0.002, 98_787, false).next(), Verdict.REFUSED, "still reads 20.0 G");
  }

  @Test
  void refusesASourceWeakerThanTheCoercivity() {
    Attempt attempt = attempt(0, 0.05);
    attempt.knockDown = Attempt.onSupply(32.0, 16.0, 8.0);
    attempt.coercivityAperM = 60_000;
    assertFires(attempt.next(), 60_000, false);

    attempt.coercivityAperM = 60_001;
    assertEnds(
        attempt.next(),
        Verdict.REFUSED,
        "demagnetising needs more than 60.0 kA/m; this coil reaches 60.0 kA/m");
  }

  // A jig whose opposing magnet takes from the north.

  private static Attempt byJig(Attempt attempt) {
    attempt.knockDown = Attempt.onJig(false, 40);
    return attempt;
  }

  @Test
  void takesASafeStepTowardsTheNeutralPointWithAJig() {
    // 0.8 of the way to 0.3 of the half width of 0.48 mT, from a magnet of 100 mT; no north field.
    assertFires(byJig(attempt(0, 0.02)).next(), 0.8 * (0.02 - 0.3 * 0.48e-3) / 2e-6, false);
    assertFires(
        byJig(after(1, 0.02, 3_000, false)).next(),
        3_000 + 0.8 * (0.02 - 0.3 * 0.48e-3) / 2e-6,
        false);
    // A magnet stronger than was expected falls faster.
    assertFires(byJig(attempt(0, 0.2)).next(), 0.8 * (0.2 - 0.3 * 0.48e-3) / 4e-6, false);
  }

  @Test
  void aimsForHalfOfTheLimitAtLeast() {
    Attempt attempt = byJig(attempt(0, 0.02));
    attempt.last = Optional.of(Attempt.reading(0.02, 0.2e-3));

    assertFires(attempt.next(), 0.8 * (0.02 - 0.3 * 0.25e-3) / 2e-6, false);
  }

  @Test
  void acceptsAtTheNeutralPoint() {
    assertEnds(byJig(attempt(0, 0.00047)).next(), Verdict.ACCEPTED, "uncharged as it came");
    assertEnds(
        byJig(after(3, -0.00047, 9_000, false)).next(),
        Verdict.ACCEPTED,
        "uncharged after 3 strokes");
    assertThat(byJig(attempt(0, 0.00049)).next()).isInstanceOf(Move.Fire.class);
  }

  @Test
  void refusesTheFaceThatTheJigDoesNotTakeFrom() {
    assertEnds(
        byJig(attempt(0, -0.00049)).next(),
        Verdict.REFUSED,
        "or turn this magnet over in its nest");
    assertEnds(
        byJig(after(1, -0.00049, 9_000, false)).next(),
        Verdict.RECHARGE_NEEDED,
        "went past the neutral point");
  }

  @Test
  void worksTowardsTheSouthWithTheOpposingMagnetTurnedOver() {
    Attempt attempt = attempt(0, -0.02);
    attempt.knockDown = Attempt.onJig(true, 40);

    assertFires(attempt.next(), 0.8 * (0.02 - 0.3 * 0.48e-3) / 2e-6, true);
  }

  @Test
  void refusesAFieldThatTheJigDoesNotReach() {
    // Its lowest place but one gives 1,000 A/m x 2^(292 / 32): 558 kA/m.
    Attempt near = byJig(after(1, 0.02, 550_000, false));
    assertThat(near.next()).isInstanceOf(Move.Fire.class);

    Attempt far = byJig(after(1, 0.02, 555_000, false));
    assertEnds(far.next(), Verdict.REFUSED, "this jig reaches 558.3 kA/m");
  }

  @Test
  void acceptsAReadingOfTheVeryLimit() {
    Attempt byCoil = attempt(0, 0.5e-3);
    byCoil.last = Optional.of(Attempt.reading(0.5e-3, 0));
    Attempt byJig = byJig(attempt(0, 0.5e-3));
    byJig.last = byCoil.last;

    assertEnds(byCoil.next(), Verdict.ACCEPTED, "uncharged as it came");
    assertEnds(byJig.next(), Verdict.ACCEPTED, "uncharged as it came");
  }
}
