package lodestep.dial;

import static lodestep.dial.Moves.assertEnds;
import static lodestep.dial.Moves.assertFires;

import java.util.List;
import java.util.Optional;
import lodestep.magnet.KnockDownCurve;
import lodestep.quantity.FieldStrength;
import org.junit.jupiter.api.Test;

/**
 * Goal: which of the fields that a source has is taken on the way down, and what is refused.
 * Method: magnets that fall by an even 2 µT for each A/m from 100 mT, after eight of their kind
 * that did so; then 20 kA/m are known to lead to 60 mT within 2 per cent of the field, so that one
 * in a hundred lies 2 mT off. The coil on its supply has the levels 6.67, 12, 16.36 and 20 kA/m.
 */
class ApproachStepsTest {

  private static Attempt ofKnownKind(double targetTesla, double toleranceTesla) {
    Attempt attempt = new Attempt();
    MagnetCurve nominal = new MagnetCurve(List.of(new Attempt().went(0, 0.1, 20_000, 0.06).points));
    for (int i = 0; i < 8; i++) {
      attempt.memory = attempt.memory.with(Attempt.KIND, nominal);
    }
    attempt.proven();
    attempt.task = Attempt.level(targetTesla, toleranceTesla);
    return attempt;
  }

  private static Attempt inLevels(Attempt attempt) {
    attempt.knockDown = Attempt.onSupply(32.0, 16.0, 8.0);
    return attempt;
  }

  private static Attempt surviving(Attempt attempt, double aperM) {
    attempt.keep = new Keep(Optional.empty(), Optional.of(new FieldStrength(aperM)));
    return attempt;
  }

  // Levels with nothing between them.

  /**
   * 16.36 kA/m would leave 67.3 mT; 20 leave 60, and 58 at the worst; 56.5 to 64.5 are accepted.
   */
  @Test
  void skipsALevelThatWouldStopShortWhereTheNextOneIsSafe() {
    Attempt attempt = inLevels(ofKnownKind(0.0605, 0.004).charged(0.1));

    assertFires(attempt.next(), Purpose.KNOCK_DOWN, 20_000, false);
  }

  /**
   * With 52.5 to 68.5 mT accepted both end inside: the weaker one does not aim beyond the target.
   */
  @Test
  void takesALevelThatEndsInsideAndNotTheNextOne() {
    Attempt attempt = inLevels(ofKnownKind(0.0605, 0.008).charged(0.1));

    assertFires(attempt.next(), Purpose.KNOCK_DOWN, 16_363.6, false);
  }

  /** It reads 86.7 mT after the first level; the next one leaves 76. */
  @Test
  void refusesWhereTheNextLevelEndsBelow() {
    Attempt attempt = inLevels(ofKnownKind(0.082, 0.002).knocked(6_666.7, 0.0866666));

    assertEnds(
        attempt.next(),
        Verdict.REFUSED,
        "no step of this coil ends inside the tolerance: it reads 866.7 G",
        "the next field, 12.0 kA/m, may take it down to 75");
  }

  /**
   * Up to 7 kA/m it falls steeply, to 60 mT, and then by 2 mT for each 3.5 kA/m. The first level is
   * expected to leave 61.9 mT, and the field that leaves the 57.5 mT allowed is two thirds
   * stronger: no doubt of a tenth of the field brings it there, though it is 9 mT by the slope at
   * the level.
   */
  @Test
  void takesTheWeakestLevelWhereTheCurveIsFlatBeyondIt() {
    Attempt attempt = inLevels(new Attempt().charged(0.1));
    attempt.curve =
        new KnockDownCurve(
            new FieldStrength(3_500), List.of(1.0, 0.8, 0.6, 0.58, 0.56, 0.54, 0.5, 0.4, 0.0));
    attempt.task = Attempt.level(0.058, 0.0005);

    assertFires(attempt.next(), Purpose.KNOCK_DOWN, 6_666.7, false);
  }

