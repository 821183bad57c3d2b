package lodestep.interlock;

import static lodestep.port.OutputLine.BANK_FILL;
import static lodestep.port.OutputLine.BANK_HOLD;
import static lodestep.port.OutputLine.COIL_FIRE;
import static lodestep.port.OutputLine.COIL_FULL;
import static org.assertj.core.api.Assertions.assertThat;

import lodestep.interlock.ProofWatch.Stage;
import lodestep.port.InputLine;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Goal: what is judged of a bank, at the limit and just beyond it. The bank of {@link Bench}: 22 mF
 * that bleed through 22 ohms, time constant 0.484 s, and leak through 2,000 ohms, 44 s.
 */
class BankWatchesTest {

  private static final long MS = Look.MS;

  private static Mark mark(double volts, long atMs) {
    return new Mark((int) Math.round(volts * 1e3), atMs * MS);
  }

  // Bleeding.

  private static boolean tooHigh(double fromVolts, long afterNs, int milliVolts) {
    Look look = new Look(Look.BANK, afterNs);
    look.bankMilliVolts = milliVolts;
    return new BleedWatch(mark(fromVolts, 0), false).step(look.seen()).slow();
  }

  /** After half a second it must have come down by half of what the bleeder does: to 0.597. */
  @Test
  void judgesABleedingBankAfterHalfASecond() {
    assertThat(tooHigh(50, 500 * MS, 50_000)).isFalse();
    assertThat(tooHigh(50, 500 * MS + 1, 50_000)).isTrue();
    assertThat(tooHigh(50, 500 * MS + 1, 29_700)).isFalse();
    assertThat(tooHigh(50, 500 * MS + 1, 30_000)).isTrue();
  }

  @Test
  void leavesAloneWhatMayStayInABank() {
    assertThat(tooHigh(0.6, 501 * MS, 500)).isFalse();
    assertThat(tooHigh(0.6, 501 * MS, 501)).isTrue();
  }

  @Test
  void judgesABleedingBankByNewLinesOnly() {
    BleedWatch slow = new BleedWatch(mark(50, 0), true);

    assertThat(slow.step(Look.at(600).bank(0).old().seen())).isEqualTo(slow);
    assertThat(slow.step(Look.at(600).bank(0).seen()).slow()).isFalse();
    assertThat(slow.step(Look.at(600).driven(BANK_HOLD).seen())).isEqualTo(BleedWatch.IDLE);
  }

  // Filling: to 47.619 V with a time constant of 2.095 s.

  /** So long after the fill relay was driven, at 700 ms. */
  private static Look filling(long forNs, int milliVolts) {
    Look look = new Look(Look.BANK, forNs).driven(BANK_HOLD, BANK_FILL);
    look.fillSinceNs = 700 * MS;
    look.nowNs += 700 * MS;
    look.bankMilliVolts = milliVolts;
    return look;
  }

  @Test
  void beginsToJudgeAFillingOnceItsRelayHasOperated() {
    assertThat(FillWatch.IDLE.step(filling(30 * MS - 1, 900).seen())).isEqualTo(FillWatch.IDLE);
    assertThat(FillWatch.IDLE.step(filling(30 * MS, 900).seen()).mark())
        .isEqualTo(new Mark(900, 730 * MS));
  }

  @Test
  void judgesAFillingAtTheEndOfEachWindow() {
    FillWatch from = new FillWatch(new Mark(1_000, 730 * MS), false);
    long endNs = 30 * MS + FillWatch.WINDOW_NS;

    assertThat(from.step(filling(endNs - 1, 1_000).seen())).isEqualTo(from);
    assertThat(from.step(filling(endNs, 1_000).seen()).slow()).isTrue();
  }

  /** From 1 V in half a second it should rise by 46.619 V x 0.2123: 9.9 V. */
  @Test
  void asksForHalfOfTheRiseThatTheSupplyGives() {
    FillWatch from = new FillWatch(new Mark(1_000, 730 * MS), false);
    double expected = 46_619 * -Math.expm1(-FillWatch.WINDOW_NS / 2.0952e9);
    long endNs = 30 * MS + FillWatch.WINDOW_NS;

    assertThat(from.step(filling(endNs, (int) (1_000 + 0.49 * expected)).seen()).slow()).isTrue();
    assertThat(from.step(filling(endNs, (int) (1_000 + 0.51 * expected)).seen()).slow()).isFalse();
  }

  // Rising by itself.

