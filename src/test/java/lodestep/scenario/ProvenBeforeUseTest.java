package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import lodestep.sim.RelayName;
import lodestep.sim.VirtualRig;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Goal: what must end a charge is seen to do so on every seat before there is one, and what does
 * not is found with next to nothing in the bank. Method: whole rigs that are broken from the start.
 */
class ProvenBeforeUseTest {

  private static final long SEED = 11;
  private static final long MS = 1_000_000L;
  private static final long LIMIT_NS = 120_000 * MS;

  /** Four per cent of the energy of a bank at 50 V: (10 / 50) squared. */
  private static final double LOW_VOLTS = 10.0;

  private record Broken(Fault fault, Set<TripCause> causes) {
    @Override
    public String toString() {
      return fault.toString();
    }
  }

  static Stream<Broken> broken() {
    return Stream.of(
        new Broken(new Fault.SwitchShorted(), Set.of(TripCause.CURRENT_UNCOMMANDED)),
        new Broken(
            new Fault.RelayWelded(RelayName.FILL),
            Set.of(TripCause.FILL_CONTACT_WRONG, TripCause.BANK_RISING)),
        new Broken(new Fault.BleedPathOpen(), Set.of(TripCause.BANK_NOT_FALLING)),
        new Broken(
            new Fault.RelayWelded(RelayName.HOLD),
            Set.of(TripCause.BLEED_CONTACT_WRONG, TripCause.BANK_NOT_FALLING)),
        new Broken(new Fault.BankLeak(150), Set.of(TripCause.BANK_FALLING)));
  }

  private static VirtualBench bench(FaultPlan faults, PoleUp pole, int count) {
    Batch batch =
        Benches.batch(PlannerMode.CURVE, Benches.rod("rod", pole, Benches.level(-650, 12), count));
    return Benches.bench(batch, SEED, faults);
  }

  @ParameterizedTest
  @MethodSource("broken")
  void findsWhatIsBrokenAtFourPerCentOfTheEnergy(Broken broken) {
    FaultPlan plan = FaultPlan.NONE.with(broken.fault(), VirtualRig.START_NS);
    try (VirtualBench bench = bench(plan, PoleUp.SOUTH, 1)) {
      Optional<Trip> trip = Optional.empty();
      double highest = 0;
      while (trip.isEmpty() && bench.rig().clock().nowNs() < LIMIT_NS) {
        bench.runScan();
        trip = bench.scan().snapshot().trip();
        highest = Math.max(highest, bench.rig().plant().bankVoltage().volts());
      }
      double afterwards = 0;
      for (int scan = 0; scan < 200; scan++) {
        bench.runScan();
        afterwards = Math.max(afterwards, bench.rig().plant().bankVoltage().volts());
      }

      assertThat(trip).as("tripped").isPresent();
      assertThat(trip.get().cause()).as(trip.get().detail()).isIn(broken.causes());
      assertThat(highest).isLessThanOrEqualTo(LOW_VOLTS);
      // A welded contact feeds the bleed resistor until its supply is switched off:
      // 50 V x 22 / (47 + 22), without the bleeder.
      boolean welded = broken.fault().equals(new Fault.RelayWelded(RelayName.FILL));
      assertThat(afterwards).isLessThanOrEqualTo(welded ? 15.95 : LOW_VOLTS);
      assertThat(all(bench, ActEvent.PulseIntended.class)).hasSize(1);
      assertThat(all(bench, ActEvent.PulseEnded.class))
          .extracting(ActEvent.PulseEnded::outcome)
          .containsExactly("not fired");
      assertThat(all(bench, LedgerEvent.BankProven.class)).isEmpty();
    }
  }

