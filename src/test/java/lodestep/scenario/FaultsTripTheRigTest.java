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
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import lodestep.sim.RelayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Goal: a rig that breaks while it works trips with the cause a person needs, lets go of everything
 * and empties its bank. Method: the same run twice; the first tells when the bank is held, filled
 * and fired, the second breaks at such a moment.
 */
class FaultsTripTheRigTest {

  private static final long SEED = 11;
  private static final long MS = 1_000_000L;
  private static final long LIMIT_NS = 120_000 * MS;
  private static final OutputLine FILL = OutputLine.BANK_FILL;
  private static final OutputLine HOLD = OutputLine.BANK_HOLD;
  private static final Outputs ENERGY =
      Outputs.high(OutputLine.BANK_FILL, OutputLine.BANK_HOLD, OutputLine.COIL_FIRE);

  /** When a fault comes: so long after this line is first driven. */
  private record Moment(OutputLine line, int after) {}

  private record Case(Fault fault, Moment moment, boolean bleeds, Set<TripCause> causes) {
    static Case of(Fault fault, OutputLine line, int after, TripCause... causes) {
      return new Case(fault, new Moment(line, after), true, Set.of(causes));
    }

    Case butDoesNotBleed() {
      return new Case(fault, moment, false, causes);
    }

    @Override
    public String toString() {
      return fault + ", " + moment.after + " ms after " + moment.line;
    }
  }

  static Stream<Case> cases() {
    return Stream.of(head(), bankAndCoil(), relays(), contactsAndHost()).flatMap(c -> c);
  }

  private static Stream<Case> head() {
    return Stream.of(
        Case.of(new Fault.HeadSilent(), FILL, 500, TripCause.HEAD_SILENT),
        Case.of(new Fault.HeadHung(), FILL, 500, TripCause.HEAD_SILENT),
        Case.of(new Fault.HeadDown(), FILL, 500, TripCause.HEAD_SILENT),
        Case.of(new Fault.CablePulled(), FILL, 500, TripCause.HEAD_SILENT),
        Case.of(new Fault.LinesDamaged(0.3), FILL, 500, TripCause.HEAD_LINE_BAD),
        Case.of(new Fault.GaugeFrozen(), FILL, 500, TripCause.GAUGE_FROZEN));
  }

  private static Stream<Case> bankAndCoil() {
    return Stream.of(
        Case.of(sensor(Fault.CoilSensor.Way.OPEN), FILL, 500, TripCause.COIL_SENSOR),
        Case.of(sensor(Fault.CoilSensor.Way.SHORTED), FILL, 500, TripCause.COIL_SENSOR),
        Case.of(sensor(Fault.CoilSensor.Way.FROZEN), FILL, 500, TripCause.COIL_SENSOR),
        Case.of(new Fault.BankSense(0), FILL, 0, TripCause.BANK_NOT_FILLING),
        Case.of(new Fault.SupplyWrong(0), FILL, 500, TripCause.BANK_NOT_FILLING),
        Case.of(new Fault.BankLeak(60), FILL, 0, TripCause.BANK_NOT_FILLING),
        Case.of(new Fault.SwitchShorted(), FILL, 500, TripCause.CURRENT_UNCOMMANDED));
  }

  private static Stream<Case> relays() {
    Set<TripCause> welded = Set.of(TripCause.BANK_RISING, TripCause.FILL_CONTACT_WRONG);
    Set<TripCause> permit =
        Set.of(TripCause.PERMIT_LOST, TripCause.BLEED_CONTACT_WRONG, TripCause.FILL_CONTACT_WRONG);
    return Stream.of(
        new Case(new Fault.RelayWelded(RelayName.FILL), new Moment(FILL, 500), false, welded),
        Case.of(stuckReleased(RelayName.HOLD), HOLD, -500, TripCause.BLEED_CONTACT_WRONG),
        Case.of(stuckReleased(RelayName.FILL), HOLD, -500, TripCause.FILL_CONTACT_WRONG),
        Case.of(stuckReleased(RelayName.REVERSE), HOLD, -500, TripCause.CHANGEOVER_WRONG),
        Case.of(stuckReleased(RelayName.FULL), HOLD, -500, TripCause.RANGE_RELAY_WRONG),
        new Case(stuckReleased(RelayName.PERMIT), new Moment(FILL, 500), true, permit),
        Case.of(new Fault.OutputStuck(HOLD, true), HOLD, 500, TripCause.OUTPUT_READ_BACK)
            .butDoesNotBleed());
  }

