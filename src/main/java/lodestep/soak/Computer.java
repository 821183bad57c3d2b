package lodestep.soak;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import lodestep.bench.Batch;
import lodestep.bench.LedgerStart;
import lodestep.ledger.Chain;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.MemoryStore;
import lodestep.ledger.Proof;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.Hash;
import lodestep.port.LedgerArchive;
import lodestep.port.Outputs;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualOperator;
import lodestep.sim.VirtualRig;
import lodestep.sim.VirtualWallClock;

/**
 * The computer on which the program lives, with its disk: starts it, kills it, cuts its power, and
 * looks after each death whether the record is what was acknowledged. Confined to its world.
 */
final class Computer {

  private static final long NS_PER_MS = 1_000_000L;
  private static final Instant WALL_START = Instant.parse("2031-06-02T08:00:00Z");
  private static final int FIRST_START_MS = 3;

  /** As long as the program waits for bank and coil to come to rest before it ends. */
  private static final long END_WITHIN_MS = 8_000;

  private static final double REST_VOLTS = 10;

  private final SoakSettings settings;
  private final VirtualRig rig;
  private final Witness witness;
  private final Stock stock;
  private final Planted planted;
  private final Mischief mischief;
  private final Findings findings;
  private final SplittableRandom crashRandom;
  private final SplittableRandom ledgerRandom;
  private final VirtualWallClock wall;

  private MemoryStore store = new MemoryStore();
  private Optional<Host> host = Optional.empty();
  private ChainEnd acknowledged = ChainEnd.EMPTY;
  private long startAtMs = FIRST_START_MS;
  private long endAtMs = Witness.NEVER;

  /** What its chances are drawn from. */
  record Chances(SplittableRandom crash, SplittableRandom ledger) {}

  Computer(
      SoakSettings settings,
      VirtualRig rig,
      Witness witness,
      Stock stock,
      Planted planted,
      Findings findings,
      Chances chances) {
    this.settings = settings;
    this.rig = rig;
    this.witness = witness;
    this.stock = stock;
    this.planted = planted;
    this.mischief = new Mischief(settings.kind(), planted, witness);
    this.findings = findings;
    this.crashRandom = chances.crash();
    this.ledgerRandom = chances.ledger();
    this.wall = new VirtualWallClock(rig.clock(), WALL_START);
    LedgerBinding binding = new LedgerBinding(settings.rig().name(), settings.rig().kind());
    EventDraft created = new EventDraft(binding.created(), 0, WALL_START);
    store.commit(Chain.link(ChainEnd.EMPTY, List.of(created)));
  }

  /** The program, while it runs. */
  Optional<Host> host() {
    return host;
  }

  /** What the program asks of the winder now. */
  HandCue cue() {
    return host.map(Host::cue).orElse(HandCue.of(HandAsk.WAIT));
  }

  /** Hash over all bytes of the record. */
  Hash recordHash() {
    return store.newest().hash();
  }

  /** What befalls it; the rig's faults and the persons' acts are passed over. */
  void befall(Happening what) {
    long overMs = what.untilMs();
    switch (what.kind()) {
      case HOST_KILLED -> kill(what.on().equals("levels fall"), overMs);
      case POWER_CUT -> kill(true, overMs);
      case HOST_ENDED -> askEnd(overMs);
      case STOP_ASKED -> host.ifPresent(running -> running.scan().askStop());
      case CLOCK_SET -> wall.jump(Duration.ofMillis((long) (what.value() * 1e3)));
      case DISK_FULL -> host.ifPresent(running -> running.ledger().fillDisk());
      case DISK_ERROR -> host.ifPresent(running -> running.ledger().breakDisk());
      case DISK_STALLED ->
          host.ifPresent(running -> running.ledger().stallNext(what.forMs() * NS_PER_MS));
      default -> {
        // The rig's fault plan and the people see to all others.
      }
    }
  }

  /** The program is gone between two scans; what was under way to the disk may be there in part. */
  private void kill(boolean levelsFall, long restartAtMs) {
    if (host.isPresent()) {
      noteAcknowledged();
      host.get().ledger().cutPower(crashRandom.nextInt(3) * 0.5);
      if (planted == Planted.LOST_ROW) {
        store = Stores.endingBefore(store, witness.record.acknowledgedTo());
      }
      dead();
      proveRecord();
    }
    if (levelsFall) {
      rig.lines().drive(Outputs.ALL_LOW);
      witness.asked = 0;
    }
    startAtMs = restartAtMs;
  }

