package lodestep.dial;

import static lodestep.dial.Moves.assertEnds;
import static lodestep.dial.Moves.assertFires;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: each decision about charging, on both sides of what decides it. Method: attempts that stand
 * where the decision is due.
 */
class PlannerChargesTest {

  /** The strongest pulse of the bank's coil: 48 V and 50 V at most through 0.3 ohms. */
  private static final double MOST = Attempt.ON_BANK.fields(Attempt.ROOM).most().amperesPerMetre();

  private static Attempt attempt() {
    return new Attempt();
  }

  @ParameterizedTest
  @CsvSource({"NORTH, true", "SOUTH, false"})
  void chargesFirstByTwoThirdsTowardsThePoleThatIsAsked(PoleUp pole, boolean north) {
    Attempt attempt = attempt().reads(0.002).went(0, 0.002);
    attempt.pole = pole;

    assertFires(attempt.next(), Purpose.CHARGE, MOST * 2 / 3, north);
  }

  @Test
  void chargesWithTheStrongestAtOnceWhatIsKnownToTakeAFullCharge() {
    assertFires(attempt().proven().reads(0.002).went(0, 0.002).next(), Purpose.CHARGE, MOST, true);
  }

  @Test
  void chargesFirstByTheNextLevelBelowTwoThirds() {
    Attempt attempt = attempt().reads(0.002);
    attempt.charge = Optional.of(Attempt.onSupply(16.0, 8.0, 4.0));

    // 24 V / (4 + 16 / 7) ohms at 10,000 A/m for an ampere.
    assertFires(attempt.next(), Purpose.CHARGE, 38_181.8, true);
  }

  @Test
  void chargesOnceAndInFullWithASourceThatHasNothingBetween() {
    Attempt attempt = attempt().reads(0.002);
    attempt.charge = Optional.of(Attempt.onSupply(32.0, 16.0, 8.0));
    attempt.saturatingAperM = 60_000;

    assertFires(attempt.next(), Purpose.CHARGE, 60_000, true);

    attempt.saturatingAperM = 60_001;
    assertEnds(attempt.next(), Verdict.REFUSED, "needs a field of 60.0 kA/m; this coil", "by hand");
  }

  /** A source that can make two charges shows by them whether the magnet is full. */
  @Test
  void triesAChargeBelowSaturationWhereTwoChargesShowWhatItDid() {
    Attempt attempt = attempt().reads(0.002);
    attempt.saturatingAperM = MOST + 1;

    assertFires(attempt.next(), Purpose.CHARGE, MOST * 2 / 3, true);
  }

  private static Attempt chargedOnce(double tesla) {
    Attempt attempt = attempt().after(Purpose.CHARGE, 400_000, true).reads(tesla).went(0, tesla);
    attempt.charges = 1;
    attempt.pulses = 1;
    attempt.firstCharge = attempt.last;
    return attempt;
  }

  @Test
  void chargesASecondTimeWithTheStrongest() {
    assertFires(chargedOnce(0.095).next(), Purpose.CHARGE, MOST, true);
  }

  @Test
  void proceedsAfterOneChargeWhereNoSecondIsToBeHad() {
    Attempt attempt = chargedOnce(0.1);
    attempt.charge = Optional.of(Attempt.onSupply(32.0, 16.0, 8.0));

    assertThat(((Move.Fire) attempt.next()).purpose()).isEqualTo(Purpose.KNOCK_DOWN);
  }

  private static Attempt chargedTwice(double first, double second) {
    Attempt attempt = chargedOnce(first).reads(second).went(0, second);
    attempt.charges = 2;
    attempt.pulses = 2;
    return attempt;
  }

  @Test
  void proceedsWhenTheSecondChargeMovedItLittle() {
    assertThat(((Move.Fire) chargedTwice(0.0951, 0.1).next()).purpose())
        .isEqualTo(Purpose.KNOCK_DOWN);
    assertThat(((Move.Fire) chargedTwice(0.1049, 0.1).next()).purpose())
        .isEqualTo(Purpose.KNOCK_DOWN);
  }

  @ParameterizedTest
  @CsvSource({"0.0949, 949.0 G", "0.1051, 1051.0 G"})
  void refusesAMagnetThatTheSecondChargeMovedFar(double first, String words) {
    assertEnds(
        chargedTwice(first, 0.1).next(),
        Verdict.REFUSED,
        "full charge not proven",
        "from " + words + " to 1000.0 G");
  }

  /** The rig knows that it has charged it; only a charge by hand may have been left undone. */
  @Test
  void takesAChargeOfItsOwnForMadeThoughItReadsLessThanTheFirst() {
    assertEnds(
        chargedTwice(0.1, 0.08).next(),
        Verdict.REFUSED,
        "full charge not proven: the second charge moved it from 1000.0 G to 800.0 G");
  }

  @Test
  void takesTheFirstChargeOfASouthPoleAsOneOfItsPole() {
    Attempt attempt = chargedTwice(-0.0951, -0.1);
    attempt.pole = PoleUp.SOUTH;
    attempt.task = Attempt.level(-0.06, 0.001);
    attempt.went(0, 0.1);

    assertThat(((Move.Fire) attempt.next()).purpose()).isEqualTo(Purpose.KNOCK_DOWN);
  }

