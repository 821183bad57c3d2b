package lodestep.soak;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;

/** Goal: each rule of bank and permit can fail, and does not where it only just holds. */
class BankRulesTest {

  @Test
  void seesSupplyAndBleedContactTogether() {
    Stage stage = new Stage(new BankRules.FillsAndBleedsApart());
    stage.w.filling = true;
    assertThat(stage.brokenIn(20)).isFalse();
    assertThat(stage.brokenIn(1)).isTrue();
  }

  @Test
  void excusesSupplyAndBleedContactOfAWeldedRelay() {
    Stage stage = new Stage(new BankRules.FillsAndBleedsApart());
    stage.stands(HappeningKind.RELAY_WELDED, "fill");
    stage.w.filling = true;
    assertThat(stage.brokenIn(100)).isFalse();
  }

  @Test
  void seesAPermitThatOutlivesTheHost() {
    Stage stage = new Stage(new BankRules.PermitNeedsHost());
    stage.w.permit = true;
    stage.w.permitBeatAtMs = stage.w.ms;
    assertThat(stage.brokenIn(250)).isFalse();
    assertThat(stage.brokenIn(1)).isTrue();
  }

  @Test
  void givesAHungHeadItsWatchdogAndNoMore() {
    Stage stage = new Stage(new BankRules.PermitNeedsHost());
    stage.w.permit = true;
    stage.w.permitBeatAtMs = stage.w.ms;
    stage.stands(HappeningKind.HEAD_HUNG, "");
    assertThat(stage.brokenIn(501)).isFalse();
    assertThat(stage.brokenIn(1)).isTrue();
  }

  @Test
  void seesAnOpenChainThatDoesNotCut() {
    Stage stage = new Stage(new BankRules.ChainCuts());
    stage.w.filling = true;
    assertThat(stage.brokenIn(100)).isFalse();
    stage.w.chain = false;
    assertThat(stage.brokenIn(6)).isFalse();
    assertThat(stage.brokenIn(1)).isTrue();
    stage.w.filling = false;
    stage.w.firing = true;
    assertThat(stage.brokenIn(1)).isTrue();
  }

  @Test
  void seesABankStillFilledFiveSecondsAfterEachKindOfStop() {
    Stage tripped = new Stage(new BankRules.BleedsAfterAnyStop());
    tripped.w.tripped = true;
    assertThat(staysFilled(tripped)).isTrue();
    Stage dead = new Stage(new BankRules.BleedsAfterAnyStop());
    dead.w.hostUp = false;
    assertThat(staysFilled(dead)).isTrue();
    Stage open = new Stage(new BankRules.BleedsAfterAnyStop());
    open.w.chain = false;
    assertThat(staysFilled(open)).isTrue();
    Stage held = new Stage(new BankRules.BleedsAfterAnyStop());
    assertThat(staysFilled(held)).as("no stop, no rule").isFalse();
  }

  private static boolean staysFilled(Stage stage) {
    stage.w.bankVolts = 10.2;
    assertThat(stage.brokenIn(5_000)).isFalse();
    return stage.brokenIn(1);
  }

  @Test
  void wantsAnAlarmWhileABrokenPartHoldsTheCharge() {
    Stage alarmed = new Stage(new BankRules.BleedsAfterAnyStop());
    alarmed.stands(HappeningKind.BLEED_OPEN, "");
    alarmed.w.tripped = true;
    assertThat(staysFilled(alarmed)).isFalse();

    Stage silent = new Stage(new BankRules.BleedsAfterAnyStop());
    silent.stands(HappeningKind.BLEED_OPEN, "");
    silent.w.chain = false;
    assertThat(staysFilled(silent)).isTrue();
  }

  /** It is low long after the stop when the feed relay pulls in by itself: R1's 150 ms count. */
  @Test
  void givesTheHostItsTimeToSeeAPartThatFillsTheBankLater() {
    Stage stage = new Stage(new BankRules.BleedsAfterAnyStop());
    stage.w.chain = false;
    assertThat(stage.brokenIn(6_000)).isFalse();
    stage.stands(HappeningKind.RELAY_PULLED, "on");
    stage.w.bankVolts = 48;

    assertThat(stage.brokenIn(150)).isFalse();
    assertThat(stage.brokenIn(1)).isTrue();

    stage.w.bankVolts = 0;
    assertThat(stage.brokenIn(1)).isFalse();
    stage.w.bankVolts = 48;
    stage.w.tripped = true;
    assertThat(stage.brokenIn(200)).as("the alarm stands").isFalse();
  }

  @Test
  void seesTheBankOverItsCap() {
    Stage stage = new Stage(new BankRules.NeverOverVoltage());
    stage.w.bankVolts = 53.0;
    assertThat(stage.brokenIn(1)).isFalse();
    stage.w.bankVolts = 53.1;
    assertThat(stage.brokenIn(1)).isTrue();
    stage.stands(HappeningKind.SUPPLY_WRONG, "");
    assertThat(stage.brokenIn(1)).as("one fault is no excuse").isTrue();
    stage.stands(HappeningKind.RELAY_WELDED, "fill");
    assertThat(stage.brokenIn(1)).as("two are").isFalse();
  }