  private void dead() {
    host = Optional.empty();
    endAtMs = Witness.NEVER;
    witness.hostIsDead();
  }

  /** A stop first; the program ends once the rig is at rest, or when it has waited long enough. */
  private void askEnd(long restartAtMs) {
    if (host.isPresent()) {
      host.get().scan().askStop();
      endAtMs = witness.ms + END_WITHIN_MS;
      startAtMs = restartAtMs;
    }
  }

  /** After a scan: ends the program if it was asked to end and may. */
  void endIfAtRest() {
    if (!ending()) {
      return;
    }
    boolean rest = witness.bankVolts < REST_VOLTS && witness.tripped;
    if (rest || witness.ms >= endAtMs) {
      host.get().end();
      witness.asked = 0;
      noteAcknowledged();
      dead();
      startAtMs = Math.max(startAtMs, witness.ms + 1);
    }
  }

  /**
   * Starts the program when its time has come.
   *
   * @return the magnets that its winder may put into the nest; empty if none was started now
   */
  Optional<List<VirtualOperator.Piece>> startIfDue() {
    if (host.isPresent() || witness.ms < startAtMs || startAtMs == Witness.NEVER) {
      return Optional.empty();
    }
    Optional<Batch> batch = stock.batch(store);
    if (batch.isEmpty()) {
      // The batch was over; nobody starts a program for nothing.
      startAtMs = Witness.NEVER;
      return Optional.empty();
    }
    start(batch.get());
    return Optional.of(stock.open(batch.get()));
  }

  private void start(Batch batch) {
    witness.record.cutTo(store.newest().number());
    LedgerStart.Program program =
        new LedgerStart.Program("soak", "0", false, settings.calibration(), "nominal");
    LedgerStart begin = mischief.start(LedgerStart.of(store, settings.rig(), program));
    VirtualLedger ledger = new VirtualLedger(ledgerRandom.nextLong(), store);
    Host.Start start = new Host.Start(batch, begin, wall, mischief);
    host = Optional.of(new Host(rig, settings.rig(), witness, ledger, start));
    witness.hostStarts();
    if (witness.record.tripStands() != begin.trip().isPresent()) {
      findings.broken(
          Law.TRIP_KEPT,
          begin.trip().map(Object::toString).orElse("the new program knows of none"));
    }
  }

  private void noteAcknowledged() {
    long number = Math.min(witness.record.acknowledgedTo(), store.newest().number());
    store.forEach(number, number, event -> acknowledged = event.end());
  }

  /** After a crash: nothing acknowledged is gone or changed, and the chain is whole. */
  private void proveRecord() {
    long told = witness.record.acknowledgedTo();
    long found = store.newest().number();
    if (found < told) {
      findings.broken(Law.ROWS_KEPT, "acknowledged to " + told + ", on disk to " + found);
      return;
    }
    List<ChainEnd> anchors = acknowledged.number() > 0 ? List.of(acknowledged) : List.of();
    LedgerArchive onDisk = planted == Planted.CHANGED_ROW ? Stores.exchanged(store) : store;
    Proof.Result proof = Proof.of(onDisk, anchors);
    if (proof instanceof Proof.Result.Broken) {
      findings.broken(Law.RECORD_WHOLE, proof.words());
    }
  }

  /** The run is over: the program ends, and its record is looked at a last time. */
  void finish() {
    if (host.isPresent()) {
      host.get().end();
      noteAcknowledged();
      host = Optional.empty();
    }
    proveRecord();
  }

  /** A person mends the disk, and starts the program if it does not run or has had its day. */
  void mend() {
    host.ifPresent(running -> running.ledger().repairDisk());
    if (host.isPresent() && host.get().spent()) {
      kill(true, witness.ms);
    }
    if ((host.isEmpty() || ending()) && startAtMs != Witness.NEVER) {
      startAtMs = witness.ms;
    }
  }

  /** Whether the program was asked to end and still waits for the rig to come to rest. */
  boolean ending() {
    return host.isPresent() && endAtMs != Witness.NEVER;
  }

  /** Whether the batch is over, so that there is nothing left to go on with. */
  boolean batchOver() {
    return witness.state == RigState.DONE || (host.isEmpty() && startAtMs == Witness.NEVER);
  }

  /** The magnets with no verdict on record yet. */
  List<VirtualOperator.Piece> open() {
    return stock.batch(store).map(stock::open).orElse(List.of());
  }
}
