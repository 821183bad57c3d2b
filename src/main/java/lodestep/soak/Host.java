package lodestep.soak;

import java.util.List;
import java.util.Optional;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.LedgerStart;
import lodestep.config.RigConfig;
import lodestep.interlock.InterlockSettings;
import lodestep.interlock.InterlockState;
import lodestep.port.Command;
import lodestep.port.Contacts;
import lodestep.port.EventDraft;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.HeadLink;
import lodestep.port.Ledger;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerState;
import lodestep.port.Lines;
import lodestep.port.LinkState;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.Trip;
import lodestep.port.WallClock;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.scan.ScanCycle;
import lodestep.scan.ScanPorts;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualPlanDesk;
import lodestep.sim.VirtualRig;

/**
 * One run of the production host on the virtual rig, with a witness at each of its ports. A killed
 * one is dropped; the next one knows nothing but rig and record. Confined to its world.
 */
final class Host {

  private static final long NS_PER_MS = 1_000_000L;

  private final VirtualRig rig;
  private final Witness witness;
  private final VirtualLedger ledger;
  private final WallClock wall;
  private final ScanCycle scan;

  /** What a run of the host begins with. */
  record Start(Batch batch, LedgerStart ledgerStart, WallClock wall, Mischief mischief) {}

  Host(VirtualRig rig, RigConfig config, Witness witness, VirtualLedger ledger, Start start) {
    this.rig = rig;
    this.witness = witness;
    this.ledger = ledger;
    this.wall = start.wall();
    // What the line brought while no program ran is lost to the one that opens it now.
    rig.headLink().take();
    rig.headLink().beginSession();
    ScanPorts ports =
        new ScanPorts(
            start.mischief().lines(new SeenLines()),
            start.mischief().head(new SeenHead(start.mischief().headItself(rig.headLink()))),
            start.mischief().ledger(new SeenLedger()),
            new VirtualPlanDesk(rig.clock(), VirtualPlanDesk.USUAL_DELAY_NS),
            wall);
    this.scan =
        new ScanCycle(
            ports,
            InterlockSettings.of(config),
            InterlockState.powerOn(start.ledgerStart().standing(rig.clock().nowNs())),
            BatchJob.begin(start.batch(), start.ledgerStart().prologue()));
  }

  /** One scan; what it throws is the host's end. */
  void run(long nowNs) {
    witness.scanned = true;
    witness.askedBefore = witness.asked;
    witness.scanGapMs = witness.ms - witness.scanAtMs;
    witness.scanAtMs = witness.ms;
    scan.run(nowNs);
    Optional<Trip> trip = scan.snapshot().trip();
    witness.tripped = trip.isPresent();
    if (trip.isPresent()) {
      witness.tripCode = trip.get().cause().code();
      if (!witness.trippedBefore) {
        witness.trippedAtMs = witness.ms;
      }
    }
    witness.state = RigState.of(scan.snapshot().job());
  }

  void offer(Command command) {
    scan.offer(command);
  }

  /** Whether this program must be started anew before it can go on. */
  boolean spent() {
    return ledger.state().fault().isPresent() || scan.snapshot().failure().isPresent();
  }

  ScanCycle scan() {
    return scan;
  }

  /** What is asked of the winder now. */
  HandCue cue() {
    return scan.snapshot().job() instanceof BatchJob job ? job.cue() : HandCue.of(HandAsk.WAIT);
  }

  VirtualLedger ledger() {
    return ledger;
  }

  /** Ends it as the program ends: outputs low, last entry, ledger closed. */
  void end() {
    scan.close();
    ledger.append(
        new EventDraft(new LedgerEvent.ProgramStopped("soak"), rig.clock().nowNs(), wall.now()));
    ledger.close();
  }

  private final class SeenLines implements Lines {
    @Override
    public Contacts read(long nowNs) {
      return rig.lines().read(nowNs);
    }

    @Override
    public Outputs drive(Outputs outputs) {
      witness.asked = outputs.highBits();
      return rig.lines().drive(outputs);
    }

    @Override
    public void close() {
      rig.lines().close();
    }
  }

  private final class SeenHead implements HeadLink {
    private final HeadLink head;

    SeenHead(HeadLink head) {
      this.head = head;
    }

    @Override
    public List<ReceivedFrame> take() {
      List<ReceivedFrame> frames = head.take();
      for (int i = 0; i < frames.size(); i++) {
        HeadFrame frame = frames.get(i).frame();
        if (frame instanceof HeadFrame.Status) {
          witness.statusAtMs = (frames.get(i).receivedAtNs() - VirtualRig.START_NS) / NS_PER_MS;
        } else if (frame instanceof HeadFrame.TokenGrant grant) {
          witness.grantedToken = grant.token();
          witness.grantedIntent = grant.intentNumber();
          witness.grantedAtMs = witness.ms;
        }
      }
      return frames;
    }

    @Override
    public LinkState state(long nowNs) {
      return head.state(nowNs);
    }

    @Override
    public void offer(HeadRequest request) {
      if (request instanceof HeadRequest.Heartbeat beat) {
        witness.beats++;
        if (beat.permit()) {
          witness.permitBeatAtMs = witness.ms;
        }
      } else if (request instanceof HeadRequest.AskToken || request instanceof HeadRequest.MoveTo) {
        witness.energyRequests++;
      } else if (request instanceof HeadRequest.OpenWindow open) {
        witness.energyRequests++;
        witness.windowToken = open.token();
        witness.windowIntent = open.intentNumber();
        witness.windowAskedAtMs = witness.ms;
      }
      head.offer(request);
    }

    @Override
    public void stop() {
      head.stop();
    }

    @Override
    public void close() {
      throw new IllegalStateException("nobody closes the line in virtual time");
    }
  }

  private final class SeenLedger implements Ledger {
    @Override
    public long nextNumber() {
      return ledger.nextNumber();
    }

    @Override
    public void append(EventDraft draft) {
      witness.record.appended(ledger.nextNumber(), draft.event());
      ledger.append(draft);
    }

    @Override
    public LedgerState state() {
      LedgerState state = ledger.state();
      witness.record.acknowledged(state.durableTo());
      return state;
    }

    @Override
    public void close() {
      ledger.close();
    }
  }
}
