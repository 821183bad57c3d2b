package lodestep.device;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import lodestep.port.LedgerEvent.BankProven;
import org.junit.jupiter.api.Test;

/**
 * Goal: what a bank has lost of its capacitance is told by how fast its proofs let it bleed.
 * Checked against V = V0 exp(-t / RC), the discharge of a capacitor through a resistor (any text on
 * electric circuits).
 */
class BankLeftTest {

  private static final double BLEED_OHMS = 22;
  private static final double NEW_FARADS = 22e-3;

  /** A proof of a bank with this capacitance, seen to have bled after this time. */
  private static BankProven proof(double farads, double seconds) {
    double bled = 6_000 * Math.exp(-seconds / (BLEED_OHMS * farads));
    return new BankProven(7, 6_010, 6_000, 120_000, 2, Math.round(bled), Math.round(seconds * 1e6));
  }

  private static BankLeft after(BankLeft before, double farads, int proofs) {
    BankLeft left = before;
    for (int i = 0; i < proofs; i++) {
      left = left.with(proof(farads, 0.34 + 0.001 * (i % 10)));
    }
    return left;
  }

  private static BankLeft worn(double part) {
    return after(after(BankLeft.UNKNOWN, NEW_FARADS, 20), part * NEW_FARADS, 5);
  }

  @Test
  void saysNothingBeforeTheTwentyFifthProof() {
    BankLeft few = after(after(BankLeft.UNKNOWN, NEW_FARADS, 20), 0.5 * NEW_FARADS, 4);
    assertThat(few.part()).isEmpty();
    assertThat(few.lost()).isFalse();
    assertThat(few.minds()).isFalse();
    assertThat(few.sentence()).contains("from 25 proofs on; 24 are on record");
  }

  @Test
  void tellsThePartThatIsLeftWhateverThatBankHadWhenItWasNew() {
    assertThat(worn(0.93).part().orElseThrow()).isCloseTo(0.93, within(1e-3));
    BankLeft another = after(after(BankLeft.UNKNOWN, 0.8 * NEW_FARADS, 20), 0.76 * NEW_FARADS, 5);
    assertThat(another.part().orElseThrow()).isCloseTo(0.95, within(1e-3));
  }

  /** A proof that has lapsed is made anew before the bank is judged. */
  @Test
  void letsNothingBeFiredOnAWornBankOnceItIsProven() {
    RigWear worn = new RigWear(worn(0.89), UsualCurrents.UNKNOWN);

    assertThat(worn.refusal(true)).contains(worn.bank().sentence());
    assertThat(worn.refusal(false)).isEmpty();
    assertThat(new RigWear(worn(0.94), UsualCurrents.UNKNOWN).refusal(true)).isEmpty();
    assertThat(RigWear.UNKNOWN.refusal(true)).isEmpty();
  }

  @Test
  void warnsAtFivePerCentLostAndRefusesAtTen() {
    assertThat(worn(0.96).minds()).isFalse();
    assertThat(worn(0.94).minds()).isTrue();
    assertThat(worn(0.94).lost()).isFalse();
    assertThat(worn(0.94).sentence()).contains("94.0 %", "have new capacitors at hand");
    assertThat(worn(0.91).lost()).isFalse();
    assertThat(worn(0.89).lost()).isTrue();
    assertThat(worn(0.89).sentence())
        .contains("has lost 11.0 % of its capacitance", "'new_since' into [bank]");
  }

  @Test
  void isNotMovedByTwoOddProofsOfTheNewestFive() {
    BankLeft left = after(after(BankLeft.UNKNOWN, NEW_FARADS, 20), NEW_FARADS, 3);
    assertThat(after(left, 0.5 * NEW_FARADS, 2).part().orElseThrow()).isCloseTo(1, within(1e-3));
  }

  @Test
  void forgetsAnOldLossOnceTheNewestFiveProofsAreSound() {
    assertThat(after(worn(0.8), NEW_FARADS, 5).part().orElseThrow()).isCloseTo(1, within(1e-3));
  }

  @Test
  void asksWhetherABankThatHasGrownWasReplaced() {
    assertThat(worn(1.2).lost()).isFalse();
    assertThat(worn(1.2).minds()).isTrue();
    assertThat(worn(1.2).sentence()).contains("if it was replaced");
  }

  @Test
  void leavesOutAProofThatTellsNothing() {
    BankProven flat = new BankProven(7, 6_010, 6_000, 120_000, 2, 6_000, 340_000);
    BankProven empty = new BankProven(7, 6_010, 6_000, 120_000, 2, 0, 340_000);
    BankProven sudden = new BankProven(7, 6_010, 6_000, 120_000, 2, 3_000, 0);
    assertThat(BankLeft.UNKNOWN.with(flat).with(empty).with(sudden)).isEqualTo(BankLeft.UNKNOWN);
  }
}