  private static Look idle(long atMs, int milliVolts) {
    Look look = Look.at(atMs);
    look.bankMilliVolts = milliVolts;
    return look;
  }

  @Test
  void judgesARiseOnlyWhenFillRelayAndPulseAreOver() {
    Look released = idle(1_000, 5_000);
    released.fillSinceNs = 970 * MS;
    released.fireSinceNs = 900 * MS;
    Look early = idle(1_000, 5_000);
    early.fillSinceNs = 970 * MS + 1;
    Look spring = idle(1_000, 5_000);
    spring.fireSinceNs = 900 * MS + 1;

    assertThat(RisingWatch.IDLE.step(released.seen()).mark())
        .isEqualTo(new Mark(5_000, 1_000 * MS));
    assertThat(RisingWatch.IDLE.step(early.seen())).isEqualTo(RisingWatch.IDLE);
    assertThat(RisingWatch.IDLE.step(spring.seen())).isEqualTo(RisingWatch.IDLE);
  }

  @Test
  void takesTheLowestVoltageOfItsWindowForTheMark() {
    RisingWatch from = new RisingWatch(mark(5, 0), false);

    assertThat(from.step(idle(50, 5_000).seen()).mark()).isEqualTo(mark(5, 50));
    assertThat(from.step(idle(50, 5_001).seen()).mark()).isEqualTo(mark(5, 0));
    assertThat(from.step(idle(99, 5_200).seen())).isEqualTo(from);
    assertThat(from.step(idle(99, 5_201).seen()).rising()).isTrue();
    assertThat(from.step(idle(100, 5_100).seen()).mark()).isEqualTo(mark(5.1, 100));
  }

  // After a pulse.

  @Test
  void judgesAPulseByTheBankFromFiftyMillivoltsOn() {
    Look rose = Look.at(7).driven(BANK_HOLD, COIL_FIRE);
    rose.fireSinceNs = 7 * MS;

    assertThat(PulseFallWatch.IDLE.step(rose.seen(), 49, false)).isEqualTo(PulseFallWatch.IDLE);
    assertThat(PulseFallWatch.IDLE.step(rose.seen(), 50, false).from()).isEqualTo(mark(0.05, 7));
  }

  @Test
  void wantsATenthOfTheBankGoneAfterHalfASecond() {
    PulseFallWatch from = new PulseFallWatch(mark(10, 0), false);

    assertThat(from.step(idle(500, 9_001).seen(), 0, false).stuck()).isFalse();
    assertThat(from.step(idle(501, 9_001).seen(), 0, false).stuck()).isTrue();
    assertThat(from.step(idle(501, 9_000).seen(), 0, false)).isEqualTo(PulseFallWatch.IDLE);
    assertThat(from.step(idle(501, 9_001).old().seen(), 0, false)).isEqualTo(from);
    assertThat(from.step(idle(501, 9_001).seen(), 0, true)).isEqualTo(PulseFallWatch.IDLE);
  }

  @Test
  void remembersTheBankOfItsNewestLine() {
    BankWatch rising =
        new BankWatch(
            new RisingWatch(mark(5, 0), true),
            PulseFallWatch.IDLE,
            BleedWatch.IDLE,
            FillWatch.IDLE,
            0);

    assertThat(rising.step(Look.at(50).bank(9).seen(), false).rising().rising()).isTrue();
    assertThat(rising.step(Look.at(50).bank(9).seen(), false).lastMilliVolts()).isEqualTo(9_000);
    assertThat(rising.step(Look.at(50).bank(9).old().seen(), true).lastMilliVolts()).isZero();
  }

  // The proof.

  private static Look proving(long atMs, double volts) {
    Look look = Look.at(atMs).bank(volts).driven(BANK_HOLD, BANK_FILL, COIL_FULL);
    look.fillSinceNs = atMs * MS;
    return look;
  }

  private static ProofWatch proof(Stage stage, Mark filled, Mark held) {
    return new ProofWatch(stage, filled, held, 0, Mark.NONE, 17);
  }

  private static Stage after(ProofWatch before, Look look) {
    return before.step(look.seen()).stage();
  }

