package lodestep.app;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.LongConsumer;
import lodestep.adapter.gpio.MockBoard;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.bench.LedgerStart;
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
import lodestep.port.HeadLink;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.scan.ScanPorts;
import lodestep.sim.FaultPlan;
import lodestep.sim.StockPiece;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualOperator;
import lodestep.sim.VirtualPlanDesk;
import lodestep.sim.VirtualRig;
import lodestep.sim.VirtualWallClock;

/**
 * The host as it runs on a real rig, its loop and a board's lines included, with the virtual plant
 * behind the board's pins. Time moves when the loop waits, a millisecond of the plant at a time:
 * the pins drive the plant, and its contacts stand at the pins when the scan comes. One thread.
 */
final class HostOnBoard {

  static final RigConfig RIG = ReferenceRig.virtual();
  static final Instant WALL = Instant.parse("2031-03-04T08:00:00Z");

  final MockBoard board = new MockBoard();
  final VirtualLedger ledger;
  final VirtualRig rig;
  final VirtualOperator operator;
  final RealBench bench;
  private LongConsumer eachScan = nowNs -> {};

  HostOnBoard(Batch batch, long seed) {
    this.rig = new VirtualRig(RIG, ReferenceRig.ROD_NEST, seed, FaultPlan.NONE);
    this.ledger = new VirtualLedger(seed);
    // The head by a cable inside the program; one behind a serial line takes its place here.
    HeadLink head = rig.headLink();
    ScanPorts ports =
        new ScanPorts(
            board.open(MockBoard.allPins()),
            head,
            ledger,
            new VirtualPlanDesk(rig.clock(), VirtualPlanDesk.USUAL_DELAY_NS),
            new VirtualWallClock(rig.clock(), WALL));
    HandPace pace = new HandPace(rig.clock().nowNs() + RIG.limits().scanPeriodNs());
    pace.meanwhile(this::meanwhile);
    this.bench =
        new RealBench(RIG, ports, pace, batch, new LedgerStart(prologue(), Optional.empty()));
    Stock stock = new Stock(seed, ledger.archive());
    this.operator =
        new VirtualOperator(
            rig,
            stock.pieces(batch).stream().map(StockPiece::made).toList(),
            bench::offer,
            stock.operatorSeed(batch));
  }

  /** What a test does before each scan. */
  HostOnBoard eachScan(LongConsumer act) {
    eachScan = act;
    return this;
  }

  private void meanwhile(long nowNs) {
    runPlant(nowNs);
    ledger.advance(nowNs);
    board.contacts(rig.lines().read(nowNs));
    eachScan.accept(nowNs);
  }

  /** Moves the plant on to this time, driven by whatever stands at the pins. */
  void runPlant(long untilNs) {
    rig.lines().drive(board.standing());
    while (rig.clock().nowNs() - untilNs < 0) {
      operator.step(rig.clock().nowNs());
      rig.step();
    }
  }

  static Batch oneRod() {
    PlanRow row =
        new PlanRow(
            1,
            "rod",
            Optional.empty(),
            AlloyBook.standard().find("alnico 5").orElseThrow(),
            new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5)),
            RIG.nest(ReferenceRig.ROD_NEST),
            PoleUp.NORTH,
            new Task.ToLevel(FluxDensity.ofGauss(790), FluxDensity.ofGauss(12)),
            1);
    return new Batch(
        "board",
        "0".repeat(64),
        "",
        0,
        Entry.planned(List.of(row), RIG),
        PlannerMode.SECANT,
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
}
