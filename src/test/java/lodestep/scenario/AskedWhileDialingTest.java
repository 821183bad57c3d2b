package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.dial.Verdict;
import lodestep.port.Command;
import lodestep.port.OutputLine;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.api.Test;

/** Goal: what a person asks while a magnet is dialed is done after it, and said at once. */
class AskedWhileDialingTest {

  private static final long SECOND_NS = 1_000_000_000L;

  private static VirtualBench dialing() {
    Batch batch =
        Benches.batch(
            PlannerMode.CURVE, Benches.rod("rod", PoleUp.NORTH, Benches.level(650, 12), 2));
    VirtualBench bench = Benches.bench(batch, 5, FaultPlan.NONE);
    while (!bench.scan().snapshot().driven().isHigh(OutputLine.BANK_FILL)) {
      bench.runScan();
      assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
    }
    return bench;
  }

  @Test
  void pausesAfterTheMagnetInTheNestAndGoesOnWhenAsked() {
    try (VirtualBench bench = dialing()) {
      bench.scan().offer(Command.PAUSE);
      bench.runScan();
      assertThat(bench.job().sentence()).endsWith("; pauses after this magnet");
      while (!(bench.job() instanceof BatchJob.Loading)) {
        bench.runScan();
        assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
      }
      assertThat(bench.job().batch().count(Verdict.ACCEPTED)).isEqualTo(1);
      assertThat(bench.job().sentence()).isEqualTo("paused; go on when ready");
      long untilNs = bench.nowNs() + 30 * SECOND_NS;
      while (bench.nowNs() < untilNs) {
        bench.runScan();
        assertThat(bench.job()).isInstanceOf(BatchJob.Loading.class);
      }

      bench.scan().offer(Command.CONTINUE);
      Benches.toTheEnd(bench);

      assertThat(bench.job().batch().count(Verdict.ACCEPTED)).isEqualTo(2);
    }
  }

  @Test
  void doesNotPauseWhenThePauseIsTakenBack() {
    try (VirtualBench bench = dialing()) {
      bench.scan().offer(Command.PAUSE);
      bench.runScan();
      bench.scan().offer(Command.CONTINUE);
      bench.runScan();
      assertThat(bench.job().sentence()).doesNotContain("pauses");

      Benches.toTheEnd(bench);
    }
  }

  @Test
  void endsTheBatchAfterTheMagnetInTheNest() {
    try (VirtualBench bench = dialing()) {
      bench.scan().offer(Command.FINISH);
      bench.runScan();
      assertThat(bench.job().sentence()).endsWith("; the batch ends after this magnet");

      Benches.toTheEnd(bench);

      assertThat(bench.job().batch().count(Verdict.ACCEPTED)).isEqualTo(1);
      assertThat(bench.job().batch().open()).isEqualTo(1);
    }
  }
}
