package lodestep.app;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.function.Consumer;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.Entry;
import lodestep.bench.PlanRow;
import lodestep.config.RigConfig;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;
import lodestep.interlock.InterlockSettings;
import lodestep.interlock.InterlockState;
import lodestep.magnet.MagnetModel;
import lodestep.port.Command;
import lodestep.port.HeadLink;
import lodestep.port.LedgerEvent;
import lodestep.port.Lines;
import lodestep.scan.ScanCycle;
import lodestep.scan.ScanPorts;
import lodestep.sim.FaultPlan;
import lodestep.sim.SeatedMagnet;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualMagnet;
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
   * A bench with its batch waiting to begin.
   *
   * @param prologue events the batch's first entries follow; the calibration's the last of them
   */
  public VirtualBench(Setup setup, Batch batch, List<LedgerEvent> prologue, VirtualLedger ledger) {
    this.ledger = ledger;
    String firstNest = batch.next().map(entry -> entry.prepared().row().nest().name()).orElse("");
    this.rig = new VirtualRig(setup.rig(), firstNest, setup.seed(), setup.faults());
    Lines lines = rig.lines();
    HeadLink head = rig.headLink();
    ScanPorts ports =
        new ScanPorts(
            lines,
            head,
            ledger,
            new VirtualPlanDesk(rig.clock(), VirtualPlanDesk.USUAL_DELAY_NS),
            new VirtualWallClock(rig.clock(), setup.wallStart()));
    this.scan =
        new ScanCycle(
            ports,
            InterlockSettings.of(setup.rig()),
            InterlockState.powerOn(),
            BatchJob.begin(batch, prologue));
    this.operator = operator(rig, batch, scan::offer, setup.seed());
    this.runner =
        new VirtualRunner(rig, setup.rig().limits().scanPeriodNs())
            .eachMillisecond(operator::step)
            .beforeEachScan(ledger::advance)
            .eachScan(scan::run);
  }

  /** Who works at this rig through this batch, with a stock made for it. */
  static VirtualOperator operator(
      VirtualRig rig, Batch batch, Consumer<Command> commands, long seed) {
    return new VirtualOperator(rig, pieces(batch, seed), commands, seed ^ 0x5deece66dL);
  }

  /** The stock: one virtual magnet for each entry that is still open, from one lot for each row. */
  private static List<VirtualOperator.Piece> pieces(Batch batch, long seed) {
    List<VirtualOperator.Piece> pieces = new ArrayList<>();
    for (Entry entry : batch.entries()) {
      if (!entry.done()) {
        pieces.add(
            new VirtualOperator.Piece(magnet(entry, seed), entry.prepared().row().nest().name()));
      }
    }
    return pieces;
  }

  private static SeatedMagnet magnet(Entry entry, long seed) {
    PlanRow row = entry.prepared().row();
    String lotName = row.alloy().name() + row.shape().words();
    SplittableRandom lotRandom =
        new SplittableRandom(seed * 31 + lotName.toLowerCase(Locale.ROOT).hashCode());
    VirtualMagnet.Lot lot = VirtualMagnet.Lot.drawn(row.alloy(), lotRandom);
    SplittableRandom own = new SplittableRandom(seed * 31 + entry.name().hashCode());
    VirtualMagnet magnet = VirtualMagnet.of(lot, row.shape(), row.poleUp() == PoleUp.NORTH, own);
    if (row.task() instanceof Task.DownBy) {
      // A row that only comes down is a magnet that was charged before.
      double peak =
          MagnetModel.of(row.alloy(), row.shape())
              .saturatingApplied(row.alloy().saturatingField())
              .amperesPerMetre();
      boolean north = row.poleUp() == PoleUp.NORTH;
      magnet.applyPulse(north ? peak : 0, north ? 0 : peak, north);
    }
    return magnet;
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

  @Override
  public void close() {
    try {
      scan.close();
    } finally {
      ledger.close();
    }
  }
}
