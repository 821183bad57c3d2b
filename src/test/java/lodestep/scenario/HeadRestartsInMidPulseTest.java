package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.dial.Verdict;
import lodestep.ledger.EventCodec;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.TripCause;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: a head that starts anew while its window is open takes its report with it; nothing is
 * assumed of that pulse, and the magnet begins again with a charge. Method: the same run twice; the
 * first tells when the gate goes high, the second takes the head's supply away at such a moment.
 */
class HeadRestartsInMidPulseTest {

  private static final long SEED = 11;
  private static final long MS = 1_000_000L;
  private static final long DOWN_MS = 60;

  private static VirtualBench bench(FaultPlan faults) {
    Batch batch =
        Benches.batch(
            PlannerMode.CURVE, Benches.rod("rod", PoleUp.SOUTH, Benches.level(-650, 12), 1));
    return Benches.bench(batch, SEED, faults);
  }

  private static long firstFired() {
    try (VirtualBench bench = bench(FaultPlan.NONE)) {
      while (!bench.scan().snapshot().driven().isHigh(OutputLine.COIL_FIRE)) {
        bench.runScan();
        assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
      }
      return bench.nowNs();
    }
  }

  @ParameterizedTest
  @ValueSource(longs = {-20, 0, 2, 10, 30, 55})
  void leavesNothingUnknownBehindAndDialsTheMagnetAnew(long afterMs) {
    long atNs = firstFired() + afterMs * MS;
    FaultPlan plan = FaultPlan.NONE.with(new Fault.HeadDown(), atNs, atNs + DOWN_MS * MS);
    try (VirtualBench bench = bench(plan)) {
      List<TripCause> trips = new ArrayList<>();
      while (!bench.done()) {
        bench.runScan();
        assertThat(bench.gaveUp()).isFalse();
        assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
        Optional<TripCause> trip = bench.scan().snapshot().trip().map(now -> now.cause());
        trip.filter(cause -> trips.isEmpty()).ifPresent(trips::add);
      }

      assertThat(trips.get(0))
          .isIn(TripCause.HEAD_RESTARTED, TripCause.HEAD_SILENT, TripCause.PERMIT_LOST);
      checkRecord(bench);
    }
  }

  private static void checkRecord(VirtualBench bench) {
    List<LedgerEvent> events = events(bench);
    List<String> outcomes = new ArrayList<>();
    int intended = 0;
    int tripAt = -1;
    for (int i = 0; i < events.size(); i++) {
      LedgerEvent event = events.get(i);
      intended += event instanceof ActEvent.PulseIntended ? 1 : 0;
      tripAt = tripAt < 0 && event instanceof LedgerEvent.Tripped ? i : tripAt;
      if (event instanceof ActEvent.PulseEnded ended) {
        outcomes.add(ended.outcome());
      }
    }
    assertThat(outcomes).as("one outcome for each intent").hasSize(intended);
    assertThat(outcomes.get(0)).as("what nobody has measured").isIn("unverified", "not fired");
    ActEvent.PulseIntended next =
        events.subList(tripAt, events.size()).stream()
            .filter(ActEvent.PulseIntended.class::isInstance)
            .map(ActEvent.PulseIntended.class::cast)
            .findFirst()
            .orElseThrow();
    assertThat(next.purpose()).as("after the trip").isEqualTo("charge");
    assertThat(bench.job().batch().entries())
        .extracting(entry -> entry.end().map(end -> end.verdict()))
        .containsExactly(Optional.of(Verdict.ACCEPTED));
  }

  private static List<LedgerEvent> events(VirtualBench bench) {
    List<LedgerEvent> events = new ArrayList<>();
    var archive = bench.ledger().archive();
    archive.forEach(
        1, archive.newest().number(), stored -> events.add(EventCodec.decode(stored).event()));
    return events;
  }
}
