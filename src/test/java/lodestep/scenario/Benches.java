package lodestep.scenario;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.bench.PlanRow;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.dial.RigMemory;
import lodestep.dial.Task;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.Shape;
import lodestep.measure.GaugeCalibration;
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

  static Batch batch(PlannerMode mode, PlanRow... rows) {
    List<Entry> entries = Entry.planned(List.of(rows), RIG);
    return new Batch(
        "scenario",
        "0".repeat(64),
        "",
        0,
        entries,
        mode,
        RigMemory.none(),
        Optional.empty(),
        new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001),
        0);
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