  @Test
  void seesAWeldThatTripsNothing() {
    Stage stage = new Stage(new BankRules.SeesAWeld());
    stage.w.hostFromMs = 0;
    stage.w.filling = true;
    assertThat(scans(stage, 150)).isFalse();
    assertThat(scans(stage, 1)).isTrue();
    stage.w.tripped = true;
    assertThat(scans(stage, 10)).isFalse();
  }

  private static boolean scans(Stage stage, int ms) {
    boolean broken = false;
    for (int i = 0; i < ms; i++) {
      broken |= stage.brokenInScan(0);
    }
    return broken;
  }

  private static final int FILLS = Bits.FILL | Bits.HOLD;

  /** Filled to five volts, held without current, bled. */
  private static void prove(Stage stage) {
    stage.w.filling = true;
    stage.w.bleeding = false;
    stage.w.bankVolts = 5;
    assertThat(stage.brokenIn(20)).isFalse();
    stage.w.filling = false;
    assertThat(stage.brokenIn(60)).isFalse();
    stage.w.bleeding = true;
    stage.w.bankVolts = 2;
    assertThat(stage.brokenIn(20)).isFalse();
  }

  @Test
  void wantsTheBankProvenBeforeItIsFilled() {
    Stage unproven = new Stage(new ProvenBeforeUse());
    Stage proven = new Stage(new ProvenBeforeUse());
    assertThat(List.of(unproven.brokenInScan(0), proven.brokenInScan(0))).containsOnly(false);
    prove(proven);

    assertThat(fills(unproven)).isTrue();
    assertThat(fills(proven)).isFalse();
    proven.w.hostStarts++;
    assertThat(fills(proven)).as("proven for the program before").isTrue();
  }

  /** Parted for some milliseconds on the way it still comes to half; by its bleeder it does not. */
  @Test
  void takesABleedThatWasPartedForAMomentForABleed() {
    Stage parted = new Stage(new ProvenBeforeUse());
    parted.brokenInScan(0);
    held(parted);
    bleeds(parted, true, 3.7);
    bleeds(parted, false, 3.7);
    bleeds(parted, true, 2.4);
    assertThat(fills(parted)).isFalse();

    Stage held = new Stage(new ProvenBeforeUse());
    held.brokenInScan(0);
    held(held);
    bleeds(held, true, 3.7);
    bleeds(held, true, 2.6);
    assertThat(fills(held)).as("not to half").isTrue();

    Stage carries = new Stage(new ProvenBeforeUse());
    carries.brokenInScan(0);
    held(carries);
    carries.w.coilAmps = 1;
    bleeds(carries, false, 3.7);
    carries.w.coilAmps = 0;
    bleeds(carries, true, 2.4);
    assertThat(fills(carries)).as("through the coil").isTrue();
  }

  /** Pulled in by itself while the bank bleeds: nobody asks for it, and it still comes to half. */
  @Test
  void takesNothingFromAProofForAFillRelayThatMovesByItself() {
    Stage byItself = new Stage(new ProvenBeforeUse());
    Stage asked = new Stage(new ProvenBeforeUse());
    for (Stage stage : List.of(byItself, asked)) {
      stage.brokenInScan(0);
      held(stage);
    }
    byItself.stands(HappeningKind.RELAY_PULLED, "fill");
    for (Stage stage : List.of(byItself, asked)) {
      stage.w.filling = true;
      bleeds(stage, false, 4.9);
      stage.w.filling = false;
      bleeds(stage, true, 2.4);
    }
    byItself.mended();
    byItself.brokenIn(600);

    assertThat(fills(byItself)).isFalse();
    assertThat(fills(asked)).isTrue();
  }

  /** Stuck while it is asked for, nobody has seen its contact open. */
  @Test
  void wantsAFillContactThatOpensThoughItsRelayIsStuck() {
    Stage stuck = new Stage(new ProvenBeforeUse());
    stuck.brokenInScan(FILLS);
    stuck.stands(HappeningKind.RELAY_PULLED, "fill");
    stuck.w.filling = true;
    stuck.w.bleeding = false;
    stuck.w.bankVolts = 5;
    stuck.brokenIn(80);
    bleeds(stuck, true, 2.4);
    stuck.mended();
    stuck.w.filling = false;
    stuck.brokenIn(600);

    assertThat(fills(stuck)).isTrue();
  }

  private static void held(Stage stage) {
    stage.w.filling = true;
    stage.w.bleeding = false;
    stage.w.bankVolts = 5;
    stage.brokenIn(20);
    stage.w.filling = false;
    stage.brokenIn(60);
  }

  private static void bleeds(Stage stage, boolean bleeding, double volts) {
    stage.w.bleeding = bleeding;
    stage.w.bankVolts = volts;
    assertThat(stage.brokenIn(6)).isFalse();
  }

  private static boolean fills(Stage stage) {
    stage.w.filling = true;
    stage.w.bleeding = false;
    stage.w.bankVolts = 32;
    return stage.brokenInScan(FILLS);
  }

  /** Killed while it filled, its levels stay until the next program's first scan. */
  @Test
  void doesNotBlameANewProgramForWhatTheDeadOneHasAsked() {
    Stage stage = new Stage(new ProvenBeforeUse());
    prove(stage);
    assertThat(fills(stage)).isFalse();

    stage.w.hostStarts();

    assertThat(stage.brokenIn(4)).as("before its first scan").isFalse();
    assertThat(stage.brokenInScan(0)).as("it lowers all").isFalse();
    assertThat(fills(stage)).as("it fills by itself").isTrue();
  }
}