  private static Stream<Case> contactsAndHost() {
    Set<TripCause> stopAtHead =
        Set.of(TripCause.PERMIT_LOST, TripCause.CHAIN_OPEN, TripCause.CONTACTS_DISAGREE);
    Fault stopWire = new Fault.HeadWireBroken(InputLine.STOP_LOOP);
    return Stream.of(
        Case.of(new Fault.ThermostatOpen(), FILL, 500, TripCause.CHAIN_OPEN),
        Case.of(new Fault.HostWireBroken(InputLine.LID_A), FILL, 500, TripCause.LID_OPENED),
        Case.of(new Fault.HostWireBroken(InputLine.STOP_LOOP), FILL, 5, TripCause.STOP_LOOP_OPEN),
        new Case(stopWire, new Moment(FILL, 500), true, stopAtHead),
        Case.of(new Fault.InputFlipped(InputLine.ARM_KEY), FILL, 500, TripCause.ARM_KEY_OFF),
        Case.of(new Fault.HostPaused(), FILL, 500, TripCause.SCAN_LATE));
  }

  private static Fault sensor(Fault.CoilSensor.Way way) {
    return new Fault.CoilSensor(way);
  }

  private static Fault stuckReleased(RelayName relay) {
    return new Fault.RelayStuck(relay, false);
  }

  private static VirtualBench bench(FaultPlan faults) {
    Batch batch =
        Benches.batch(
            PlannerMode.CURVE, Benches.rod("rod", PoleUp.SOUTH, Benches.level(-650, 12), 1));
    return Benches.bench(batch, SEED, faults);
  }

  /** What breaks before there is anything in the bank: {@link ProvenBeforeUseTest}. */
  private static boolean provenAndDriven(VirtualBench bench, OutputLine line) {
    return bench.scan().snapshot().view().bankProven()
        && bench.scan().snapshot().driven().isHigh(line);
  }

  /** Runs until the line is driven for a pulse; virtual time of the scan that drove it. */
  private static long firstDriven(OutputLine line) {
    try (VirtualBench bench = bench(FaultPlan.NONE)) {
      while (!provenAndDriven(bench, line)) {
        bench.runScan();
        assertThat(bench.rig().clock().nowNs()).isLessThan(LIMIT_NS);
      }
      return bench.rig().clock().nowNs();
    }
  }

  @ParameterizedTest
  @MethodSource("cases")
  void tripsWithItsCauseLetsGoAndBleeds(Case broken) {
    long atNs = firstDriven(broken.moment().line()) + broken.moment().after() * MS;
    long untilNs = broken.fault() instanceof Fault.HostPaused ? atNs + 400 * MS : Long.MAX_VALUE;
    FaultPlan plan = FaultPlan.NONE.with(broken.fault(), atNs, untilNs);
    try (VirtualBench bench = bench(plan)) {
      Optional<Trip> trip = Optional.empty();
      while (trip.isEmpty() && bench.rig().clock().nowNs() < LIMIT_NS) {
        bench.runScan();
        trip = bench.scan().snapshot().trip();
      }
      assertThat(trip).as("tripped").isPresent();
      assertThat(trip.get().cause()).as(trip.get().detail()).isIn(broken.causes());
      assertThat(bench.scan().snapshot().driven().only(ENERGY)).isEqualTo(Outputs.ALL_LOW);
      if (broken.bleeds()) {
        assertThat(voltsAfterFiveSeconds(bench)).isLessThanOrEqualTo(10.0);
      }
    }
  }

  private static double voltsAfterFiveSeconds(VirtualBench bench) {
    long untilNs = bench.rig().clock().nowNs() + 5_000 * MS;
    while (bench.rig().clock().nowNs() < untilNs) {
      bench.runScan();
    }
    return bench.rig().plant().bankVoltage().volts();
  }

  @Test
  void showsThatTheBarOfFiveSecondsCanBeFailed() {
    long atNs = firstDriven(OutputLine.BANK_FILL);
    FaultPlan plan =
        FaultPlan.NONE
            .with(new Fault.BleedPathOpen(), atNs)
            .with(new Fault.GaugeFrozen(), atNs + 4_000 * MS);
    try (VirtualBench bench = bench(plan)) {
      while (bench.scan().snapshot().trip().isEmpty()) {
        bench.runScan();
      }
      double volts = voltsAfterFiveSeconds(bench);

      assertThat(volts).isGreaterThan(10.0);
      assertThat(bench.scan().snapshot().interlocks().present(TripCause.BANK_NOT_FALLING)).isTrue();
    }
  }

  @Test
  void runsTheSameBatchWithNoFaultToItsEndWithoutATrip() {
    try (VirtualBench bench = bench(FaultPlan.NONE)) {
      List<Trip> trips = new ArrayList<>();
      while (!bench.done() && bench.rig().clock().nowNs() < LIMIT_NS * 5) {
        bench.runScan();
        bench.scan().snapshot().trip().ifPresent(trips::add);
      }
      assertThat(bench.done()).isTrue();
      assertThat(trips).isEmpty();
    }
  }
}
