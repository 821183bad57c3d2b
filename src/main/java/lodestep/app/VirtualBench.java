package lodestep.app;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.interlock.InterlockSettings;
import lodestep.port.EventDraft;
import lodestep.port.HeadLink;
import lodestep.port.LedgerEvent;
import lodestep.port.Lines;
import lodestep.scan.ScanCycle;
import lodestep.scan.ScanPorts;
import lodestep.sim.FaultPlan;
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
public final class VirtualBench implements AutoCloseable {

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
   */
  public record Setup(RigConfig rig, long seed, FaultPlan faults, Instant wallStart) {}

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
    // A batch that was cut off after its last verdict has nothing left to put anywhere.
    NestConfig firstNest =
        batch
            .next()
            .map(entry -> entry.prepared().row().nest())
            .orElseGet(() -> setup.rig().nests().get(0));
    long seed = rigSeed(setup, batch, ledger);
    this.rig = new VirtualRig(setup.rig(), firstNest.name(), seed, setup.faults());
    this.wall = new VirtualWallClock(rig.clock(), setup.wallStart());
    Lines lines = rig.lines();
    HeadLink head = rig.headLink();
    ScanPorts ports =
        new ScanPorts(
            lines,
            head,
            ledger,
            new VirtualPlanDesk(rig.clock(), VirtualPlanDesk.USUAL_DELAY_NS),
            wall);
    this.scan =
        new ScanCycle(
            ports,
            InterlockSettings.of(setup.rig()),
            start.interlocks(rig.clock().nowNs()),
            BatchJob.begin(batch, start.prologue()));
    this.operator =
        new VirtualOperator(
            rig,
            new VirtualStock(setup.seed(), ledger.archive()).pieces(batch),
            scan::offer,
            seed ^ 0x5deece66dL);
    this.runner =
        new VirtualRunner(rig, setup.rig().limits().scanPeriodNs())
            .eachMillisecond(operator::step)
            .beforeEachScan(ledger::advance)
            .eachScan(scan::run);
  }

  /** A batch that goes on meets the same stock and another day: new noise, another boot. */
  private static long rigSeed(Setup setup, Batch batch, VirtualLedger ledger) {
    return batch.number() == 0 ? setup.seed() : setup.seed() * 31 + ledger.state().durableTo();
  }

  /** Runs one scan period. */
  public void runScan() {
    runner.runScan();
  }

  /** The host's cycle. */
  public ScanCycle scan() {
    return scan;
  }

  /** The batch as it stands. */
  public BatchJob job() {
    return (BatchJob) scan.snapshot().job();
  }

  /** The virtual rig, for tests and for reading its clock. */
  public VirtualRig rig() {
    return rig;
  }

  /** The ledger behind it. */
  public VirtualLedger ledger() {
    return ledger;
  }

  /** Whether the batch is over. */
  public boolean done() {
    return job() instanceof BatchJob.Done;
  }

  /** Whether the virtual operator gave up on a trip that would not clear. */
  public boolean gaveUp() {
    return operator.gaveUp();
  }

  /**
   * Ends in good order: outputs low, and a last event that says so. For an end that is no failure.
   *
   * @param why half a sentence for the record
   */
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
