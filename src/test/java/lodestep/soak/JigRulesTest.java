package lodestep.soak;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import lodestep.config.RigConfig;
import lodestep.config.ShippedRig;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Goal: each rule of the jig can fail, and does not where it only just holds. */
class JigRulesTest {

  private static final RigConfig RIG = ShippedRig.read("rig-virtual-jig.toml");
  private static final double PARK = RIG.jig().orElseThrow().screw().park().metres();
  private static final double TRAVEL = RIG.jig().orElseThrow().screw().travel().metres();
  private static final double MM = 1e-3;
  private static final long PLACE_MICRO_METRES = 50_000;

  /** The carriage parked over a magnet. */
  private static Stage stage(Rule rule) {
    Stage stage = new Stage(rule, RigFigures.of(RIG));
    stage.w.hands = Bits.PERSON_CONTACTS | Bits.WORK_SEAT;
    stage.w.carriageMetres = PARK;
    stage.w.carriageBefore = PARK;
    return stage;
  }

  private static boolean brokenAt(Stage stage, double... metres) {
    return Arrays.stream(metres).anyMatch(each -> arrives(stage, each));
  }

  private static boolean arrives(Stage stage, double metres) {
    stage.w.carriageBefore = stage.w.carriageMetres;
    stage.w.carriageMetres = metres;
    stage.w.record.carriageAt(metres);
    return stage.brokenIn(1);
  }

  private static ActEvent.StrokeIntended intent(long micrometres, long gapMicroMetres) {
    return new ActEvent.StrokeIntended(
        3, 1, 1, "knock down", false, micrometres, gapMicroMetres, 20_000);
  }

  private static ActEvent.StrokeEnded ended(String outcome, long micrometres) {
    return new ActEvent.StrokeEnded(
        Stage.INTENT, 3, outcome, micrometres, 9_000, 20_000, false, 1, "");
  }

  private static void intend(Stage stage) {
    stage.w.record.appended(Stage.INTENT, intent(PLACE_MICRO_METRES, 9_000));
    stage.w.record.forgetFresh();
  }

  @Test
  void seesTheCarriageComeDownWithoutADurableIntent() {
    Stage stage = stage(new JigRules.GoesDownOnRecord());
    assertThat(brokenAt(stage, PARK + 2.5 * MM)).as("leaving home").isFalse();
    assertThat(brokenAt(stage, PARK + 2.7 * MM)).isTrue();

    intend(stage);
    assertThat(brokenAt(stage, PARK + 2.8 * MM)).as("not durable yet").isTrue();
    stage.w.record.acknowledged(Stage.INTENT);
    assertThat(brokenAt(stage, PARK + 2.9 * MM)).isFalse();
    assertThat(brokenAt(stage, 50.25 * MM)).isFalse();
    assertThat(brokenAt(stage, 50.35 * MM)).as("lower than it says").isTrue();
    assertThat(brokenAt(stage, 50.34 * MM)).as("on its way up").isFalse();
  }

  @Test
  void seesAStrokeThatLeavesItsParkPositionBeforeItsIntentIsDurable() {
    Stage stage = stage(new JigRules.GoesDownOnRecord());
    intend(stage);
    assertThat(brokenAt(stage, PARK + 0.1 * MM)).isTrue();

    stage.w.record.acknowledged(Stage.INTENT);
    assertThat(brokenAt(stage, PARK + 0.2 * MM)).isFalse();
  }

  @Test
  void letsTheCarriageComeDownOverAnEmptyNestOrAFalsifiedPlace() {
    Stage empty = stage(new JigRules.GoesDownOnRecord());
    empty.w.hands = Bits.PERSON_CONTACTS;
    assertThat(brokenAt(empty, 60 * MM)).isFalse();

    Stage lost = stage(new JigRules.GoesDownOnRecord());
    lost.stands(HappeningKind.STEPS_LOST, "");
    assertThat(brokenAt(lost, 60 * MM)).isFalse();
  }

  @Test
  void seesTheCarriageBeyondItsEnds() {
    Stage stage = stage(new JigRules.StaysBetweenItsEnds());
    assertThat(brokenAt(stage, -1.2 * MM, TRAVEL + 1.2 * MM)).isFalse();
    assertThat(brokenAt(stage, -1.4 * MM)).isTrue();
    assertThat(brokenAt(stage, TRAVEL + 1.4 * MM)).isTrue();

    stage.stands(HappeningKind.LIMIT_CLOSED, "far");
    assertThat(brokenAt(stage, TRAVEL + 1.4 * MM)).as("a switch that is stuck closed").isFalse();
    assertThat(brokenAt(stage, -1.4 * MM)).as("the other one").isTrue();
  }

  @Test
  void seesBankAndCoilUsedWithTheJigAway() {
    Stage stage = stage(new JigRules.CoilWithTheJigParked());
    stage.w.filling = true;
    stage.w.asked = Bits.FILL;
    assertThat(brokenAt(stage, PARK + 0.25 * MM)).isFalse();
    assertThat(brokenAt(stage, PARK + 0.35 * MM)).isTrue();
    stage.w.filling = false;
    assertThat(brokenAt(stage, PARK + 0.35 * MM)).isFalse();
    stage.w.firing = true;
    stage.w.asked = Bits.FIRE;
    assertThat(brokenAt(stage, PARK + 0.35 * MM)).isTrue();
  }

