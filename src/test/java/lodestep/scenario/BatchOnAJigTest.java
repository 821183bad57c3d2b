package lodestep.scenario;

import static lodestep.scenario.JigBenches.BOTH;
import static lodestep.scenario.JigBenches.JIG;
import static lodestep.scenario.JigBenches.all;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import lodestep.app.VirtualBench;
import lodestep.bench.Continuation;
import lodestep.bench.Entry;
import lodestep.bench.PlanRow;
import lodestep.config.RigConfig;
import lodestep.dial.Task;
import lodestep.ledger.MemoryStore;
import lodestep.ledger.OpenWork;
import lodestep.ledger.Proof;
import lodestep.port.ActEvent;
import lodestep.port.InputLine;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.StoredEvent;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Goal: a rig with a jig brings magnets to their level, hands off between charge and lamp, and lets
 * go when it breaks. Method: whole batches on the shipped rigs, in virtual time.
 */
class BatchOnAJigTest {

  private static final long SEED = 17;
  private static final double GAUSS = 600;
  private static final double TOLERANCE = 9;

  private static PlanRow rods(RigConfig rig, int count) {
    return JigBenches.rods(rig, Benches.level(GAUSS, TOLERANCE), count);
  }

  private static void checkAccepted(List<LedgerEvent> events, int count) {
    List<LedgerEvent.VerdictGiven> verdicts = all(events, LedgerEvent.VerdictGiven.class);
    assertThat(verdicts).extracting(LedgerEvent.VerdictGiven::verdict).containsOnly("accepted");
    assertThat(verdicts)
        .hasSize(count)
        .allSatisfy(
            verdict ->
                assertThat(Math.abs(verdict.fieldMicroTesla() - GAUSS * 100))
                    .isLessThan((long) (TOLERANCE * 100)));
    assertThat(all(events, ActEvent.StrokeEnded.class))
        .hasSizeGreaterThanOrEqualTo(2 * count)
        .allSatisfy(stroke -> assertThat(stroke.outcome()).isEqualTo("delivered"));
  }

  @Test
  void dialsABatchThatIsChargedByHand() {
    List<LedgerEvent> events = JigBenches.run(JIG, SEED, rods(JIG, 3));

    checkAccepted(events, 3);
    assertThat(all(events, ActEvent.PulseIntended.class)).isEmpty();
    // Two for the first of its kind, to prove a full charge; then one each.
    assertThat(all(events, LedgerEvent.ActByHand.class))
        .hasSize(4)
        .allSatisfy(act -> assertThat(act.act()).isEqualTo("charge"));
    assertThat(all(events, LedgerEvent.GapCurveMeasured.class)).hasSize(1);
  }

  @Test
  void dialsABatchThatTheCoilCharges() {
    List<LedgerEvent> events = JigBenches.run(BOTH, SEED, rods(BOTH, 2));

    checkAccepted(events, 2);
    assertThat(all(events, ActEvent.PulseIntended.class))
        .hasSize(3)
        .allSatisfy(pulse -> assertThat(pulse.purpose()).isEqualTo("charge"));
    assertThat(all(events, LedgerEvent.ActByHand.class)).isEmpty();
  }

  @Test
  void writesTheSameBytesFromTheSameSeed() {
    List<StoredEvent> once = stored(SEED);

    assertThat(stored(SEED)).isEqualTo(once);
    assertThat(stored(SEED + 1)).isNotEqualTo(once);
  }

  private static List<StoredEvent> stored(long seed) {
    MemoryStore store = Benches.emptyLedger(JIG);
    try (VirtualBench bench =
        Benches.started(JIG, store, JigBenches.batch(JIG, rods(JIG, 1)), seed, FaultPlan.NONE)) {
      Benches.toTheEnd(bench);
      bench.end("done");
    }
    List<StoredEvent> events = new ArrayList<>();
    store.forEach(1, store.newest().number(), events::add);
    return events;
  }

  /** The last stroke but the proof ends nearer to the target once two magnets have taught. */
  @Test
  void aimsNearerByTheThirdMagnet() {
    double first = 0;
    double third = 0;
    for (long seed = 1; seed <= 6; seed++) {
      List<LedgerEvent> events =
          JigBenches.run(JIG, seed, JigBenches.rods(JIG, Benches.level(380, 3), 3));
      List<LedgerEvent.VerdictGiven> verdicts = all(events, LedgerEvent.VerdictGiven.class);
      first += afterOneStroke(events, verdicts.get(0).magnet());
      third += afterOneStroke(events, verdicts.get(2).magnet());
    }
    assertThat(third).as("µT from the target, six third magnets").isLessThan(0.7 * first);
  }

