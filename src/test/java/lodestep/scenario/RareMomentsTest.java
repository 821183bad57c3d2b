package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.ledger.EventCodec;
import lodestep.port.ActEvent;
import lodestep.port.InputLine;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFrame;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.api.Test;

/**
 * Goal: what the soak has found stays found. Each of these takes a moment of a few milliseconds.
 * Method: the same run twice; the first tells the moment, the second breaks something in it.
 */
class RareMomentsTest {

  private static final long SEED = 11;
  private static final long MS = 1_000_000L;

  private static VirtualBench bench(FaultPlan faults) {
    Batch batch =
        Benches.batch(
            PlannerMode.CURVE, Benches.rod("rod", PoleUp.SOUTH, Benches.level(-650, 12), 1));
    return Benches.bench(batch, SEED, faults);
  }

  private static void runUntilHigh(VirtualBench bench, OutputLine line) {
    while (!bench.scan().snapshot().driven().isHigh(line)) {
      bench.runScan();
      assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
    }
  }

  private static long firstFired() {
    try (VirtualBench bench = bench(FaultPlan.NONE)) {
      runUntilHigh(bench, OutputLine.COIL_FIRE);
      return bench.nowNs();
    }
  }

  private static <E extends LedgerEvent> List<E> recorded(VirtualBench bench, Class<E> kind) {
    List<E> found = new ArrayList<>();
    bench
        .ledger()
        .archive()
        .forEachOfKind(
            EventCodec.kind(kind),
            stored -> found.add(kind.cast(EventCodec.decode(stored).event())));
    return found;
  }

  /** In the scan after the one that raised the gate nobody has read back what became of it. */
  @Test
  void doesNotCallAPulseNotFiredThatWasCutShortInTheScanAfterTheGateWasRaised() {
    long atNs = firstFired();
    FaultPlan plan =
        FaultPlan.NONE.with(new Fault.InputFlipped(InputLine.LID_A), atNs + MS, atNs + 6 * MS);
    try (VirtualBench bench = bench(plan)) {
      while (bench.scan().snapshot().trip().isEmpty()) {
        bench.runScan();
      }
      assertThat(bench.scan().snapshot().trip().get().cause()).isEqualTo(TripCause.LID_OPENED);
      assertThat(bench.rig().truth().pulses()).as("current has flowed").isEqualTo(1);
      while (recorded(bench, ActEvent.PulseEnded.class).isEmpty()) {
        bench.runScan();
        assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
      }

      assertThat(recorded(bench, ActEvent.PulseEnded.class).get(0).outcome())
          .isIn("delivered", "unverified");
    }
  }

  private static boolean reported(VirtualBench bench) {
    return bench.scan().snapshot().view().frames().stream()
        .anyMatch(received -> received.frame() instanceof HeadFrame.PulseReport);
  }

  /** The report is not sent again, and an answer to it would come too late. */
  @Test
  void takesThePulseReportThatComesInTheVeryScanOfATrip() {
    long reportNs;
    try (VirtualBench bench = bench(FaultPlan.NONE)) {
      while (!reported(bench)) {
        bench.runScan();
      }
      reportNs = bench.scan().snapshot().nowNs();
    }
    FaultPlan plan =
        FaultPlan.NONE.with(
            new Fault.InputFlipped(InputLine.STOP_LOOP), reportNs - 2 * MS, reportNs + MS);
    try (VirtualBench bench = bench(plan)) {
      while (bench.scan().snapshot().trip().isEmpty()) {
        bench.runScan();
      }
      assertThat(reported(bench)).as("in the scan of the trip").isTrue();
      while (recorded(bench, ActEvent.PulseEnded.class).isEmpty()) {
        bench.runScan();
        assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
      }

      assertThat(recorded(bench, ActEvent.PulseEnded.class).get(0).outcome())
          .isEqualTo("delivered");
    }
  }

  /** The pulse is over, nothing is driven any more, and the head's next line shows it closed. */
  @Test
  void tripsWhenTheChainOpensForAMillisecondAtTheEndOfAPulse() {
    long atNs = firstFired() + 34 * MS;
    FaultPlan plan = FaultPlan.NONE.with(new Fault.ThermostatOpen(), atNs, atNs + MS);
    try (VirtualBench bench = bench(plan)) {
      while (bench.nowNs() < atNs + 100 * MS) {
        bench.runScan();
      }

      assertThat(bench.scan().snapshot().trip()).isPresent();
      assertThat(bench.scan().snapshot().trip().get().cause()).isEqualTo(TripCause.PERMIT_LOST);
    }
  }

  /**
   * Who goes by the lamp would put the magnet in too early, and no zero could be taken any more.
   */
  @Test
  void lightsTheLampReadyOnlyOnceTheZeroIsTaken() {
    try (VirtualBench bench = bench(FaultPlan.NONE)) {
      runUntilHigh(bench, OutputLine.LAMP_READY);
      long appended = bench.ledger().nextNumber() - 1;
      while (bench.ledger().state().durableTo() < appended) {
        bench.runScan();
      }

      assertThat(recorded(bench, LedgerEvent.ZeroTaken.class)).hasSize(1);
    }
  }
}