  @Test
  void seesADriverLeftOnForAnEndlessWay() {
    Stage stage = stage(new JigRules.Path());
    stage.w.motorFed = true;
    assertThat(brokenAt(stage, TRAVEL, 0, 25 * MM)).as("there, back, and a bit").isFalse();
    assertThat(brokenAt(stage, 30 * MM)).isTrue();

    Stage off = stage(new JigRules.Path());
    assertThat(brokenAt(off, TRAVEL, 0, TRAVEL, 0)).as("moved by hand").isFalse();
  }

  @Test
  void seesTheMotorFedThroughAnOpenChain() {
    Stage stage = new Stage(new BankRules.ChainCuts(), RigFigures.of(RIG));
    stage.w.chain = false;
    stage.w.motorFed = true;
    assertThat(stage.brokenIn(6)).isFalse();
    assertThat(stage.brokenIn(1)).isTrue();
  }

  @ParameterizedTest
  @ValueSource(doubles = {49.75, 50, 50.25})
  void believesAStrokeThatCameToItsPlace(double millimetres) {
    assertThat(told("delivered", millimetres)).isFalse();
  }

  @ParameterizedTest
  @ValueSource(doubles = {49.65, 50.35})
  void seesAStrokeThatCameElsewhere(double millimetres) {
    assertThat(told("delivered", millimetres)).isTrue();
  }

  @Test
  void seesAStrokeThatMovedAndIsToldAsNotFired() {
    assertThat(told("not fired", 3)).isTrue();
    assertThat(told("not fired", PARK / MM)).as("it never moved").isFalse();
    assertThat(told("misfired", 3)).isFalse();
  }

  private static boolean told(String outcome, double lowestMillimetres) {
    Stage stage = stage(new RecordRules.StrokeIsTrue());
    intend(stage);
    stage.w.record.carriageAt(PARK);
    stage.w.record.carriageAt(lowestMillimetres * MM);
    stage.w.record.carriageAt(PARK);
    return stage.brokenBy(30, ended(outcome, PLACE_MICRO_METRES));
  }

  @Test
  void seesAnAcceptedMagnetToWhichTheJigCameNearerThanIsTold() {
    LedgerEvent accepted =
        new LedgerEvent.VerdictGiven(
            3, 1, "accepted", 62_000, 90, 62_000, 900, 180, 1, 1, 0, "held");
    Stage stage = stage(new RecordRules.OpposedAsOnRecord());
    intend(stage);
    stage.brokenBy(20, ended("delivered", PLACE_MICRO_METRES));
    stage.w.lowestMetres = () -> 50.25 * MM;
    assertThat(stage.brokenBy(30, accepted)).isFalse();
    stage.w.lowestMetres = () -> 50.35 * MM;
    assertThat(stage.brokenBy(31, accepted)).as("nearer than told").isTrue();
    stage.w.lowestMetres = () -> PARK;
    assertThat(stage.brokenBy(32, accepted)).as("charged again, and not told").isTrue();
  }

  @Test
  void countsAStrokeThatACrashCutOffForAsMuchAsWasMeant() {
    LedgerEvent accepted =
        new LedgerEvent.VerdictGiven(
            3, 1, "accepted", 62_000, 90, 62_000, 900, 180, 1, 1, 0, "held");
    Stage stage = stage(new RecordRules.OpposedAsOnRecord());
    intend(stage);
    stage.brokenBy(20, ended("unknown", 0));
    stage.w.lowestMetres = () -> PARK;
    assertThat(stage.brokenBy(30, accepted)).isFalse();
    stage.w.lowestMetres = () -> 50 * MM;
    assertThat(stage.brokenBy(31, accepted)).isFalse();
    stage.w.lowestMetres = () -> 50.35 * MM;
    assertThat(stage.brokenBy(32, accepted)).isTrue();
  }

  @Test
  void seesAZeroTakenWithTheJigAway() {
    LedgerEvent zero = new LedgerEvent.ZeroTaken(1, 1, 50, 2_150, 4);
    Stage stage = stage(new RecordRules.ZeroWithTheJigParked());
    assertThat(stage.brokenBy(20, zero)).isFalse();
    stage.w.carriageMetres = PARK + 0.35 * MM;
    assertThat(stage.brokenBy(21, zero)).isTrue();
  }

  @Test
  void seesAnIntentNearerThanTheSmallestGapOrToTheFarSwitch() {
    Stage stage = stage(new RecordRules.StrokeWithinGap());
    assertThat(stage.brokenBy(20, intent(72_500, 3_000))).isFalse();
    assertThat(stage.brokenBy(21, intent(72_600, 2_900))).isTrue();
    assertThat(stage.brokenBy(22, intent(77_500, 9_000))).isFalse();
    assertThat(stage.brokenBy(23, intent(77_600, 9_000))).isTrue();
  }

  @Test
  void seesTheMotorDrivenWhereAHandMayBe() {
    Stage stage = stage(new HostRules.NothingDrivenAtRest());
    stage.w.state = RigState.BY_HAND;
    stage.w.stateBefore = RigState.BY_HAND;
    assertThat(stage.brokenInScan(0)).isFalse();
    assertThat(stage.brokenInScan(Bits.MOTOR)).isTrue();

    Stage stroke = stage(new HostRules.NothingDrivenAtRest());
    stroke.w.state = RigState.STROKE_DOWN;
    stroke.w.stateBefore = RigState.STROKE_DOWN;
    assertThat(stroke.brokenInScan(Bits.MOTOR)).isFalse();
  }
}
