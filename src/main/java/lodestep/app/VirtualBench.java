package lodestep.app;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.LedgerStart;
import lodestep.bench.Lots;
import lodestep.config.RigConfig;
import lodestep.interlock.InterlockSettings;
import lodestep.interlock.InterlockState;
import lodestep.port.EventDraft;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.HeadLink;
import lodestep.port.LedgerEvent;
import lodestep.port.Lines;
import lodestep.scan.ScanCycle;
import lodestep.scan.ScanPorts;
import lodestep.sim.FaultPlan;
import lodestep.sim.StockPiece;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualOperator;
import lodestep.sim.VirtualPlanDesk;
import lodestep.sim.VirtualRig;
import lodestep.sim.VirtualRunner;
import lodestep.sim.VirtualWallClock;

/**
 * The whole host on the virtual rig, in virtual time and one thread: the same job, interlocks and
 * scan as on a real one. Deterministic in its seed.
 */
public final class VirtualBench implements RunningBatch {

  private final VirtualRig rig;
  private final VirtualRunner runner;
  private final VirtualWallClock wall;
  private final VirtualLedger ledger;
  private final ScanCycle scan;
  private final VirtualOperator operator;

  /**
   * What a virtual run is made of.
   *
   * @param seed of magnets, noise, operator and faults alike
   * @param wallStart what the virtual wall clock says at the start
   * @param told is told each event as the ledger is handed it; must not block
   */
  public record Setup(
      RigConfig rig, long seed, FaultPlan faults, Instant wallStart, Consumer<LedgerEvent> told) {

    /** With nobody to tell. */
    public Setup(RigConfig rig, long seed, FaultPlan faults, Instant wallStart) {
      this(rig, seed, faults, wallStart, event -> {});
    }
  }

  /**
   * A bench with its batch waiting to begin on a ledger with nothing left open.
   *
   * @param prologue events the batch's first entries follow; the calibration's the last of them
   */
  public VirtualBench(Setup setup, Batch batch, List<LedgerEvent> prologue, VirtualLedger ledger) {
    this(setup, batch, new LedgerStart(prologue, Optional.empty()), ledger);
  }

  /** A bench with its batch waiting to begin, or to go on, as the ledger left it. */
  public VirtualBench(Setup setup, Batch batch, LedgerStart start, VirtualLedger ledger) {
    this.ledger = ledger;
    Stock stock = new Stock(setup.seed(), ledger.archive(), setup.wallStart());
    this.rig =
        new VirtualRig(
            setup.rig(), Stock.firstNest(batch, setup.rig()), stock.rigSeed(batch), setup.faults());
    this.wall = new VirtualWallClock(rig.clock(), setup.wallStart());
    Lines lines = rig.lines();
    HeadLink head = rig.headLink();
    ScanPorts ports =
        new ScanPorts(
            lines,
            head,
            new ToldLedger(ledger, setup.told()),
            new VirtualPlanDesk(rig.clock(), VirtualPlanDesk.USUAL_DELAY_NS),
            wall);
    this.scan =
        new ScanCycle(
            ports,
            InterlockSettings.of(setup.rig()),
            InterlockState.powerOn(start.standing(rig.clock().nowNs())),
            BatchJob.begin(batch, start.prologue(), start.recall()));
    this.operator =
        new VirtualOperator(
            rig,
            StockPiece.made(stock.pieces(batch), Lots.of(setup.rig()), Lots.element(setup.rig())),
            scan::offer,
            () -> cue(scan),
            stock.operatorSeed(batch));
    this.runner =
        new VirtualRunner(rig, setup.rig().limits().scanPeriodNs())
            .eachMillisecond(operator::step)
            .beforeEachScan(ledger::advance)
            .eachScan(scan::run);
  }

  private static HandCue cue(ScanCycle scan) {
    return scan.snapshot().job() instanceof BatchJob job ? job.cue() : HandCue.of(HandAsk.WAIT);
  }

  @Override
  public void runScan() {
    runner.runScan();
  }

  @Override
  public long nowNs() {
    return rig.clock().nowNs();
  }

  @Override
  public ScanCycle scan() {
    return scan;
  }

  /** The virtual rig, for tests and for reading its clock. */
  public VirtualRig rig() {
    return rig;
  }

  /** The ledger behind it. */
  public VirtualLedger ledger() {
    return ledger;
  }

  @Override
  public boolean gaveUp() {
    return operator.gaveUp();
  }

  @Override
  public void end(String why) {
    scan.close();
    ledger.append(
        new EventDraft(new LedgerEvent.ProgramStopped(why), rig.clock().nowNs(), wall.now()));
    close();
  }

  @Override
  public void close() {
    try {
      scan.close();
    } finally {
      ledger.close();
    }
  }
}