  /**
   * A full charge is what is asked: it is charged as any other, and then there is no more to do.
   */
  @Test
  void acceptsAFullChargeAsSoonAsItIsProven() {
    Attempt first = full(attempt().reads(0.002).went(0, 0.002));
    assertFires(first.next(), Purpose.CHARGE, MOST * 2 / 3, true);
    assertFires(full(chargedOnce(0.095)).next(), Purpose.CHARGE, MOST, true);

    assertEnds(full(chargedTwice(0.0999, 0.1)).proven().next(), Verdict.ACCEPTED, "charged");
    assertEnds(full(chargedOnce(0.1)).proven().next(), Verdict.ACCEPTED, "charged");
  }

  @Test
  void refusesAFullChargeThatTheSecondMovedOrThatWasNotTaken() {
    assertEnds(
        full(chargedTwice(0.098, 0.1)).next(),
        Verdict.REFUSED,
        "full charge not proven: the second charge moved it from 980.0 G to 1000.0 G, more than"
            + " 1 %");
    assertEnds(full(chargedOnce(0.0399)).next(), Verdict.REFUSED, "did not take the charge");
  }

  @Test
  void saysThatAFullChargeIsNotProvenWhereNoSecondIsToBeHad() {
    Attempt attempt = full(chargedOnce(0.1));
    attempt.charge = Optional.of(Attempt.onSupply(32.0, 16.0, 8.0));

    assertEnds(attempt.next(), Verdict.ACCEPTED, "charged; full charge not proven");
  }

  private static Attempt full(Attempt attempt) {
    attempt.task = new Task.FullCharge();
    return attempt;
  }

  @Test
  void refusesAMagnetThatTookNoCharge() {
    assertEnds(
        chargedOnce(0.0399).next(),
        Verdict.REFUSED,
        "did not take the charge: it reads 399.0 G where about 1000.0 G is expected");
    assertEnds(chargedOnce(-0.1).next(), Verdict.REFUSED, "did not take the charge");
    assertFires(chargedOnce(0.0401).next(), Purpose.CHARGE, MOST, true);
  }

  @Test
  void takesFourTenthsOfTheExpectedChargeForACharge() {
    Attempt attempt = attempt();
    attempt.fullTesla = 0.5;

    assertThat(took(attempt, 0.2)).isTrue();
    assertThat(took(attempt, Math.nextDown(0.2))).isFalse();
  }

  private static boolean took(Attempt attempt, double tesla) {
    return Planner.took(attempt.work(), attempt.progress(), attempt.memory, tesla);
  }

  /** 40 per cent of what a nominal magnet has is what is left of many a knocked down one. */
  @Test
  void takesThreeQuartersOfWhatOneOfItsKindReadForACharge() {
    Attempt attempt = attempt();
    attempt.memory = attempt.memory.withChargeProven(Attempt.KIND, 0.08);

    assertThat(took(attempt, 0.0601)).isTrue();
    assertThat(took(attempt, 0.0599)).isFalse();
  }

  @Test
  void expectsAfterANewChargeByHandWhatItsFirstOneCameTo() {
    Attempt attempt = byHand(2, 0.06);
    attempt.firstCharge = Optional.of(Attempt.reading(0.1));

    assertThat(took(attempt, 0.0901)).isTrue();
    assertThat(took(attempt, 0.0899)).isFalse();
    assertFires(attempt.next(), Purpose.CHARGE, 0, true);
  }

  @Test
  void expectsAfterANewChargeByHandOfASouthPoleWhatItsFirstOneCameTo() {
    Attempt attempt = byHand(2, -0.06);
    attempt.pole = PoleUp.SOUTH;
    attempt.firstCharge = Optional.of(Attempt.reading(-0.1));

    assertThat(took(attempt, 0.0901)).isTrue();
    assertThat(took(attempt, 0.0899)).isFalse();
  }

  private static Attempt byHand(int charges, double tesla) {
    Attempt attempt = chargedOnce(tesla);
    attempt.charge = Optional.empty();
    attempt.charges = charges;
    attempt.pulses = charges;
    return attempt;
  }

  @ParameterizedTest
  @CsvSource({"1", "2", "3"})
  void asksForAnotherChargeByHandUpToTheFourth(int charges) {
    assertFires(byHand(charges, 0.01).next(), Purpose.CHARGE, 0, true);
  }

  @Test
  void asksForNoFifthChargeByHand() {
    assertEnds(byHand(4, 0.01).next(), Verdict.REFUSED, "did not take the charge");
  }

  @Test
  void asksForASecondChargeByHandToProveTheFirst() {
    assertFires(byHand(1, 0.1).next(), Purpose.CHARGE, 0, true);
    assertThat(((Move.Fire) byHand(2, 0.1).next()).purpose()).isEqualTo(Purpose.KNOCK_DOWN);
  }

  @Test
  void beginsWithAChargeByHandWhereNothingCharges() {
    Attempt attempt = attempt().reads(0.002);
    attempt.charge = Optional.empty();
    attempt.pole = PoleUp.SOUTH;

    assertFires(attempt.next(), Purpose.CHARGE, 0, false);
  }
}
