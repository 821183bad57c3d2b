package lodestep.scenario;

import static lodestep.scenario.SwitchedBenches.CALIBRATION;
import static lodestep.scenario.SwitchedBenches.ENERGY;
import static lodestep.scenario.SwitchedBenches.LIMIT_NS;
import static lodestep.scenario.SwitchedBenches.MS;
import static lodestep.scenario.SwitchedBenches.RIG;
import static lodestep.scenario.SwitchedBenches.SEED;
import static lodestep.scenario.SwitchedBenches.WALL;
import static lodestep.scenario.SwitchedBenches.batch;
import static lodestep.scenario.SwitchedBenches.bench;
import static lodestep.scenario.SwitchedBenches.ends;
import static lodestep.scenario.SwitchedBenches.level;
import static lodestep.scenario.SwitchedBenches.rod;
import static lodestep.scenario.SwitchedBenches.toTheEnd;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import lodestep.bench.LedgerStart;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.Continuation;
import lodestep.bench.Entry;
import lodestep.bench.PlanRow;
import lodestep.dial.Move;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;
import lodestep.dial.Verdict;
import lodestep.ledger.Chain;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.MemoryStore;
import lodestep.port.ActEvent;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.quantity.FluxDensity;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import lodestep.sim.RelayName;
import lodestep.sim.VirtualLedger;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Goal: rods are dialed on a switched coil as on any other, and whatever breaks, something ends the
 * pulse and the trip names it. Method: the shipped file of that rig, virtual; for a fault the same
 * run twice, the first tells when it is to come.
 */
class SwitchedCoilTest {

  private static final PlanRow[] THREE = {
    rod("heron", PoleUp.NORTH, level(540, 12)),
    rod("egret", PoleUp.SOUTH, level(-690, 12)),
    rod("stork", PoleUp.NORTH, new Task.Demagnetise(FluxDensity.ofGauss(8)))
  };

  @Test
  void dialsRodsOfBothPolesAndTakesAllFromAThird() {
    try (VirtualBench bench = bench(FaultPlan.NONE, THREE)) {
      toTheEnd(bench);

      assertThat(ends(bench)).hasSize(3);
      assertThat(ends(bench))
          .allSatisfy(end -> assertThat(end.verdict()).as(end.why()).isEqualTo(Verdict.ACCEPTED));
      assertThat(ends(bench).get(0).why()).endsWith("full charge not proven");
    }
  }

  @Test
  void isTheSameToTheLastByteWithTheSameSeed() {
    List<String> one = recordOf(THREE);
    List<String> other = recordOf(THREE);

    assertThat(one).isNotEmpty().isEqualTo(other);
  }

  private static List<String> recordOf(PlanRow... rows) {
    MemoryStore store = emptyLedger();
    try (VirtualBench bench = started(store, batch(0, Entry.planned(List.of(rows), RIG)), SEED)) {
      toTheEnd(bench);
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
          bench(FaultPlan.NONE, rod("crane", PoleUp.NORTH, level(gauss, 3.5)))) {
        toTheEnd(bench);
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

  private static MemoryStore emptyLedger() {
    MemoryStore store = new MemoryStore();
    LedgerEvent created = new LedgerBinding(RIG.name(), RIG.kind()).created();
    store.commit(Chain.link(ChainEnd.EMPTY, List.of(new EventDraft(created, 0, WALL))));
    return store;
  }

  private static VirtualBench started(MemoryStore store, Batch batch, long seed) {
    LedgerStart.Program program =
        new LedgerStart.Program("test", Long.toString(seed), false, CALIBRATION, "nominal");
    LedgerStart start = LedgerStart.of(store, RIG, program);
    return new VirtualBench(
        new VirtualBench.Setup(RIG, seed, FaultPlan.NONE, WALL),
        batch,
        start,
        new VirtualLedger(seed, store));
  }

  @Test
  void beginsAgainWithAChargeAfterAKillInThePulse() {
    MemoryStore store = emptyLedger();
    PlanRow row = rod("heron", PoleUp.NORTH, level(540, 12));
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
      toTheEnd(bench);

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
            OutputLine.LADDER_6,
            -500,
            140,
            TripCause.CURRENT_OFF_LEVEL),
        Case.of(
            "ladder",
            stuck(RelayName.LADDER_6, false),
            OutputLine.LADDER_6,
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
    return bench(faults, rod("heron", PoleUp.NORTH, level(540, 12)));
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