  private static double afterOneStroke(List<LedgerEvent> events, long magnet) {
    LedgerEvent.ReadingTaken reading =
        all(events, LedgerEvent.ReadingTaken.class).stream()
            .filter(taken -> taken.magnet() == magnet && taken.stage().equals("knocked down"))
            .findFirst()
            .orElseThrow();
    return Math.abs(reading.fieldMicroTesla() - 38_000.0);
  }

  @Test
  void takesAChargeAwayToTheNeutralPoint() {
    Task none = new Task.Demagnetise(Task.Demagnetise.UNCHARGED);
    List<LedgerEvent> events = JigBenches.run(JIG, 5, JigBenches.rods(JIG, none, 1));
    LedgerEvent.VerdictGiven verdict = all(events, LedgerEvent.VerdictGiven.class).get(0);

    assertThat(verdict.verdict()).as(verdict.why()).isEqualTo("accepted");
    assertThat(Math.abs(verdict.fieldMicroTesla())).isLessThan(500);
    assertThat(verdict.demagnetisingPulses()).isPositive();
  }

  /** Ten minutes of rig time: more than any of these batches takes. */
  private static final long LIMIT_NS = 600_000_000_000L;

  /** A fault so long after the driver's nth switching-on. */
  private record Moment(int switchedOn, long afterMs) {}

  static Stream<Arguments> faults() {
    return Stream.of(
        // The first switching-on seeks home, the next six measure, one parks; then come strokes.
        Arguments.of(new Fault.JigStepsLost(0.05), new Moment(9, 500), TripCause.JIG_LOST),
        Arguments.of(new Fault.JigStalled(), new Moment(9, 500), TripCause.JIG_LOST),
        Arguments.of(
            new Fault.JigSwitchStuck(true, true), new Moment(9, 500), TripCause.JIG_SWITCH_WRONG),
        Arguments.of(
            new Fault.JigSwitchStuck(true, false), new Moment(9, 2500), TripCause.JIG_SWITCH_WRONG),
        Arguments.of(
            new Fault.JigSwitchStuck(false, false), new Moment(9, 500), TripCause.JIG_SWITCH_WRONG),
        Arguments.of(
            new Fault.HostWireBroken(InputLine.LID_A), new Moment(9, 1500), TripCause.LID_OPENED),
        Arguments.of(new Fault.CablePulled(), new Moment(9, 1500), TripCause.HEAD_SILENT),
        Arguments.of(new Fault.HeadHung(), new Moment(9, 1500), TripCause.HEAD_SILENT),
        Arguments.of(new Fault.HostPaused(), new Moment(9, 1500), TripCause.SCAN_LATE));
  }

  private static long at(Moment moment) {
    try (VirtualBench bench = bench(FaultPlan.NONE)) {
      int seen = 0;
      boolean before = false;
      while (seen < moment.switchedOn()) {
        assertThat(bench.nowNs()).as("the jig was not moved so often").isLessThan(LIMIT_NS);
        bench.runScan();
        boolean on = bench.scan().snapshot().driven().isHigh(OutputLine.JIG_ENABLE);
        seen += on && !before ? 1 : 0;
        before = on;
      }
      return bench.nowNs() + moment.afterMs() * 1_000_000L;
    }
  }

  private static VirtualBench bench(FaultPlan faults) {
    return Benches.started(
        JIG, Benches.emptyLedger(JIG), JigBenches.batch(JIG, rods(JIG, 1)), SEED, faults);
  }

