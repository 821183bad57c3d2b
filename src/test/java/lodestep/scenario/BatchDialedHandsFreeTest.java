package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.api.Test;

/** Goal: the main job end to end, host and rig, in virtual time. */
class BatchDialedHandsFreeTest {

  @Test
  void dialsEveryMagnetOfAMixedBatch() {
    Batch batch =
        Benches.batch(
            PlannerMode.SECANT,
            Benches.rod("rod", PoleUp.NORTH, Benches.level(800, 12), 2),
            Benches.bar("bar", PoleUp.SOUTH, Benches.level(-300, 8), 2));
    try (VirtualBench bench = Benches.bench(batch, 5, FaultPlan.NONE)) {
      long untilNs = bench.rig().clock().nowNs() + Benches.LONG_NS;
      String said = "";
      while (!bench.done() && !bench.gaveUp() && bench.rig().clock().nowNs() < untilNs) {
        bench.runScan();
        String says = bench.job().sentence();
        if (!says.equals(said)) {
          System.out.printf("%8.2f s  %s%n", bench.rig().clock().nowNs() * 1e-9, says);
          said = says;
        }
        if (bench.scan().snapshot().trip().isPresent() && !said.startsWith("TRIP")) {
          said = "TRIP " + bench.scan().snapshot().trip().get();
          System.out.println(said);
        }
        if (bench.rig().clock().nowNs() * 1e-9 > 900) {
          break;
        }
      }
      assertThat(bench.done()).isTrue();
      assertThat(bench.job().batch().entries()).allMatch(Entry::done);
    }
  }
}
