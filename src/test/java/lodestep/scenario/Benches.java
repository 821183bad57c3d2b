package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.Continuation;
import lodestep.bench.Entry;
import lodestep.bench.LedgerStart;
import lodestep.bench.NestSeatings;
import lodestep.bench.PlanRow;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.dial.Drop;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.dial.RigMemory;
import lodestep.dial.Task;
import lodestep.dial.Tolerance;
import lodestep.ledger.Chain;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.MemoryStore;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.Shape;
import lodestep.measure.GaugeCalibration;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.EventStore;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualLedger;

/** Virtual benches for scenario tests, made in one place. */
final class Benches {

  static final RigConfig RIG = ReferenceRig.virtual();

  /** Virtual minutes no healthy batch of these tests needs, in nanoseconds. */
  static final long LONG_NS = 3_600_000_000_000L;

  static final GaugeCalibration CALIBRATION =
      new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001);

  private static final Instant WALL = Instant.parse("2031-03-04T08:00:00Z");

  private Benches() {}

  static PlanRow rod(String name, PoleUp pole, Task task, int count) {
    return new PlanRow(
        1,
        name,
        Optional.empty(),
        AlloyBook.standard().find("alnico 5").orElseThrow(),
        new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5)),
        RIG.nest("rod nest"),
        pole,
        task,
        count);
  }

  static PlanRow bar(String name, PoleUp pole, Task task, int count) {
    return new PlanRow(
        2,
        name,
        Optional.empty(),
        AlloyBook.standard().find("alnico 2").orElseThrow(),
        new Shape.Bar(
            Length.ofMm(58), Length.ofMm(11.5), Length.ofMm(3.4), Shape.Axis.THROUGH_WIDTH),
        RIG.nest("bar nest"),
        pole,
        task,
        count);
  }

  static Task level(double gauss, double toleranceGauss) {
    return new Task.ToLevel(FluxDensity.ofGauss(gauss), FluxDensity.ofGauss(toleranceGauss));
  }

  /** A charged rod that is only to come down. */
  static PlanRow returned(String name, double gauss, double toleranceGauss) {
    PlanRow rod =
        rod(
            name,
            PoleUp.NORTH,
            new Task.DownBy(
                new Drop.By(FluxDensity.ofGauss(gauss)),
                new Tolerance.Fixed(FluxDensity.ofGauss(toleranceGauss))),
            1);
    return new PlanRow(
        3,
        name,
        rod.set(),
        rod.alloy(),
        rod.shape(),
        rod.nest(),
        rod.poleUp(),
        rod.task(),
        rod.count());
  }

  static Batch batch(PlannerMode mode, PlanRow... rows) {
    return batch(mode, 0, Entry.planned(List.of(rows), RIG));
  }

  static Batch batch(PlannerMode mode, long number, List<Entry> entries) {
    return new Batch(
        "scenario",
        "0".repeat(64),
        "",
        number,
        entries,
        mode,
        RigMemory.none(),
        Optional.empty(),
        CALIBRATION,
        0,
        NestSeatings.USUAL);
  }

  /** The batch that this record shows left open, if there is one. */
  static Optional<Batch> leftOpen(LedgerArchive archive, PlanRow... rows) {
    return Continuation.of(archive)
        .map(
            going ->
                batch(
                    PlannerMode.CURVE,
                    going.number(),
                    going.entries(Entry.planned(List.of(rows), RIG))));
  }

  /** A new ledger in memory for the reference rig. */
  static MemoryStore emptyLedger() {
    return emptyLedger(RIG);
  }

  /** A new ledger in memory for this rig. */
  static MemoryStore emptyLedger(RigConfig rig) {
    MemoryStore store = new MemoryStore();
    LedgerEvent created = new LedgerBinding(rig.name(), rig.kind()).created();
    store.commit(Chain.link(ChainEnd.EMPTY, List.of(new EventDraft(created, 0, WALL))));
    return store;
  }

  /** A start of the program on what this store holds; the store stays usable after the run. */
  static VirtualBench started(EventStore store, Batch batch, long seed) {
    return started(RIG, store, batch, seed, FaultPlan.NONE);
  }

  /** The same on another rig, which breaks by this plan. */
  static VirtualBench started(
      RigConfig rig, EventStore store, Batch batch, long seed, FaultPlan faults) {
    LedgerStart.Program program =
        new LedgerStart.Program("test", Long.toString(seed), false, CALIBRATION, "nominal");
    return new VirtualBench(
        new VirtualBench.Setup(rig, seed, faults, WALL),
        batch,
        LedgerStart.of(store, rig, program),
        new VirtualLedger(seed, store));
  }

  /** Runs to the end of the batch. */
  static void toTheEnd(VirtualBench bench) {
    long untilNs = bench.rig().clock().nowNs() + LONG_NS;
    while (!bench.done() && !bench.gaveUp() && bench.rig().clock().nowNs() < untilNs) {
      bench.runScan();
    }
    assertThat(bench.done()).as(bench.job().sentence()).isTrue();
  }

  static List<LedgerEvent> prologue() {
    return List.of(
        new LedgerEvent.ProgramStarted("test", "", "", false),
        new LedgerEvent.CalibrationSet(500_000, 0, 2000, 1000, "nominal"));
  }

  static VirtualBench bench(Batch batch, long seed, FaultPlan faults) {
    return new VirtualBench(
        new VirtualBench.Setup(RIG, seed, faults, WALL),
        batch,
        prologue(),
        new VirtualLedger(seed));
  }
}
