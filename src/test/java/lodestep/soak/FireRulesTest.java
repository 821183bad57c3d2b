package lodestep.soak;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.function.Consumer;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** Goal: each rule of gate and coil can fail, and does not where it only just holds. */
class FireRulesTest {

  private static Stage readyToFire(Rule rule) {
    Stage stage = new Stage(rule);
    stage.intend(true, 40_000);
    stage.w.bleeding = false;
    stage.w.bankVolts = 39.9;
    stage.brokenIn(100);
    stage.w.windowAskedAtMs = stage.w.ms;
    return stage;
  }

  static Stream<Arguments> terms() {
    return Stream.of(
        term("lid contact A", w -> w.lidAClosedFromMs = w.ms - 40),
        term("lid contact B", w -> w.lidBClosedFromMs = w.ms - 40),
        term("stop loop", w -> w.stopClosedFromMs = w.ms - 40),
        term("chain", w -> w.chain = false),
        term("coil hot", w -> w.coilKelvin = Stage.COIL_KELVIN_MAX + 2),
        term("bank above the intent", w -> w.bankVolts = 40.2),
        term("changeover not as asked", w -> w.direction = -1),
        term("changeover not still", w -> w.direction = 0),
        term("supply on", w -> w.filling = true),
        term("bleed contact closed", w -> w.bleeding = true));
  }

