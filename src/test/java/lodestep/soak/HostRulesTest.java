package lodestep.soak;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.config.ShippedRig;
import org.junit.jupiter.api.Test;

/**
 * Goal: each rule of persons, trips and the loop can fail, and does not where it only just holds.
 */
class HostRulesTest {

  private static void turnKey(Stage stage) {
    stage.w.keyOffAtMs = stage.w.ms + 10;
    stage.w.keyOnAtMs = stage.w.ms + 20;
    stage.brokenIn(30);
  }

  private static Stage lidOpenedInUse() {
    Stage stage = new Stage(new HostRules.StaysOffUntilReset());
    stage.w.hostFromMs = 0;
    stage.w.bankVolts = 30;
    stage.brokenIn(1);
    stage.w.contacts &= ~Bits.LID_A;
    stage.brokenIn(1);
    stage.w.contacts |= Bits.LID_A;
    stage.w.bankVolts = 0;
    stage.brokenIn(100);
    return stage;
  }

  @Test
  void seesEnergyAfterTheLidWasOpenedInUse() {
    assertThat(lidOpenedInUse().brokenInScan(Bits.HOLD)).isTrue();
    Stage reset = lidOpenedInUse();
    turnKey(reset);
    assertThat(reset.brokenInScan(Bits.HOLD)).isFalse();
  }

  @Test
  void allowsTheLidToBeOpenedWhileLoading() {
    Stage stage = new Stage(new HostRules.StaysOffUntilReset());
    stage.w.hostFromMs = 0;
    stage.brokenIn(1);
    stage.w.contacts &= ~Bits.LID_A;
    stage.brokenIn(10);
    stage.w.contacts |= Bits.LID_A;
    stage.brokenIn(100);
    assertThat(stage.brokenInScan(Bits.HOLD)).isFalse();
  }

  private static boolean brokenAfterTheChainOpenedAt(double volts) {
    Stage stage =
        new Stage(
            new HostRules.StaysOffUntilReset(),
            RigFigures.of(ShippedRig.read("rig-virtual-switched.toml")));
    stage.w.hostFromMs = 0;
    stage.w.bankVolts = volts;
    stage.brokenIn(1);
    stage.w.chain = false;
    stage.brokenIn(1);
    stage.w.chain = true;
    stage.w.bankVolts = 0;
    stage.brokenIn(100);
    return stage.brokenInScan(Bits.FEED);
  }

  /** From 15.5 V it has fallen to 10 V, where nothing is in use, before a host can know. */
  @Test
  void allowsTheChainToOpenOnceASwitchedCoilsFeedIsLow() {
    assertThat(brokenAfterTheChainOpenedAt(15.6)).isTrue();
    assertThat(brokenAfterTheChainOpenedAt(15.4)).isFalse();
  }

  private static Stage tripped(Rule rule) {
    Stage stage = new Stage(rule);
    stage.w.keyOnAtMs = 500;
    stage.w.tripped = true;
    stage.w.trippedAtMs = stage.w.ms;
    stage.w.state = RigState.TRIPPED;
    stage.brokenInScan(0);
    return stage;
  }

  @Test
  void seesATripClearedWithoutTheKey() {
    Stage stage = tripped(new HostRules.OnlyAKeyResets());
    stage.w.tripped = false;
    assertThat(stage.brokenInScan(0)).isTrue();

    Stage reset = tripped(new HostRules.OnlyAKeyResets());
    turnKey(reset);
    reset.w.tripped = false;
    assertThat(reset.brokenInScan(0)).isFalse();
  }

  @Test
  void seesAPlanThatGoesOnByItself() {
    Stage stage = tripped(new HostRules.OnlyAPersonGoesOn());
    stage.w.state = RigState.LOADING;
    assertThat(stage.brokenInScan(0)).isTrue();

    Stage asked = tripped(new HostRules.OnlyAPersonGoesOn());
    asked.brokenIn(100);
    asked.w.continuedAtMs = asked.w.ms;
    asked.w.state = RigState.LOADING;
    assertThat(asked.brokenInScan(0)).isFalse();
  }

  @Test
  void seesAnythingAskedForWhileATripStands() {
    assertThat(tripped(new HostRules.NothingPendingAfterAStop()).brokenInScan(0)).isFalse();
    assertThat(tripped(new HostRules.NothingPendingAfterAStop()).brokenInScan(Bits.HOLD)).isTrue();
    Stage window = tripped(new HostRules.NothingPendingAfterAStop());
    window.w.energyRequests = 1;
    assertThat(window.brokenInScan(0)).as("a token or window is asked for").isTrue();
    Stage permit = tripped(new HostRules.NothingPendingAfterAStop());
    permit.w.beats = 1;
    permit.w.permitBeatAtMs = permit.w.ms + 1;
    assertThat(permit.brokenInScan(0)).as("the permit is asked for").isTrue();
  }

  @Test
  void seesAStartWithoutThePedal() {
    Stage stage = tripped(new HostRules.OnePedalOneStart());
    stage.w.tripped = false;
    stage.w.state = RigState.READING;
    stage.brokenIn(100);
    assertThat(stage.brokenInScan(Bits.HOLD)).isTrue();

    Stage pressed = tripped(new HostRules.OnePedalOneStart());
    pressed.w.tripped = false;
    pressed.w.state = RigState.READING;
    pressed.w.pedalAtMs = pressed.w.ms + 1;
    pressed.brokenIn(100);
    assertThat(pressed.brokenInScan(Bits.HOLD)).isFalse();
  }

  @Test
  void seesALateScanThatSpeaksOrDrives() {
    assertThat(lateBy(20, 0, 1)).isFalse();
    assertThat(lateBy(21, 0, 1)).as("a heartbeat").isTrue();
    assertThat(lateBy(150, Bits.HOLD, 0)).isFalse();
    assertThat(lateBy(151, Bits.HOLD, 0)).as("energy").isTrue();
  }

  private static boolean lateBy(long ms, int asked, int beats) {
    Stage stage = new Stage(new HostRules.LateScanIsSafe());
    stage.w.hostFromMs = 0;
    stage.w.scanAtMs = stage.w.ms + 1 - 5 - ms;
    stage.w.beats = beats;
    return stage.brokenInScan(asked);
  }
}