  @ParameterizedTest
  @MethodSource("faults")
  void letsGoWhenSomethingBreaksInAStrokeAndGoesOnWhenItIsMended(
      Fault fault, Moment moment, TripCause cause) {
    long fromNs = at(moment);
    FaultPlan plan = FaultPlan.NONE.with(fault, fromNs, fromNs + seconds(fault) * 1_000_000_000L);
    List<LedgerEvent> events;
    try (VirtualBench bench = bench(plan)) {
      boolean moved = false;
      while (bench.scan().snapshot().trip().isEmpty()) {
        bench.runScan();
        moved |= bench.nowNs() >= fromNs;
        assertThat(bench.nowNs() - fromNs).as("no trip came").isLessThan(60_000_000_000L);
      }
      assertThat(moved).isTrue();
      assertThat(bench.scan().snapshot().trip().orElseThrow().cause()).isEqualTo(cause);
      assertThat(bench.scan().snapshot().driven().isHigh(OutputLine.JIG_ENABLE)).isFalse();
      Benches.toTheEnd(bench);
      bench.end("done");
      events = JigBenches.events(bench.ledger().archive());
    }
    List<LedgerEvent.VerdictGiven> verdicts = all(events, LedgerEvent.VerdictGiven.class);
    assertThat(verdicts.get(0).verdict()).isEqualTo("tripped");
    assertThat(verdicts.get(verdicts.size() - 1).verdict()).isEqualTo("accepted");
    checkEveryIntentHasOneEnd(events);
    // The attempt after the trip begins with a charge, which no jig that stood low has undone.
    assertThat(verdicts.get(verdicts.size() - 1).charges()).isPositive();
    List<LedgerEvent.ActByHand> charges = all(events, LedgerEvent.ActByHand.class);
    assertThat(charges.get(charges.size() - 1).afterMicroTesla())
        .isGreaterThan(Math.round(0.95 * charges.get(0).afterMicroTesla()));
  }

  /** A stall that outlasts the way down is a jig that goes on past home; a switch stays broken. */
  private static long seconds(Fault fault) {
    return fault instanceof Fault.JigStalled ? 4 : fault instanceof Fault.JigSwitchStuck ? 25 : 9;
  }

  private static void checkEveryIntentHasOneEnd(List<LedgerEvent> events) {
    Map<Long, Integer> ends = new HashMap<>();
    for (ActEvent.ActEnded ended : all(events, ActEvent.ActEnded.class)) {
      ends.merge(ended.intent(), 1, Integer::sum);
    }
    assertThat(ends.values()).containsOnly(1);
    assertThat(ends).hasSize(all(events, ActEvent.Intent.class).size());
  }

  @Test
  void saysThatTheOpposingMagnetIsGone() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.JigMagnetLost(), 0);
    try (VirtualBench bench = bench(plan)) {
      for (int i = 0; i < 20_000 && !bench.job().sentence().contains("waits"); i++) {
        bench.runScan();
      }
      assertThat(bench.job().sentence()).contains("opposing magnet", "on its carriage");
    }
  }

  @Test
  void tripsWhenTheMotorTurnsTheWrongWay() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.JigReversed(), 0);
    try (VirtualBench bench = bench(plan)) {
      for (int i = 0; i < 20_000 && bench.scan().snapshot().trip().isEmpty(); i++) {
        bench.runScan();
      }
      assertThat(bench.scan().snapshot().trip().map(Trip::cause)).contains(TripCause.JIG_WRONG_WAY);
    }
  }

  @Test
  void goesOnFromDurableLengthsOfTheRecord() {
    PlanRow rows = rods(JIG, 1);
    List<StoredEvent> whole = stored(SEED);
    int cutInAStroke = 0;
    for (int length = 5; length < whole.size() - 2; length += 1) {
      MemoryStore store = new MemoryStore();
      store.commit(whole.subList(0, length));
      boolean open =
          OpenWork.of(store).intents().values().stream()
              .anyMatch(ActEvent.StrokeIntended.class::isInstance);
      if (!open && length % 7 != 0) {
        continue;
      }
      cutInAStroke += open ? 1 : 0;
      var going = Continuation.of(store);
      if (going.isEmpty()) {
        continue;
      }
      var entries = going.get().entries(Entry.planned(List.of(rows), JIG));
      try (VirtualBench bench =
          Benches.started(
              JIG, store, JigBenches.batch(going.get().number(), entries), SEED, FaultPlan.NONE)) {
        Benches.toTheEnd(bench);
        bench.end("done");
      }
      List<LedgerEvent> events = JigBenches.events(store);
      List<LedgerEvent.VerdictGiven> verdicts = all(events, LedgerEvent.VerdictGiven.class);
      assertThat(verdicts.get(verdicts.size() - 1).verdict())
          .as("%d", length)
          .isEqualTo("accepted");
      checkEveryIntentHasOneEnd(events);
      assertThat(Proof.of(store, List.of())).isInstanceOf(Proof.Result.Whole.class);
    }
    assertThat(cutInAStroke).as("cut in the middle of a stroke").isPositive();
  }
}