  private static Arguments term(String words, Consumer<Witness> breaks) {
    return Arguments.of(words, breaks);
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("terms")
  void seesTheGateFedWithout(String words, Consumer<Witness> breaks) {
    Rule rule = new FireRules.FiresOnlyWhenSafe();
    Stage stage = readyToFire(rule);
    breaks.accept(stage.w);

    assertThat(stage.brokenByFire()).isTrue();
    assertThat(rule.detail(stage.w)).contains(words);
  }

  @Test
  void letsTheGateBeFedWhenAllIsWell() {
    assertThat(readyToFire(new FireRules.FiresOnlyWhenSafe()).brokenByFire()).isFalse();
  }

  @Test
  void seesTheGateRaisedOnOldInputsOrInALateScan() {
    Stage fresh = new Stage(new FireRules.AsksToFireOnFreshInputs());
    fresh.w.statusAtMs = fresh.w.ms - 49;
    Stage old = new Stage(new FireRules.AsksToFireOnFreshInputs());
    old.w.statusAtMs = old.w.ms - 50;
    Stage late = new Stage(new FireRules.AsksToFireOnFreshInputs());
    late.w.scanAtMs = late.w.ms - 25;

    assertThat(fresh.brokenInScan(Bits.HOLD | Bits.FIRE)).isFalse();
    assertThat(old.brokenInScan(Bits.HOLD | Bits.FIRE)).isTrue();
    assertThat(late.brokenInScan(Bits.HOLD | Bits.FIRE)).isTrue();
  }

  @Test
  void seesATokenSpentTwiceInventedOrTooOld() {
    Stage once = readyToFire(new FireRules.OneTokenOnePulse());
    assertThat(once.brokenByFire()).isFalse();
    assertThat(once.brokenByFire()).as("spent twice").isTrue();

    Stage invented = readyToFire(new FireRules.OneTokenOnePulse());
    invented.w.windowToken = Stage.TOKEN + 1;
    assertThat(invented.brokenByFire()).as("invented").isTrue();

    Stage foreign = readyToFire(new FireRules.OneTokenOnePulse());
    foreign.w.windowIntent = Stage.INTENT + 1;
    assertThat(foreign.brokenByFire()).as("of another intent").isTrue();

    Stage old = readyToFire(new FireRules.OneTokenOnePulse());
    old.w.grantedAtMs = old.w.windowAskedAtMs - 501;
    assertThat(old.brokenByFire()).as("too old").isTrue();

    Stage over = readyToFire(new FireRules.OneTokenOnePulse());
    over.w.windowAskedAtMs = over.w.ms - 400;
    assertThat(over.brokenByFire()).as("window over").isTrue();
  }

  @Test
  void seesAGateThatIsFedTooLong() {
    Stage sound = new Stage(new FireRules.GateIsShort());
    sound.w.firing = true;
    assertThat(sound.brokenIn(301)).isFalse();
    assertThat(sound.brokenIn(1)).isTrue();

    Stage hung = new Stage(new FireRules.GateIsShort());
    hung.w.firing = true;
    hung.stands(HappeningKind.HEAD_HUNG, "");
    assertThat(hung.brokenIn(552)).as("the watchdog has its time").isFalse();
    assertThat(hung.brokenIn(1)).isTrue();
  }

  @Test
  void seesFillingAndFiringTogether() {
    Stage stage = new Stage(new FireRules.FillsAndFiresApart());
    stage.w.firing = true;
    assertThat(stage.brokenIn(1)).isFalse();
    stage.w.filling = true;
    assertThat(stage.brokenIn(1)).isTrue();
  }

  @Test
  void seesTheChangeoverMovedUnderCurrentChargeOrWindow() {
    assertThat(turned(w -> {})).isFalse();
    assertThat(turned(w -> w.coilAmps = -0.07)).isTrue();
    assertThat(turned(w -> w.bankVolts = 11.1)).isTrue();
    assertThat(turned(w -> w.window = true)).isTrue();
  }

  @Test
  void excusesAChangeoverOnItsWayWhenTheFeedRelayPullsInByItself() {
    assertThat(turnedAfterFeedRelay(20)).isFalse();
    assertThat(turnedAfterFeedRelay(21)).as("its contact has told by then").isTrue();
  }

  private static boolean turnedAfterFeedRelay(int ms) {
    Stage stage = new Stage(new FireRules.TurnsDry());
    stage.brokenIn(1);
    stage.stands(HappeningKind.RELAY_PULLED, "on");
    stage.w.bankVolts = 48;
    stage.brokenIn(ms - 1);
    stage.w.direction = 0;
    return stage.brokenIn(1);
  }

  private static boolean turned(Consumer<Witness> with) {
    Stage stage = new Stage(new FireRules.TurnsDry());
    stage.brokenIn(1);
    with.accept(stage.w);
    stage.w.direction = 0;
    return stage.brokenIn(1);
  }

  @Test
  void seesEnergyWithoutADurableIntent() {
    Stage recorded = readyToFire(new FireRules.FiresOnRecord());
    assertThat(recorded.brokenInScan(Bits.HOLD)).isFalse();
    assertThat(recorded.brokenByFire()).isFalse();

    assertThat(new Stage(new FireRules.FiresOnRecord()).brokenInScan(Bits.HOLD)).isTrue();
    assertThat(new Stage(new FireRules.FiresOnRecord()).brokenByFire()).isTrue();

    Stage early = readyToFire(new FireRules.FiresOnRecord());
    early.w.record.appended(Stage.INTENT + 1, Stage.intent(true, 40_000));
    early.w.record.forgetFresh();
    early.w.windowIntent = Stage.INTENT + 1;
    assertThat(early.brokenByFire()).as("on record, but not durable").isTrue();
  }

  @Test
  void seesCurrentThatNoGateHasLetThrough() {
    Stage stage = new Stage(new FireRules.FiresOnRecord());
    stage.w.pulseBegan = true;
    assertThat(stage.brokenIn(1)).isTrue();

    Stage told = new Stage(new FireRules.FiresOnRecord());
    told.stands(HappeningKind.SWITCH_SHORTED, "");
    told.w.pulseBegan = true;
    assertThat(told.brokenIn(1)).as("a shorted switch is the rig's fault").isFalse();
  }

  @Test
  void seesACoilThatGetsTooHot() {
    Stage stage = new Stage(new FireRules.StaysCool());
    stage.w.coilKelvin = Stage.COIL_KELVIN_MAX + 25;
    assertThat(stage.brokenIn(1)).isFalse();
    stage.w.coilKelvin += 0.1;
    assertThat(stage.brokenIn(1)).isTrue();
  }
}
