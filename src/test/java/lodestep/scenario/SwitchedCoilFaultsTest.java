package lodestep.scenario;

import static lodestep.scenario.SwitchedBenches.bench;
import static lodestep.scenario.SwitchedBenches.rod;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import lodestep.app.VirtualBench;
import lodestep.dial.PoleUp;
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
 * Goal: whatever breaks on a switched coil, something ends the pulse and the trip names it. Method:
 * the same run twice; the first tells when the fault is to come.
 */
class SwitchedCoilFaultsTest {

  private static final long MS = 1_000_000L;
  private static final long LIMIT_NS = 600_000 * MS;
  private static final Outputs ENERGY = Outputs.high(OutputLine.COIL_ON, OutputLine.COIL_FIRE);

  /**
   * A fault and what must come of it.
   *
   * @param line and {@code after}: so many milliseconds after this line is first driven
   * @param longestMs in which the coil's current must have ended after the gate rose; 0 when no
   *     pulse may have begun at all
   */
  private record Case(
      String row,
      List<Fault> faults,
      OutputLine line,
      int after,
      int longestMs,
      Set<TripCause> causes) {

    static Case of(
        String row, Fault fault, OutputLine line, int after, int longestMs, TripCause... causes) {
      return new Case(row, List.of(fault), line, after, longestMs, Set.of(causes));
    }

    Case and(Fault other) {
      return new Case(
          row,
          Stream.concat(faults.stream(), Stream.of(other)).toList(),
          line,
          after,
          longestMs,
          causes);
    }

    @Override
    public String toString() {
      return row + " " + faults;
    }
  }

  private static final OutputLine ON = OutputLine.COIL_ON;
  private static final OutputLine FIRE = OutputLine.COIL_FIRE;

  static Stream<Case> cases() {
    return Stream.of(switchAndTimers(), relays(), supplyAndCoil()).flatMap(c -> c);
  }

  private static Stream<Case> switchAndTimers() {
    Fault gateStuck = new Fault.OutputStuck(FIRE, true);
    return Stream.of(
        // Found before a pulse, by the proof at a low level.
        Case.of("R2", new Fault.SwitchShorted(), ON, -500, 400, TripCause.CURRENT_UNCOMMANDED),
        // In the pulse: after the gate has fallen the current stays.
        Case.of("R2", new Fault.SwitchShorted(), FIRE, 5, 400, TripCause.CURRENT_UNCOMMANDED),
        Case.of("H4", gateStuck, FIRE, 5, 140, TripCause.OUTPUT_READ_BACK),
        Case.of("H5", gateStuck, FIRE, 5, 140, TripCause.OUTPUT_READ_BACK, TripCause.HEAD_SILENT)
            .and(new Fault.HeadHung()),
        Case.of("H5", gateStuck, FIRE, 5, 140, TripCause.OUTPUT_READ_BACK)
            .and(new Fault.WindowStuck()),
        Case.of("H5", gateStuck, FIRE, 5, 320, TripCause.OUTPUT_READ_BACK)
            .and(new Fault.TimerDead()),
        Case.of("J3", new Fault.HostPaused(), FIRE, 5, 140, TripCause.SCAN_LATE),
        Case.of("H1", new Fault.HeadHung(), FIRE, 5, 140, TripCause.HEAD_SILENT));
  }

  private static Stream<Case> relays() {
    return Stream.of(
        Case.of(
            "R1",
            new Fault.RelayWelded(RelayName.ON),
            ON,
            20,
            0,
            TripCause.BLEED_CONTACT_WRONG,
            TripCause.BANK_NOT_FALLING),
        Case.of("R1", stuck(RelayName.ON, false), ON, -500, 0, TripCause.BLEED_CONTACT_WRONG),
        Case.of("R6", stuck(RelayName.REVERSE, true), ON, -500, 0, TripCause.CHANGEOVER_WRONG),
        Case.of("range", stuck(RelayName.FULL, false), ON, 150, 0, TripCause.RANGE_RELAY_WRONG),
        Case.of("range", stuck(RelayName.FULL, true), ON, -500, 0, TripCause.RANGE_RELAY_WRONG),
        Case.of(
            "ladder",
            stuck(RelayName.LADDER_8, true),
            OutputLine.LADDER_5,
            -500,
            140,
            TripCause.CURRENT_OFF_LEVEL),
        Case.of(
            "ladder",
            stuck(RelayName.LADDER_5, false),
            OutputLine.LADDER_5,
            -500,
            140,
            TripCause.CURRENT_OFF_LEVEL));
  }

