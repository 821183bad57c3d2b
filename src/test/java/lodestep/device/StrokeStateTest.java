package lodestep.device;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import lodestep.config.JigConfig;
import lodestep.config.RigConfig;
import lodestep.config.ShippedRig;
import lodestep.port.ActEvent;
import lodestep.port.LedgerState;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;

/**
 * Goal: the jig moves for a stroke only once its intent is on disk, and the stroke is recorded by
 * the lowest place that was seen. Method: each state is stepped just at and just beyond its limit.
 */
class StrokeStateTest {

  private static final long T = 1_000_000_000_000L;
  private static final RigConfig RIG = ShippedRig.read("rig-virtual-jig.toml");
  private static final JigConfig JIG = RIG.jig().orElseThrow();

  /** A curve that doubles its field with every spacing. */
  private static final StrokePlan PLAN =
      new StrokePlan(
          new Order(3, 1, 2, "knock down", false, new FieldStrength(20_000)),
          Length.ofMicroMetres(600),
          Length.ofMm(16.5),
          12,
          List.of(10_000.0, 20_000.0, 40_000.0),
          JIG,
          RIG.limits());

  private static Scans after(long ns) {
    return new Scans(T + ns);
  }

  private static void assertQuiet(ActStep step, Act next) {
    assertThat(step.next()).isEqualTo(next);
    assertThat(step.wanted()).isEqualTo(Outputs.ALL_LOW);
    assertThat(step.permit()).isFalse();
    assertThat(step.requests()).isEmpty();
  }

  private static StrokeResult resultOf(ActStep step) {
    return (StrokeResult) step.next().result().orElseThrow();
  }

  @Test
  void movesNothingBeforeTheIntentIsOnDisk() {
    StrokeState waits = StrokeState.begin(PLAN, T);
    long limit = PLAN.limits().ledgerWaitNs();
    Scans early = after(limit);
    early.ledger = new LedgerState(11, Optional.empty());
    Scans durable = after(5);
    durable.ledger = new LedgerState(12, Optional.empty());
    Scans broken = after(5);
    broken.ledger = new LedgerState(12, Optional.of("full"));

    assertQuiet(waits.step(early.view()), waits);
    assertQuiet(waits.step(durable.view()), new StrokeState.Moving(PLAN, PLAN.move(durable.nowNs)));
    assertThat(resultOf(waits.step(broken.view())).why()).contains("full");
    early.nowNs++;
    StrokeResult late = resultOf(waits.step(early.view()));
    assertThat(late.outcome()).isEqualTo(Outcome.NOT_FIRED);
    assertThat(late.why()).contains("not on disk in time");
    assertThat(late.moved()).isFalse();
    assertThat(waits.result()).isEmpty();
    assertThat(waits.resting()).isEqualTo(Outputs.ALL_LOW);
    assertThat(waits.reported(early.view())).isEmpty();
    assertThat(waits.intent())
        .isEqualTo(
            new ActEvent.StrokeIntended(3, 1, 2, "knock down", false, 600, gap(600), 20_000));
    StrokeResult cut = (StrokeResult) waits.cut("a trip");
    assertThat(cut.outcome()).isEqualTo(Outcome.NOT_FIRED);
    assertThat(cut.why()).isEqualTo("a trip");
  }

  /** What is left between the faces: nest's floor to magnet at home, less work, less way. */
  private static long gap(int microMetres) {
    return JIG.heightAtHome().microMetres() - 16_500 - microMetres;
  }

  private static StrokeState moving() {
    Scans on = after(0).driven(OutputLine.JIG_ENABLE);
    on.positionMicroMetres = 500;
    return (StrokeState) new StrokeState.Moving(PLAN, PLAN.move(T)).step(on.view()).next();
  }

  @Test
  void wantsTheDriverWhileItMoves() {
    StrokeState waits = new StrokeState.Moving(PLAN, PLAN.move(T));
    ActStep step = waits.step(after(5).view());

    assertThat(step.next()).isEqualTo(waits);
    assertThat(step.wanted()).isEqualTo(Outputs.high(OutputLine.JIG_ENABLE));
    assertThat(step.permit()).isTrue();
    assertThat(PLAN.move(T).targetsMicroMetres())
        .as("down, home, park")
        .containsExactly(600, 0, (int) JIG.screw().park().microMetres());
  }

