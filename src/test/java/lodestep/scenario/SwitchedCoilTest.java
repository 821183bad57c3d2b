package lodestep.scenario;

import static lodestep.scenario.SwitchedBenches.RIG;
import static lodestep.scenario.SwitchedBenches.SEED;
import static lodestep.scenario.SwitchedBenches.batch;
import static lodestep.scenario.SwitchedBenches.bench;
import static lodestep.scenario.SwitchedBenches.rod;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.Continuation;
import lodestep.bench.Entry;
import lodestep.bench.PlanRow;
import lodestep.dial.Move;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;
import lodestep.dial.Verdict;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.MemoryStore;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.quantity.FluxDensity;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.api.Test;

/**
 * Goal: rods are dialed on a switched coil as on any other, or refused for want of a step. Method:
 * the shipped file of that rig, virtual.
 */
class SwitchedCoilTest {

  private static List<Move.Finish> ends(VirtualBench bench) {
    return bench.job().batch().entries().stream().flatMap(e -> e.end().stream()).toList();
  }

  private static final PlanRow[] THREE = {
    rod("heron", PoleUp.NORTH, Benches.level(540, 12)),
    rod("egret", PoleUp.SOUTH, Benches.level(-690, 12)),
    rod("stork", PoleUp.NORTH, new Task.Demagnetise(FluxDensity.ofGauss(8)))
  };

  @Test
  void dialsRodsOfBothPolesAndTakesAllFromAThird() {
    try (VirtualBench bench = bench(FaultPlan.NONE, THREE)) {
      Benches.toTheEnd(bench);

      assertThat(ends(bench)).hasSize(3);
      assertThat(ends(bench))
          .allSatisfy(end -> assertThat(end.verdict()).as(end.why()).isEqualTo(Verdict.ACCEPTED));
      assertThat(ends(bench).get(0).why()).contains("full charge not proven");
    }
  }

  @Test
  void isTheSameToTheLastByteWithTheSameSeed() {
    List<String> one = recordOf(THREE);
    List<String> other = recordOf(THREE);

    assertThat(one).isNotEmpty().isEqualTo(other);
  }

  private static List<String> recordOf(PlanRow... rows) {
    MemoryStore store = Benches.emptyLedger(RIG);
    try (VirtualBench bench = started(store, batch(0, Entry.planned(List.of(rows), RIG)), SEED)) {
      Benches.toTheEnd(bench);
    }
    List<String> bytes = new ArrayList<>();
    store.forEach(1, store.newest().number(), event -> bytes.add(event.payload().utf8()));
    return bytes;
  }

  @Test
  void refusesALevelThatLiesBetweenTwoStepsOfTheLadder() {
    // At the steepest place of such a rod's curve a step takes about 6 G, more than the band of
    // 3.5 G each way is wide once the gauge's doubt is taken off; six levels lie a third of a step
    // apart.
    List<Move.Finish> ends = new ArrayList<>();
    for (int gauss = 400; gauss < 412; gauss += 2) {
      try (VirtualBench bench =
          bench(FaultPlan.NONE, rod("crane", PoleUp.NORTH, Benches.level(gauss, 3.5)))) {
        Benches.toTheEnd(bench);
        ends.addAll(ends(bench));
      }
    }

    assertThat(ends).extracting(Move.Finish::verdict).contains(Verdict.REFUSED);
    assertThat(ends)
        .filteredOn(end -> end.verdict() == Verdict.REFUSED)
        .allSatisfy(end -> assertThat(end.why()).startsWith("no step of this coil ends inside"));
    assertThat(ends)
        .extracting(Move.Finish::verdict)
        .doesNotContain(Verdict.RECHARGE_NEEDED, Verdict.TRIPPED);
  }

  @Test
  void letsTheCoilCoolInALongBatchRatherThanTrip() {
    PlanRow[] many = new PlanRow[24];
    Arrays.setAll(many, i -> rod("tern " + i, PoleUp.NORTH, Benches.level(540, 12)));
    try (VirtualBench bench = bench(FaultPlan.NONE, many)) {
      boolean rested = false;
      boolean tripped = false;
      double hottest = 0;
      while (!bench.done() && bench.rig().clock().nowNs() < Benches.LONG_NS) {
        bench.runScan();
        rested |= bench.job().sentence().contains("letting the coil cool");
        tripped |= bench.scan().snapshot().trip().isPresent();
        hottest = Math.max(hottest, bench.rig().plant().coilTemperature().degC());
      }

      assertThat(bench.done()).isTrue();
      assertThat(rested).isTrue();
      assertThat(tripped).isFalse();
      assertThat(hottest).isBetween(45.0, 58.0);
      assertThat(ends(bench))
          .allSatisfy(end -> assertThat(end.verdict()).as(end.why()).isEqualTo(Verdict.ACCEPTED));
    }
  }

  private static VirtualBench started(MemoryStore store, Batch batch, long seed) {
    return Benches.started(RIG, store, batch, seed, FaultPlan.NONE);
  }

  @Test
  void beginsAgainWithAChargeAfterAKillInThePulse() {
    MemoryStore store = Benches.emptyLedger(RIG);
    PlanRow row = rod("heron", PoleUp.NORTH, Benches.level(540, 12));
    VirtualBench killed = started(store, batch(0, Entry.planned(List.of(row), RIG)), SEED);
    int pulses = 0;
    boolean gate = false;
    while (pulses < 3) {
      killed.runScan();
      boolean high = killed.scan().snapshot().driven().isHigh(OutputLine.COIL_FIRE);
      pulses += high && !gate ? 1 : 0;
      gate = high;
    }

    Batch left =
        Continuation.of(store)
            .map(going -> batch(going.number(), going.entries(Entry.planned(List.of(row), RIG))))
            .orElseThrow();
    long from = store.newest().number();
    try (VirtualBench bench = started(store, left, SEED + 1)) {
      Benches.toTheEnd(bench);

      assertThat(ends(bench))
          .singleElement()
          .extracting(Move.Finish::verdict)
          .isEqualTo(Verdict.ACCEPTED);
    }
    List<LedgerEvent> after = new ArrayList<>();
    store.forEach(from + 1, store.newest().number(), stored -> after.add(decoded(stored).event()));
    assertThat(after)
        .filteredOn(ActEvent.PulseEnded.class::isInstance)
        .first()
        .extracting(event -> ((ActEvent.PulseEnded) event).outcome())
        .isEqualTo("unknown");
    assertThat(after)
        .filteredOn(ActEvent.SwitchedPulseIntended.class::isInstance)
        .first()
        .extracting(event -> ((ActEvent.SwitchedPulseIntended) event).purpose())
        .isEqualTo("charge");
  }

  private static LedgerEntry decoded(lodestep.port.StoredEvent stored) {
    return EventCodec.decode(stored);
  }
}