  @Test
  void beginsAProofByFillingALowBank() {
    assertThat(after(ProofWatch.NONE, proving(0, 10))).isEqualTo(Stage.FILLING);
    assertThat(after(ProofWatch.NONE, proving(0, 10.001))).isEqualTo(Stage.NONE);
    assertThat(after(ProofWatch.NONE, Look.at(0).driven(BANK_HOLD))).isEqualTo(Stage.NONE);
    assertThat(after(ProofWatch.NONE, proving(0, 5).contact(InputLine.LID_A, false)))
        .isEqualTo(Stage.NONE);
    assertThat(after(ProofWatch.NONE, proving(0, 5).contact(InputLine.BLEED_CONTACT, true)))
        .isEqualTo(Stage.NONE);
    Look unknown = proving(0, 5);
    unknown.linkOpen = false;
    assertThat(after(ProofWatch.NONE, unknown)).isEqualTo(Stage.NONE);
  }

  private static final ProofWatch FILLING = proof(Stage.FILLING, Mark.NONE, Mark.NONE);

  @Test
  void fillsUntilTheFillRelayIsLetGo() {
    assertThat(FILLING.step(proving(5, 5).seen())).isEqualTo(FILLING);
    assertThat(after(FILLING, Look.at(5).bank(5).driven(BANK_HOLD, COIL_FULL)))
        .isEqualTo(Stage.HELD);
    assertThat(after(FILLING, proving(5, 5).contact(InputLine.BLEED_CONTACT, true)))
        .isEqualTo(Stage.NONE);
  }

  private static Look held(long atMs, double volts) {
    return Look.at(atMs).bank(volts).driven(BANK_HOLD, COIL_FULL);
  }

  @ParameterizedTest
  @CsvSource({"2.999, 970, false", "3.000, 970, true", "6, 971, false"})
  void marksTheBankOnceItCanBeWatched(double volts, long fillSinceMs, boolean marked) {
    Look look = held(1_000, volts);
    look.fillSinceNs = fillSinceMs * MS;

    ProofWatch next = proof(Stage.HELD, Mark.NONE, Mark.NONE).step(look.seen());

    assertThat(next.filled()).isEqualTo(marked ? mark(volts, 1_000) : Mark.NONE);
    assertThat(next.held()).isEqualTo(next.filled());
    assertThat(next.stage()).isEqualTo(Stage.HELD);
  }

  @Test
  void watchesNothingWithTheCoilsPathOpen() {
    ProofWatch from = proof(Stage.HELD, mark(6, 0), mark(6, 0));

    assertThat(from.step(Look.at(10).bank(6).driven(BANK_HOLD).seen()).filled())
        .isEqualTo(Mark.NONE);
    ProofWatch seen = from.step(held(10, 6).seen());
    assertThat(seen.filled()).isEqualTo(mark(6, 0));
    assertThat(seen.held()).isEqualTo(mark(6, 10));
    assertThat(from.step(held(10, 6).old().seen())).isEqualTo(from);
  }

  @Test
  void marksAnewWhereTheBankStillRises() {
    ProofWatch from = proof(Stage.HELD, mark(6, 0), mark(6, 0));

    assertThat(from.step(held(10, 6.050).seen()).filled()).isEqualTo(mark(6, 0));
    assertThat(from.step(held(10, 6.051).seen()).filled()).isEqualTo(mark(6.051, 10));
  }

  @Test
  void keepsTheLargestCurrentOfEitherSign() {
    Look look = held(10, 6);
    look.coilMilliAmps = -30;
    ProofWatch once = proof(Stage.HELD, mark(6, 0), mark(6, 0)).step(look.seen());
    look.coilMilliAmps = 20;

    assertThat(once.coilMilliAmps()).isEqualTo(30);
    assertThat(once.step(look.seen()).coilMilliAmps()).isEqualTo(30);
  }

  /** In a second twice the bleeder takes it to 6 V x exp(-2 / 44), and 0.1 V are allowed: 5.633. */
  @Test
  void findsALeakByTwiceTheBleeder() {
    ProofWatch from = proof(Stage.HELD, mark(6, 2_000), mark(6, 2_000));

    assertThat(after(from, held(3_000, 5.634))).isEqualTo(Stage.HELD);
    assertThat(after(from, held(3_000, 5.633))).isEqualTo(Stage.LEAKS);
  }

  private static Look letGo(long atMs, double volts) {
    return Look.at(atMs).bank(volts).driven(COIL_FULL);
  }

