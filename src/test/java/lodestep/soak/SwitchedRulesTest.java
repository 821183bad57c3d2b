package lodestep.soak;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.config.RigConfig;
import lodestep.config.ShippedRig;
import lodestep.port.ActEvent;
import org.junit.jupiter.api.Test;

/** Goal: each rule of a switched coil can fail, and does not where it only just holds. */
class SwitchedRulesTest {

  private static final RigConfig RIG = ShippedRig.read("rig-virtual-switched.toml");
  private static final int LEVEL = 12;

  private static Stage stage(Rule rule) {
    return new Stage(rule, RigFigures.of(RIG));
  }

  /** An intent of this level on record, its ladder set long ago and its feed on. */
  private static Stage intended(Rule rule) {
    Stage stage = stage(rule);
    stage.w.record.appended(
        Stage.INTENT,
        new ActEvent.SwitchedPulseIntended(
            3, 1, 1, "knock down", false, false, LEVEL, 60_000, 48_000, 20_000, 1_200, "rod coil"));
    stage.w.record.forgetFresh();
    stage.w.record.acknowledged(Stage.INTENT);
    stage.w.windowIntent = Stage.INTENT;
    stage.w.direction = -1;
    stage.w.level = LEVEL;
    stage.brokenIn(100);
    stage.w.feeding = true;
    stage.w.bankVolts = 48;
    return stage;
  }

  @Test
  void seesTheGateFedOnAnotherLevel() {
    Stage sound = intended(new SwitchedRules.FiresOnItsLevel());
    assertThat(sound.brokenByFire()).isFalse();

    Stage other = intended(new SwitchedRules.FiresOnItsLevel());
    other.w.level = LEVEL + 1;
    other.brokenIn(100);
    assertThat(other.brokenByFire()).isTrue();

    Stage bridged = intended(new SwitchedRules.FiresOnItsLevel());
    bridged.w.full = true;
    bridged.brokenIn(100);
    assertThat(bridged.brokenByFire()).isTrue();
    bridged.stands(HappeningKind.RELAY_WELDED, "ladder 5");
    assertThat(bridged.brokenByFire()).as("a broken relay that has no mirror contact").isFalse();
  }

  @Test
  void seesTheGateFedOnALadderThatHasJustMovedOrWithNoFeed() {
    Stage moved = intended(new SwitchedRules.FiresOnItsLevel());
    moved.w.level = 0;
    moved.brokenIn(1);
    moved.w.level = LEVEL;
    moved.brokenIn(49);
    assertThat(moved.brokenByFire()).isTrue();
    assertThat(moved.brokenByFire()).as("still for 50 ms").isFalse();

    Stage dead = intended(new SwitchedRules.FiresOnItsLevel());
    dead.w.feeding = false;
    assertThat(dead.brokenByFire()).isTrue();
  }

  @Test
  void seesTheLadderMoveUnderTheFeed() {
    Stage stage = intended(new SwitchedRules.LadderStaysUnderFeed());
    assertThat(stage.brokenIn(1)).isFalse();
    stage.w.level = LEVEL - 1;
    assertThat(stage.brokenIn(1)).as("feed on").isTrue();
    stage.w.feeding = false;
    stage.w.level = LEVEL;
    assertThat(stage.brokenIn(1)).as("nothing is live").isFalse();
    stage.w.coilAmps = -0.07;
    stage.w.full = true;
    assertThat(stage.brokenIn(1)).as("current").isTrue();
  }

  @Test
  void wantsTheSwitchProvenBeforeEachPulse() {
    Stage stage = intended(new SwitchedRules.SwitchProvenBeforePulse());
    stage.brokenIn(500);
    assertThat(stage.brokenByFire()).as("its feed was never let go").isTrue();
    stage.w.firing = false;
    prove(stage);
    assertThat(stage.brokenByFire()).isFalse();
    stage.w.firing = false;
    stage.brokenIn(500);
    assertThat(stage.brokenByFire()).as("proven for the pulse before").isTrue();
  }

  private static void prove(Stage stage) {
    stage.w.feeding = false;
    stage.brokenIn(100);
    stage.w.feeding = true;
    stage.brokenIn(60);
    stage.w.feeding = false;
    stage.brokenIn(100);
    stage.w.feeding = true;
    stage.brokenIn(40);
  }

  @Test
  void takesNoProofWithTheLadderBridgedOrCurrentInTheCoil() {
    Stage bridged = intended(new SwitchedRules.SwitchProvenBeforePulse());
    bridged.w.full = true;
    prove(bridged);
    assertThat(bridged.brokenByFire()).isTrue();

    Stage stuck = intended(new SwitchedRules.SwitchProvenBeforePulse());
    stuck.stands(HappeningKind.RELAY_PULLED, "full");
    stuck.w.full = true;
    prove(stuck);
    assertThat(stuck.brokenByFire()).as("it sticks by itself and the switch blocks all").isFalse();

    Stage leaks = intended(new SwitchedRules.SwitchProvenBeforePulse());
    leaks.w.coilAmps = 0.07;
    prove(leaks);
    assertThat(leaks.brokenByFire()).isTrue();
  }

  @Test
  void givesTheGateItsTimerAndAWindowWithTheTimerDead() {
    Stage timed = stage(new FireRules.GateIsShort());
    timed.w.firing = true;
    assertThat(timed.brokenIn(121)).isFalse();
    assertThat(timed.brokenIn(1)).isTrue();

    Stage dead = stage(new FireRules.GateIsShort());
    dead.stands(HappeningKind.TIMER_DEAD, "");
    dead.w.firing = true;
    assertThat(dead.brokenIn(301)).isFalse();
    assertThat(dead.brokenIn(1)).isTrue();
  }

  @Test
  void seesAFeedThatAnOpenChainDoesNotCut() {
    Stage stage = stage(new BankRules.ChainCuts());
    stage.w.chain = false;
    stage.w.feeding = true;
    assertThat(stage.brokenIn(6)).isFalse();
    assertThat(stage.brokenIn(1)).isTrue();
    stage.stands(HappeningKind.RELAY_WELDED, "on");
    assertThat(stage.brokenIn(1)).isFalse();
  }

  @Test
  void seesAWeldedFeedRelayThatTripsNothing() {
    Stage stage = stage(new BankRules.SeesAWeld());
    stage.w.hostFromMs = 0;
    stage.w.feeding = true;
    boolean broken = false;
    for (int ms = 0; ms < 150; ms++) {
      broken |= stage.brokenInScan(0);
    }
    assertThat(broken).isFalse();
    assertThat(stage.brokenInScan(0)).isTrue();
  }

  @Test
  void seesTheFeedUsedWithoutADurableIntent() {
    assertThat(intended(new FireRules.FiresOnRecord()).brokenInScan(Bits.FEED)).isFalse();
    assertThat(stage(new FireRules.FiresOnRecord()).brokenInScan(Bits.FEED)).isTrue();
  }

  @Test
  void seesAPeakThatIsNotWhatHasFlowed() {
    assertThat(peakTold(41_000, 40)).isTrue();
    assertThat(peakTold(40_500, 40)).isFalse();
    assertThat(peakTold(150, 0.2)).isFalse();
  }

  private static boolean peakTold(long milliAmps, double amps) {
    Stage stage = stage(new RecordRules.PeakIsTrue());
    stage.w.peakForwardAmps = amps;
    return stage.brokenBy(
        30,
        new ActEvent.PulseEnded(
            Stage.INTENT, 3, "delivered", 1, 1, 0, 0, milliAmps, 0, 60_000, 2_200, ""));
  }
}