  // Equal small steps, for which nothing is expected: a step falls by 2.3 µT for each A/m at most.

  private static Attempt bySmallSteps(double targetTesla, double toleranceTesla) {
    Attempt attempt = inLevels(ofKnownKind(targetTesla, toleranceTesla).charged(0.1));
    attempt.mode = PlannerMode.SMALL_STEPS;
    return attempt;
  }

  /** The first level takes 100 mT down to 84.67 mT at the worst. */
  @Test
  void takesALongerStepThanWantedWhereEvenItsWorstEndIsInside() {
    assertFires(bySmallSteps(0.0885, 0.004).next(), Purpose.KNOCK_DOWN, 6_666.7, false);
    assertEnds(
        bySmallSteps(0.0890, 0.004).next(),
        Verdict.REFUSED,
        "no step of this coil ends inside the tolerance: it reads 1000.0 G",
        "6.7 kA/m, may take it down to 846.7 G");
  }

  // A source without gaps.

  /** It stands just above 59.92 to 60.08 mT; what is safe is less than it has had already. */
  @Test
  void takesTheLeastGrowthThatCanBeToldWhereNoneIsSafe() {
    Attempt attempt = ofKnownKind(0.06, 0.0001).knocked(20_000, 0.0601);

    assertFires(attempt.next(), Purpose.KNOCK_DOWN, 20_000 * 1.001, false);
    // It has had 15.9 kA/m, which is all that it needs to survive 15.
    assertFires(surviving(attempt, 15_000).next(), Purpose.KNOCK_DOWN, 20_000 * 1.001, false);
  }

  /** Nobody has seen what a field does to it, and the least there is may take it below. */
  @Test
  void refusesAFirstStepThatIsNotSafe() {
    assertEnds(
        ofKnownKind(0.0999, 0.0001).charged(0.1001).next(),
        Verdict.REFUSED,
        "no step of this coil ends inside the tolerance");
  }

  // What it is to survive. The coil's field is known to 3 per cent, so that 6 per cent more count,
  // and a hundredth is aimed above.

  private static final double NEEDED = 1 + 2 * Math.hypot(0.03, 0.0007);

  @Test
  void firesNoWeakerPulseForWhatTheKnockDownSurvivesAnyway() {
    double without = fired(ofKnownKind(0.06, 0.001).charged(0.1));
    Attempt attempt = surviving(ofKnownKind(0.06, 0.001).charged(0.1), 10_000);

    assertFires(attempt.next(), Purpose.KNOCK_DOWN, without, false);
  }

  /** 20.6 kA/m leave 58.8 mT, and 56.8 at the worst; 56 are accepted. */
  @Test
  void firesTheFieldToSurviveAtOnceWhereItEndsInside() {
    Attempt attempt = surviving(ofKnownKind(0.06, 0.004).charged(0.1), 19_245);

    assertFires(attempt.next(), Purpose.KNOCK_DOWN, 19_245 * NEEDED * 1.01, false);
  }

  @Test
  void refusesAFieldToSurviveThatTheSourceDoesNotReach() {
    Attempt attempt = surviving(inLevels(ofKnownKind(0.06, 0.004).charged(0.1)), 59_000);

    assertEnds(
        attempt.next(),
        Verdict.REFUSED,
        "it would need a reverse field of 6",
        "this coil reaches 60.0 kA/m");
  }

  /** 20.2 kA/m after 20 leave 59.45 mT at the worst; 59.02 are accepted. */
  @Test
  void firesTheFieldToSurviveInSmallStepsToo() {
    Attempt attempt = surviving(ofKnownKind(0.06, 0.001).knocked(20_000, 0.06), 18_900);
    attempt.mode = PlannerMode.SMALL_STEPS;

    assertFires(attempt.next(), Purpose.KNOCK_DOWN, 18_900 * NEEDED * 1.01, false);
  }

  private static double fired(Attempt attempt) {
    return ((Move.Fire) attempt.next()).field().amperesPerMetre();
  }
}