  @Test
  void countsOnlyWhatWasHeldLongEnough() {
    assertThat(after(proof(Stage.HELD, mark(6, 0), mark(6, 49)), letGo(60, 6)))
        .isEqualTo(Stage.NONE);
    ProofWatch bleeding = proof(Stage.HELD, mark(6, 0), mark(5.9, 50)).step(letGo(60, 5.5).seen());
    assertThat(bleeding.stage()).isEqualTo(Stage.BLEEDING);
    assertThat(bleeding.held()).isEqualTo(mark(5.9, 60));
    assertThat(after(proof(Stage.HELD, mark(6, 0), mark(6, 49)), proving(60, 6)))
        .isEqualTo(Stage.FILLING);
    assertThat(after(proof(Stage.HELD, Mark.NONE, mark(6, 90)), letGo(99, 6)))
        .isEqualTo(Stage.NONE);
  }

  private static final ProofWatch BLEEDING = proof(Stage.BLEEDING, mark(6, 0), mark(6, 100));

  @Test
  void isProvenWhenTheBankHasBledToHalf() {
    assertThat(after(BLEEDING, letGo(400, 3.001))).isEqualTo(Stage.BLEEDING);
    ProofWatch proven = BLEEDING.step(letGo(400, 3.000).seen());
    assertThat(proven.stage()).isEqualTo(Stage.JUST_PROVEN);
    assertThat(proven.completed())
        .contains(new BankProof(6_000, 6_000, 100_000, 0, 3_000, 300_000));
    assertThat(after(BLEEDING, letGo(400, 3).old())).isEqualTo(Stage.BLEEDING);
    assertThat(after(BLEEDING, letGo(400, 3).contact(InputLine.BLEED_CONTACT, false)))
        .isEqualTo(Stage.BLEEDING);
    assertThat(after(BLEEDING, held(400, 3))).isEqualTo(Stage.NONE);
  }

  /** Twice the time constant's half-life, 671 ms, and a tenth of a second for the relay. */
  @Test
  void findsABankThatStays() {
    assertThat(after(BLEEDING, letGo(100 + 770, 5))).isEqualTo(Stage.BLEEDING);
    assertThat(after(BLEEDING, letGo(100 + 772, 5))).isEqualTo(Stage.STAYS);
    assertThat(after(BLEEDING, letGo(100 + 772, 5).old())).isEqualTo(Stage.BLEEDING);
  }

  @Test
  void endsAProofUnderWayWithAPulseACurrentOrAnotherHead() {
    Look fired = held(10, 6).driven(BANK_HOLD, COIL_FULL, COIL_FIRE);
    Look carries = held(10, 6);
    carries.coilMilliAmps = 51;
    Look none = held(10, 6);
    none.coilMilliAmps = 50;
    Look other = held(10, 6);
    other.bootId = 18;
    ProofWatch from = proof(Stage.HELD, mark(6, 0), mark(6, 0));

    assertThat(after(from, fired)).isEqualTo(Stage.NONE);
    assertThat(after(from, carries)).isEqualTo(Stage.NONE);
    assertThat(after(from, none)).isEqualTo(Stage.HELD);
    assertThat(after(from, other)).isEqualTo(Stage.NONE);
    assertThat(after(from, held(10, 10.001))).isEqualTo(Stage.NONE);
  }

  private static ProofWatch proven(Stage stage) {
    return new ProofWatch(stage, mark(6, 0), mark(6, 100), 0, mark(3, 400), 17);
  }

  @ParameterizedTest
  @EnumSource(
      names = {"JUST_PROVEN", "PROVEN"},
      value = Stage.class)
  void standsForTenMinutesAndLongerOnlyUnderAHeldBank(Stage stage) {
    assertThat(after(proven(stage), Look.at(400 + 600_000))).isEqualTo(Stage.PROVEN);
    assertThat(after(proven(stage), Look.at(401 + 600_000))).isEqualTo(Stage.NONE);
    assertThat(after(proven(stage), Look.at(401 + 600_000).driven(BANK_HOLD)))
        .isEqualTo(Stage.PROVEN);
    assertThat(after(proven(stage), held(410, 40).driven(BANK_HOLD, COIL_FIRE)))
        .isEqualTo(Stage.PROVEN);
    assertThat(proven(stage).stands(Look.BANK)).isTrue();
  }

  @Test
  void isForgottenAfterItsTrip() {
    assertThat(after(proof(Stage.LEAKS, mark(6, 0), mark(6, 9)), held(99, 5)))
        .isEqualTo(Stage.NONE);
    assertThat(after(proof(Stage.STAYS, mark(6, 0), mark(6, 9)), letGo(99, 5)))
        .isEqualTo(Stage.NONE);
    assertThat(FILLING.stands(Look.BANK)).isFalse();
  }
}