  @Test
  void hasNotFiredWhenTheDriverNeverCameAndMisfiredWhenItStuckOnItsWay() {
    StrokeState waits = new StrokeState.Moving(PLAN, PLAN.move(T));
    StrokeResult never = resultOf(waits.step(after(3_000_000_001L).view()));
    Scans stands = after(1_500_000_001L).driven(OutputLine.JIG_ENABLE);
    stands.positionMicroMetres = 500;
    stands.says(HeadFlag.JIG_FAR);
    StrokeState sent = (StrokeState) moving().step(stands.view()).next();
    stands.nowNs += 1_500_000_001L;
    StrokeResult stuck = resultOf(sent.step(stands.view()));

    assertThat(never.outcome()).isEqualTo(Outcome.NOT_FIRED);
    assertThat(never.moved()).isFalse();
    assertThat(never.why()).contains("did not come");
    assertThat(stuck.outcome()).isEqualTo(Outcome.MISFIRED);
    assertThat(stuck.moved()).isTrue();
    assertThat(stuck.lowestMicroMetres()).isEqualTo(500);
    assertThat(stuck.why()).contains("did not move any more");
  }

  @Test
  void isDeliveredOnceItsWholeWayIsDone() {
    JigMove last =
        new JigMove(JIG, List.of(600), JigMove.Stage.DWELL, T, 600, 600, 600, Optional.empty());
    StrokeState dwells = new StrokeState.Moving(PLAN, last);
    ActStep ends = dwells.step(after(60_000_000L).driven(OutputLine.JIG_ENABLE).view());
    StrokeResult delivered = resultOf(ends);

    View dwelling = after(5).driven(OutputLine.JIG_ENABLE).view();
    assertThat(dwells.step(dwelling).next()).isEqualTo(dwells);
    assertThat(resultOf(dwells.step(after(5).view())).why()).contains("switched off");
    assertThat(delivered.outcome()).isEqualTo(Outcome.DELIVERED);
    assertThat(delivered.why()).isEmpty();
    assertThat(delivered.lesson()).isEmpty();
    StrokeState over = (StrokeState) ends.next();
    assertQuiet(over.step(after(9).view()), over);
    assertThat(over.cut("later")).isEqualTo(delivered);
    ActEvent.StrokeEnded entry = (ActEvent.StrokeEnded) delivered.entry(after(9).view());
    assertThat(entry)
        .isEqualTo(
            new ActEvent.StrokeEnded(
                12,
                3,
                "delivered",
                600,
                gap(600),
                Math.round(PLAN.fieldAt(600).amperesPerMetre()),
                false,
                9,
                ""));
    StrokeResult none = new StrokeResult(PLAN, Outcome.NOT_FIRED, false, 700, "why");
    assertThat(none.entry(after(9).view()))
        .isEqualTo(new ActEvent.StrokeEnded(12, 3, "not fired", 0, 0, 0, false, 9, "why"));
  }

  @Test
  void takesTheFieldBetweenTwoPlacesOfItsCurve() {
    assertThat(PLAN.fieldAt(0).amperesPerMetre()).isEqualTo(10_000);
    assertThat(PLAN.fieldAt(-5).amperesPerMetre()).isEqualTo(10_000);
    assertThat(PLAN.fieldAt(250).amperesPerMetre()).isEqualTo(20_000);
    assertThat(PLAN.fieldAt(375).amperesPerMetre())
        .as("halfway the root of two")
        .isCloseTo(20_000 * Math.sqrt(2), within(1e-6));
    assertThat(PLAN.fieldAt(750).amperesPerMetre()).as("as it went on").isEqualTo(80_000);
  }

  @Test
  void isUnverifiedWhenCutOnItsWay() {
    StrokeResult cut = (StrokeResult) moving().cut("a trip");

    assertThat(cut.outcome()).isEqualTo(Outcome.UNVERIFIED);
    assertThat(cut.field().amperesPerMetre()).isEqualTo(40_000);
    StrokeState waits = new StrokeState.Moving(PLAN, PLAN.move(T));
    assertThat(((StrokeResult) waits.cut("a trip")).outcome()).isEqualTo(Outcome.NOT_FIRED);
    assertThat(waits.cut("a trip").field().amperesPerMetre()).isZero();
  }
}