  private static Stream<Case> supplyAndCoil() {
    return Stream.of(
        Case.of("supply", new Fault.SupplyWrong(30), FIRE, -200, 140, TripCause.CURRENT_OFF_LEVEL),
        Case.of(
            "supply",
            new Fault.SupplyWrong(54),
            FIRE,
            -200,
            0,
            // The comparator opens the chain until the feed has fallen below its level again.
            TripCause.CHAIN_OPEN,
            TripCause.BANK_OVER_VOLTAGE,
            TripCause.PERMIT_LOST),
        Case.of("R3", new Fault.SwitchOpen(), FIRE, -200, 0, TripCause.CURRENT_OFF_LEVEL),
        Case.of("diode", new Fault.DiodeMissing(), FIRE, 5, 140, TripCause.WRONG_SIGN_CURRENT),
        Case.of("C2", sensor(Fault.CoilSensor.Way.OPEN), ON, 20, 140, TripCause.COIL_SENSOR),
        Case.of("C2", sensor(Fault.CoilSensor.Way.SHORTED), ON, 20, 140, TripCause.COIL_SENSOR),
        Case.of("C2", sensor(Fault.CoilSensor.Way.FROZEN), ON, 20, 140, TripCause.COIL_SENSOR),
        Case.of("C2", new Fault.ThermostatOpen(), FIRE, 5, 140, TripCause.CHAIN_OPEN));
  }

  private static Fault stuck(RelayName relay, boolean pulledIn) {
    return new Fault.RelayStuck(relay, pulledIn);
  }

  private static Fault sensor(Fault.CoilSensor.Way way) {
    return new Fault.CoilSensor(way);
  }

  private static VirtualBench one(FaultPlan faults) {
    return bench(faults, rod("heron", PoleUp.NORTH, Benches.level(540, 12)));
  }

  private static long firstDriven(OutputLine line) {
    try (VirtualBench bench = one(FaultPlan.NONE)) {
      while (!bench.scan().snapshot().driven().isHigh(line)) {
        bench.runScan();
        assertThat(bench.rig().clock().nowNs()).isLessThan(LIMIT_NS);
      }
      return bench.rig().clock().nowNs();
    }
  }

  @ParameterizedTest
  @MethodSource("cases")
  void endsThePulseTripsWithItsCauseAndLetsGo(Case broken) {
    long atNs = firstDriven(broken.line()) + broken.after() * MS;
    FaultPlan plan = FaultPlan.NONE;
    for (Fault fault : broken.faults()) {
      long untilNs = fault instanceof Fault.HostPaused ? atNs + 400 * MS : Long.MAX_VALUE;
      plan = plan.with(fault, atNs, untilNs);
    }
    try (VirtualBench bench = one(plan)) {
      Optional<Trip> trip = Optional.empty();
      int currentMs = 0;
      long tripAtNs = 0;
      while (bench.rig().clock().nowNs() < LIMIT_NS
          && (trip.isEmpty() || bench.rig().clock().nowNs() < tripAtNs + 1_000 * MS)) {
        bench.runScan();
        currentMs +=
            bench.rig().clock().nowNs() > atNs && bench.rig().plant().coilCarries() ? 5 : 0;
        if (trip.isEmpty() && bench.scan().snapshot().trip().isPresent()) {
          trip = bench.scan().snapshot().trip();
          tripAtNs = bench.rig().clock().nowNs();
        }
      }

      assertThat(trip).as("tripped").isPresent();
      assertThat(trip.get().cause()).as(trip.get().detail()).isIn(broken.causes());
      assertThat(bench.scan().snapshot().driven().only(ENERGY)).isEqualTo(Outputs.ALL_LOW);
      assertThat(currentMs).as("current for so many ms").isLessThanOrEqualTo(broken.longestMs());
      assertThat(bench.rig().plant().coilCarries()).isFalse();
    }
  }

  @Test
  void findsAShortedSwitchAtAFieldThatMovesNoMagnet() {
    long atNs = firstDriven(ON) - 500 * MS;
    try (VirtualBench bench = one(FaultPlan.NONE.with(new Fault.SwitchShorted(), atNs))) {
      double most = 0;
      while (bench.scan().snapshot().trip().isEmpty()) {
        bench.runScan();
        most = Math.max(most, bench.rig().plant().coilAmperes());
      }

      // Five per cent of the smallest pulse's energy is 22 % of its current; this is far below a
      // fiftieth of a charge's. Its field, 3.5 kA/m, is a fifteenth of the alloy's coercivity.
      assertThat(most).isBetween(0.1, 0.3);
    }
  }
}
