package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import lodestep.config.ReferenceRig;
import org.junit.jupiter.api.Test;

/** One thread: hand and rig each millisecond, then the ledger, then the scan. */
class VirtualRunnerTest {

  private static final long PERIOD_NS = 5_000_000L;
  private final List<String> order = new ArrayList<>();
  private final List<Long> scans = new ArrayList<>();

  private static VirtualRig rig(FaultPlan plan) {
    return new VirtualRig(ReferenceRig.virtual(), ReferenceRig.ROD_NEST, 1L, plan);
  }

  @Test
  void movesHandThenLedgerThenScan() {
    VirtualRunner runner =
        new VirtualRunner(rig(FaultPlan.NONE), PERIOD_NS)
            .eachMillisecond(nowNs -> order.add("hand"))
            .beforeEachScan(nowNs -> order.add("ledger"))
            .eachScan(nowNs -> order.add("scan"));

    runner.runScan();

    assertThat(order).containsExactly("hand", "hand", "hand", "hand", "hand", "ledger", "scan");
  }

  @Test
  void scansEveryFiveMilliseconds() {
    VirtualRig rig = rig(FaultPlan.NONE);
    VirtualRunner runner = new VirtualRunner(rig, PERIOD_NS).eachScan(scans::add);

    runner.runFor(1_000_000_000L);

    assertThat(scans).hasSize(200);
    for (int i = 0; i < scans.size(); i++) {
      assertThat(scans.get(i)).isEqualTo(VirtualRig.START_NS + (i + 1) * PERIOD_NS);
    }
  }

  @Test
  void doesNotMakeUpForScansThatDidNotRun() {
    FaultPlan plan =
        FaultPlan.NONE.with(new Fault.HostPaused(), TestHost.atMs(100), TestHost.atMs(300));
    VirtualRunner runner = new VirtualRunner(rig(plan), PERIOD_NS).eachScan(scans::add);

    runner.runFor(1_000_000_000L);

    assertThat(scans).hasSize(160).doesNotContain(TestHost.atMs(200));
    long longest = 0;
    for (int i = 1; i < scans.size(); i++) {
      longest = Math.max(longest, scans.get(i) - scans.get(i - 1));
    }
    assertThat(longest).isEqualTo(205_000_000L);
  }

  @Test
  void stopsWhenTheConditionHolds() {
    VirtualRunner runner = new VirtualRunner(rig(FaultPlan.NONE), PERIOD_NS).eachScan(scans::add);

    boolean held = runner.runUntil(() -> scans.size() == 7, 1_000_000_000L);

    assertThat(held).isTrue();
    assertThat(scans).hasSize(7);
  }

  @Test
  void givesUpAtTheLimit() {
    VirtualRig rig = rig(FaultPlan.NONE);
    VirtualRunner runner = new VirtualRunner(rig, PERIOD_NS);

    assertThat(runner.runUntil(() -> false, 100_000_000L)).isFalse();
    assertThat(rig.clock().nowNs()).isEqualTo(TestHost.atMs(100));
  }

  @Test
  void throwsOnWhatTheScanThrows() {
    VirtualRunner runner =
        new VirtualRunner(rig(FaultPlan.NONE), PERIOD_NS)
            .eachScan(
                nowNs -> {
                  throw new IllegalStateException("planted");
                });

    assertThatThrownBy(runner::runScan).hasMessage("planted");
  }

  @Test
  void refusesAPeriodThatIsNoWholeNumberOfSteps() {
    assertThatThrownBy(() -> new VirtualRunner(rig(FaultPlan.NONE), 1_500_000L))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