  /** Of a bad electrolytic: five per cent of 50 V, and no bleed that would hold it down. */
  @Test
  void worksOnWithABankWhoseVoltageReturnsAndNeverFindsItFilledAtRest() {
    FaultPlan returns =
        FaultPlan.NONE.with(new Fault.BankReturns(0.05), VirtualRig.START_NS, Long.MAX_VALUE);
    long overNs;
    try (VirtualBench bench = bench(returns, PoleUp.SOUTH, 2)) {
      Benches.toTheEnd(bench);
      overNs = bench.rig().clock().nowNs();
      assertThat(bench.scan().snapshot().trip()).isEmpty();
      assertThat(all(bench, LedgerEvent.VerdictGiven.class))
          .extracting(LedgerEvent.VerdictGiven::verdict)
          .containsExactly("accepted", "accepted");
    }
    FaultPlan unbled = returns.with(new Fault.BleedPathOpen(), overNs);
    double highest = 0;
    try (VirtualBench bench = bench(unbled, PoleUp.SOUTH, 2)) {
      Benches.toTheEnd(bench);
      for (int scan = 0; scan < 12_000; scan++) {
        bench.runScan();
        highest = Math.max(highest, bench.rig().plant().bankVoltage().volts());
      }
      assertThat(bench.scan().snapshot().trip()).isEmpty();
    }
    assertThat(highest).as("volts at rest").isBetween(0.05, 2.5);
  }

  @Test
  void provesOnceOnEachSeatBetweenTheFirstIntentAndItsEnd() {
    try (VirtualBench bench = bench(FaultPlan.NONE, PoleUp.SOUTH, 2)) {
      Benches.toTheEnd(bench);
      List<LedgerEvent> events = JigBenches.events(bench.ledger().archive());
      List<Long> magnets =
          all(bench, LedgerEvent.BankProven.class).stream()
              .map(LedgerEvent.BankProven::magnet)
              .toList();

      assertThat(magnets).hasSize(2).doesNotHaveDuplicates();
      for (int i = 0; i < events.size(); i++) {
        if (events.get(i) instanceof LedgerEvent.BankProven) {
          assertThat(events.get(i - 1)).isInstanceOf(ActEvent.PulseIntended.class);
          assertThat(events.get(i + 1)).isInstanceOf(ActEvent.PulseEnded.class);
        }
      }
    }
  }

  private static <E extends LedgerEvent> List<E> all(VirtualBench bench, Class<E> kind) {
    List<E> found = new ArrayList<>();
    JigBenches.events(bench.ledger().archive()).stream()
        .filter(kind::isInstance)
        .map(kind::cast)
        .forEach(found::add);
    return found;
  }

  @Test
  void provesInTheDirectionOfTheCharge() {
    assertThat(reversedAtTheProof(bench(FaultPlan.NONE, PoleUp.SOUTH, 1))).isTrue();
    assertThat(reversedAtTheProof(bench(FaultPlan.NONE, PoleUp.NORTH, 1))).isFalse();
  }

  @Test
  void provesAgainstTheKnockDownWhenThereIsNoCharge() {
    Batch batch = Benches.batch(PlannerMode.CURVE, Benches.returned("old", 60, 15));
    VirtualBench bench = Benches.bench(batch, SEED, FaultPlan.NONE);
    boolean reversed = reversedAtTheProof(bench);
    boolean knocksNorth =
        JigBenches.events(bench.ledger().archive()).stream()
            .filter(ActEvent.PulseIntended.class::isInstance)
            .map(ActEvent.PulseIntended.class::cast)
            .findFirst()
            .orElseThrow()
            .drivesNorth();

    assertThat(reversed).isEqualTo(knocksNorth);
  }

  /** Whether the changeover is reversed when the bank is first filled; then the bench is closed. */
  private static boolean reversedAtTheProof(VirtualBench bench) {
    try (bench) {
      while (!bench.scan().snapshot().driven().isHigh(OutputLine.BANK_FILL)) {
        bench.runScan();
        assertThat(bench.rig().clock().nowNs()).isLessThan(LIMIT_NS);
      }
      assertThat(bench.scan().snapshot().driven().isHigh(OutputLine.COIL_FULL)).isTrue();
      return bench.scan().snapshot().driven().isHigh(OutputLine.COIL_REVERSE);
    }
  }
}
