package lodestep.app;

import java.io.IOException;
import java.util.Optional;
import lodestep.app.remote.RemoteRig;
import lodestep.app.remote.RigOrder;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.LedgerStart;
import lodestep.interlock.InterlockSettings;
import lodestep.interlock.InterlockState;
import lodestep.port.Command;
import lodestep.port.EventDraft;
import lodestep.port.LedgerEvent;
import lodestep.scan.ScanCycle;
import lodestep.scan.ScanPorts;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualPlanDesk;
import lodestep.sim.VirtualWallClock;

/**
 * The whole host on a virtual rig in a process of its own, whose head speaks over a real serial
 * line: the host of {@link VirtualBench} in every other respect, and deterministic as it is. Faults
 * of the plan are the rig's; besides, a cable can be cut and a process ended.
 */
public final class SerialBench implements RunningBatch {

  private final RemoteRig rig;
  private final VirtualWallClock wall;
  private final VirtualLedger ledger;
  private final ScanCycle scan;
  private final long scanPeriodNs;

  private SerialBench(
      RemoteRig rig,
      VirtualWallClock wall,
      VirtualBench.Setup setup,
      ScanCycle scan,
      VirtualLedger ledger) {
    this.rig = rig;
    this.wall = wall;
    this.ledger = ledger;
    this.scan = scan;
    this.scanPeriodNs = setup.rig().limits().scanPeriodNs();
  }

  /**
   * Starts the rig's process and makes a bench with its batch waiting to begin.
   *
   * @param start what the ledger left
   * @throws IOException when the rig cannot be started; its message is one sentence for a person,
   *     nothing is left running, and the ledger is left open
   */
  public static SerialBench start(
      VirtualBench.Setup setup, Batch batch, LedgerStart start, VirtualLedger ledger)
      throws IOException {
    Stock stock = new Stock(setup.seed(), ledger.archive(), setup.wallStart());
    RemoteRig rig =
        RemoteRig.start(
            new RigOrder(
                    setup.rig(),
                    Stock.firstNest(batch, setup.rig()),
                    stock.rigSeed(batch),
                    stock.operatorSeed(batch),
                    stock.pieces(batch))
                .with(setup.faults()));
    VirtualWallClock wall = new VirtualWallClock(rig.clock(), setup.wallStart());
    ScanPorts ports =
        new ScanPorts(
            rig,
            rig.head(),
            new ToldLedger(ledger, setup.told()),
            new VirtualPlanDesk(rig.clock(), VirtualPlanDesk.USUAL_DELAY_NS),
            wall);
    ScanCycle scan =
        new ScanCycle(
            ports,
            InterlockSettings.of(setup.rig()),
            InterlockState.powerOn(start.standing(rig.clock().nowNs())),
            BatchJob.begin(batch, start.prologue(), start.recall()));
    return new SerialBench(rig, wall, setup, scan, ledger);
  }

  @Override
  public void runScan() {
    if (scan.snapshot().job() instanceof BatchJob job) {
      rig.cue(job.cue());
    }
    rig.advance(scanPeriodNs);
    for (int said = 0; said < rig.continues(); said++) {
      scan.offer(Command.CONTINUE);
    }
    ledger.advance(nowNs());
    scan.run(nowNs());
  }

  @Override
  public long nowNs() {
    return rig.clock().nowNs();
  }

  @Override
  public ScanCycle scan() {
    return scan;
  }

  /** Whether the operator gave up, or is gone with the rig once that has tripped. */
  @Override
  public boolean gaveUp() {
    return rig.gaveUp() || (rig.gone().isPresent() && scan.snapshot().trip().isPresent());
  }

  @Override
  public Optional<String> gone() {
    return rig.gone();
  }

  /** The rig behind the ports, for tests. */
  public RemoteRig rig() {
    return rig;
  }

  /** The ledger behind it. */
  public VirtualLedger ledger() {
    return ledger;
  }

  @Override
  public void end(String why) {
    scan.close();
    ledger.append(new EventDraft(new LedgerEvent.ProgramStopped(why), nowNs(), wall.now()));
    close();
  }

  @Override
  public void close() {
    try {
      scan.close();
    } finally {
      try {
        rig.close();
      } finally {
        ledger.close();
      }
    }
  }
}
