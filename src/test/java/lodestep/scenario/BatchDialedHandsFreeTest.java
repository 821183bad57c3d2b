package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.atomic.AtomicLong;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.bench.PlanRow;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.dial.Progress;
import lodestep.dial.Verdict;
import lodestep.ledger.EventCodec;
import lodestep.ledger.MemoryStore;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.api.Test;

/** Goal: the main job end to end, host and rig, in virtual time. */
class BatchDialedHandsFreeTest {

  @Test
  void acceptsEveryMagnetOfAMixedBatch() {
    Batch batch =
        Benches.batch(
            PlannerMode.CURVE,
            Benches.rod("rod", PoleUp.NORTH, Benches.level(650, 12), 2),
            Benches.bar("bar", PoleUp.SOUTH, Benches.level(-300, 8), 2));
    try (VirtualBench bench = Benches.bench(batch, 5, FaultPlan.NONE)) {
      Benches.toTheEnd(bench);

      assertThat(bench.job().batch().entries())
          .hasSize(4)
          .allSatisfy(
              entry -> assertThat(entry.end().orElseThrow().verdict()).isEqualTo(Verdict.ACCEPTED));
    }
  }

  @Test
  void lightsNoVerdictBeforeItIsSafeOnDisk() {
    MemoryStore store = Benches.emptyLedger();
    Batch batch =
        Benches.batch(
            PlannerMode.CURVE, Benches.rod("rod", PoleUp.NORTH, Benches.level(650, 12), 2));
    int lit = 0;
    try (VirtualBench bench = Benches.started(store, batch, 5)) {
      while (!bench.done() && !bench.gaveUp()) {
        bench.runScan();
        boolean shown = bench.scan().snapshot().driven().isHigh(OutputLine.LAMP_ACCEPT);
        long done = bench.job().batch().entries().stream().filter(Entry::done).count();
        if (shown || done > 0) {
          assertThat(verdicts(store)).isEqualTo(done).isPositive();
        }
        lit += shown ? 1 : 0;
      }
    }

    assertThat(lit).isPositive();
    assertThat(verdicts(store)).isEqualTo(2);
  }

  @Test
  void meetsTheMagnetsDoneBeforeWithTheirReadingAndPulses() {
    PlanRow row = Benches.rod("rod", PoleUp.NORTH, Benches.level(650, 12), 2);
    MemoryStore store = Benches.emptyLedger();
    Entry before;
    try (VirtualBench bench = Benches.started(store, Benches.batch(PlannerMode.CURVE, row), 5)) {
      while (bench.job().batch().open() == 2) {
        bench.runScan();
      }
      before = bench.job().batch().entries().get(0);
    }

    Entry after = Benches.leftOpen(store, row).orElseThrow().entries().get(0);

    Progress was = before.result().orElseThrow();
    Progress is = after.result().orElseThrow();
    assertThat(is.last().orElseThrow().value().microTesla())
        .isEqualTo(was.last().orElseThrow().value().microTesla());
    assertThat(is.counts().charges()).isEqualTo(was.counts().charges()).isPositive();
    assertThat(is.counts().knockDowns()).isEqualTo(was.counts().knockDowns()).isPositive();
  }

  private static long verdicts(MemoryStore store) {
    AtomicLong count = new AtomicLong();
    store.forEachOfKind(
        EventCodec.kind(LedgerEvent.VerdictGiven.class), stored -> count.incrementAndGet());
    return count.get();
  }
}
