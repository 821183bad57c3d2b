package lodestep.soak;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.TreeMap;
import lodestep.bench.Batch;
import lodestep.bench.LedgerStart;
import lodestep.ledger.Chain;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.MemoryStore;
import lodestep.ledger.Proof;
import lodestep.port.ChainEnd;
import lodestep.port.Command;
import lodestep.port.EventDraft;
import lodestep.port.Outputs;
import lodestep.port.StoredEvent;
import lodestep.port.TripCause;
import lodestep.protocol.HeadRequest;
import lodestep.sim.RigTruth;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualRig;
import lodestep.sim.VirtualWallClock;

/**
 * One run: rig, host, people and rules, moved on together a millisecond at a time, in one thread.
 * Everything is drawn from one seed, each purpose from a source of its own.
 */
final class World {

  private static final long NS_PER_MS = 1_000_000L;
  private static final Instant WALL_START = Instant.parse("2031-06-02T08:00:00Z");
  private static final int FIRST_START_MS = 3;

  private final SoakSettings settings;
  private final Script script;
  private final Planted planted;
  private final Mischief mischief;
  private final SplittableRandom crashRandom;
  private final SplittableRandom ledgerRandom;
  private final Stock stock;
  private final VirtualRig rig;
  private final RigTruth truth;
  private final VirtualWallClock wall;
  private final People people;
  private final Witness witness;
  private final List<Rule> rules;
  private final Agenda agenda;
  private final List<StateChange> changes = new ArrayList<>();
  private final Map<RunResult.Cell, Long> coverage = new HashMap<>();
  private final Map<TripCause, Long> trips = new EnumMap<>(TripCause.class);

  private MemoryStore store;
  private Optional<Host> host = Optional.empty();
  private Optional<Batch> batch = Optional.empty();
  private ChainEnd acknowledged = ChainEnd.EMPTY;
  private long startAtMs = FIRST_START_MS;
  private long endAtMs = Witness.NEVER;
  private long scanDueAtNs;
  private boolean healed;
  private boolean over;
  private boolean permitAtDeath;
  private long permitGoneMs;
  private Optional<Violation> violation = Optional.empty();

  /** The host went over to this state at this time. */
  record StateChange(RigState state, long atMs) {}

  World(SoakSettings settings, long seed, Script script, Planted planted) {
    this.settings = settings;
    this.script = script;
    this.planted = planted;
    SplittableRandom random = new SplittableRandom(seed);
    this.crashRandom = random.split();
    this.ledgerRandom = random.split();
    this.stock = new Stock(settings, random.split());
    this.rig =
        new VirtualRig(
            settings.rig(),
            stock.firstNest(),
            random.nextLong(),
            planted.hiddenIn(script.faults()));
    this.truth = rig.truth();
    this.wall = new VirtualWallClock(rig.clock(), WALL_START);
    this.witness = new Witness(settings.coilKelvinMax());
    this.mischief = new Mischief(planted, witness);
    this.people = new People(rig, this::command, random.split());
    this.rules = new ArrayList<>(FireRules.all());
    this.rules.addAll(BankRules.all());
    this.rules.addAll(HostRules.all());
    this.rules.addAll(RecordRules.all());
    this.agenda = new Agenda(script);
    this.store = new MemoryStore();
    LedgerBinding binding = new LedgerBinding(settings.rig().name(), settings.rig().kind());
    store.commit(
        Chain.link(ChainEnd.EMPTY, List.of(new EventDraft(binding.created(), 0, WALL_START))));
  }

  private void command(Command command) {
    if (command == Command.CONTINUE) {
      witness.continuedAtMs = witness.ms;
    }
    host.ifPresent(running -> running.offer(command));
  }

  private void playUntilHealed() {
    while (witness.ms < script.healMs() && !over) {
      step();
    }
  }

  /** The first phase alone, of a script in which nothing happens: not even a trip may. */
  RunResult playQuiet() {
    playUntilHealed();
    if (!trips.isEmpty()) {
      broken("NUI", "nothing trips a sound rig", trips.keySet().toString());
    }
    finish();
    return result();
  }

  /** The whole run: faults on, then healed, then a healthy winder goes on. */
  RunResult play() {
    playUntilHealed();
    if (!over) {
      healed = true;
      new Recovery(this).play();
    }
    finish();
    return result();
  }

  private RunResult result() {
    TreeMap<String, Long> named = new TreeMap<>();
    trips.forEach((cause, count) -> named.put(cause.name(), count));
    return new RunResult(
        violation,
        witness.ms,
        witness.pulses,
        witness.record.accepted(),
        witness.hostStarts,
        permitGoneMs,
        named,
        coverage,
        store.newest().hash());
  }

  /** One millisecond of everything. */
  void step() {
    long ms = witness.ms;
    if (!healed) {
      // What begins in this step is there when the rig looks.
      happen(ms + 1);
    }
    startIfDue(ms);
    people.step(rig.clock().nowNs(), ms);
    misbehave(ms);
    rig.step();
    witness.look(truth);
    if (!healed) {
      agenda.stand(witness);
    }
    scanIfDue();
    watchDeath();
    judge();
  }

  /** Mistakes that are not made at a port. */
  private void misbehave(long ms) {
    if (planted == Planted.BLIND_HEARTBEAT && host.isEmpty() && witness.hostStarts > 0) {
      rig.headLink().offer(new HeadRequest.Heartbeat((int) (ms % 65_536), true));
    } else if (planted == Planted.SELF_CONTINUE && ms % 1_000 == 0) {
      host.ifPresent(running -> running.offer(Command.CONTINUE));
    }
  }

  private void happen(long ms) {
    while (agenda.isDue(ms)) {
      Agenda.Edge edge = agenda.take();
      Happening what = edge.what();
      if (edge.begins()) {
        coverage.merge(new RunResult.Cell(what.kind(), witness.state), 1L, Long::sum);
      }
      witness.edge(what);
      people.act(what.kind(), edge.begins());
      if (edge.begins()) {
        computer(what, ms);
      }
    }
  }

  private void computer(Happening what, long ms) {
    switch (what.kind()) {
      case HOST_KILLED -> kill(what.on().equals("levels fall"), ms + what.forMs());
      case POWER_CUT -> kill(true, ms + what.forMs());
      case HOST_ENDED -> askEnd(ms + what.forMs());
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
  void kill(boolean levelsFall, long restartAtMs) {
    if (host.isPresent()) {
      Host dying = host.get();
      noteAcknowledged();
      dying.ledger().cutPower(crashRandom.nextInt(3) * 0.5);
      if (planted == Planted.LOST_ROW) {
        store = Stores.without(store, 1);
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
    witness.hostUp = false;
    witness.hostUntilMs = witness.ms;
    witness.state = RigState.DOWN;
    witness.tripped = false;
    permitAtDeath = witness.permit;
  }

  /** A stop first; the program ends once the rig is at rest, after eight seconds at the latest. */
  private void askEnd(long restartAtMs) {
    if (host.isPresent()) {
      host.get().scan().askStop();
      endAtMs = witness.ms + 8_000;
      startAtMs = restartAtMs;
    }
  }

  private void endIfAtRest() {
    if (endAtMs == Witness.NEVER || host.isEmpty()) {
      return;
    }
    boolean rest = witness.bankVolts < 10 && witness.tripped;
    if (rest || witness.ms >= endAtMs) {
      host.get().end();
      witness.asked = 0;
      noteAcknowledged();
      dead();
      startAtMs = Math.max(startAtMs, witness.ms + 1);
    }
  }

  private void startIfDue(long ms) {
    if (host.isPresent() || ms < startAtMs || startAtMs == Witness.NEVER) {
      return;
    }
    batch = stock.batch(store);
    if (batch.isEmpty()) {
      // The batch was over; nobody starts a program for nothing.
      startAtMs = Witness.NEVER;
      return;
    }
    witness.record.cutTo(store.newest().number());
    LedgerStart.Program program =
        new LedgerStart.Program("soak", "0", false, settings.calibration(), "nominal");
    LedgerStart begin = mischief.start(LedgerStart.of(store, settings.rig(), program));
    VirtualLedger ledger = new VirtualLedger(ledgerRandom.nextLong(), store);
    host =
        Optional.of(
            new Host(
                rig,
                settings.rig(),
                witness,
                ledger,
                new Host.Start(batch.get(), begin, wall, mischief)));
    witness.hostUp = true;
    witness.hostFromMs = ms;
    witness.scanAtMs = ms;
    witness.hostStarts++;
    witness.state = RigState.OPENING;
    if (witness.record.tripStands() != begin.trip().isPresent()) {
      broken(
          "INV-20",
          "a trip stands over a restart exactly when it is on record and was not reset",
          begin.trip().map(Object::toString).orElse("the new program knows of none"));
    }
    witness.trippedAtMs = ms;
    scanDueAtNs = rig.clock().nowNs() + settings.rig().limits().scanPeriodNs();
    people.begin(healed ? List.of() : stock.open(batch.get()));
  }

  private void scanIfDue() {
    long nowNs = rig.clock().nowNs();
    if (host.isEmpty() || nowNs - scanDueAtNs < 0) {
      return;
    }
    scanDueAtNs += settings.rig().limits().scanPeriodNs();
    host.get().ledger().advance(nowNs);
    if (witness.hostPaused) {
      return;
    }
    try {
      host.get().run(nowNs);
      if (planted == Planted.LATE_HEARTBEAT && witness.beats == 0) {
        witness.beats = 1;
      }
    } catch (IllegalStateException | IllegalArgumentException | ArithmeticException thrown) {
      broken("INV-25b", "the host never throws", thrown.toString());
      return;
    }
    if (host.get().scan().snapshot().failure().isPresent()) {
      broken("INV-25b", "the host never fails", host.get().scan().snapshot().failure().toString());
    }
    if (witness.tripped && !witness.trippedBefore && tripsNow(nowNs)) {
      trips.merge(host.get().scan().snapshot().trip().orElseThrow().cause(), 1L, Long::sum);
    }
    if (witness.state != witness.stateBefore) {
      changes.add(new StateChange(witness.state, witness.ms));
    }
    endIfAtRest();
  }

  /** A trip that stands from an earlier program is not counted again. */
  private boolean tripsNow(long nowNs) {
    return host.get().scan().snapshot().trip().orElseThrow().atNs() == nowNs;
  }

  private void watchDeath() {
    if (permitAtDeath && !witness.permit) {
      permitAtDeath = false;
      if (!witness.hostUp) {
        permitGoneMs = Math.max(permitGoneMs, witness.ms - witness.hostUntilMs);
      }
    }
  }

  private void judge() {
    for (int i = 0; i < rules.size(); i++) {
      if (rules.get(i).broken(witness)) {
        broken(rules.get(i).id(), rules.get(i).words(), rules.get(i).detail(witness));
      }
    }
    witness.record.forgetFresh();
  }

  /** A rule was seen broken: the first one is kept and ends the run. */
  void broken(String rule, String words, String detail) {
    if (violation.isEmpty()) {
      violation = Optional.of(new Violation(rule, words, witness.ms, detail));
    }
    over = true;
  }

  private void noteAcknowledged() {
    long number = Math.min(witness.record.acknowledgedTo(), store.newest().number());
    store.forEach(number, number, event -> acknowledged = event.end());
  }

  /** After a crash: nothing acknowledged is gone or changed, and the chain is whole. */
  private void proveRecord() {
    if (store.newest().number() < witness.record.acknowledgedTo()) {
      broken(
          "INV-19",
          "no acknowledged row ever disappears",
          "acknowledged to "
              + witness.record.acknowledgedTo()
              + ", on disk to "
              + store.newest().number());
      return;
    }
    List<ChainEnd> anchors = acknowledged.number() > 0 ? List.of(acknowledged) : List.of();
    Proof.of(store, anchors)
        .match(
            whole -> true,
            notWhole -> {
              broken("INV-18", "the record is whole", notWhole.words());
              return false;
            });
  }

  private void finish() {
    if (host.isPresent()) {
      host.get().end();
      noteAcknowledged();
      host = Optional.empty();
    }
    if (violation.isEmpty()) {
      proveRecord();
    }
  }

  // For the recovery.

  Witness witness() {
    return witness;
  }

  People people() {
    return people;
  }

  Optional<Host> host() {
    return host;
  }

  boolean over() {
    return over;
  }

  /** Starts the program now, if it does not run or has had its day. */
  void restartIfSpent() {
    host.ifPresent(running -> running.ledger().repairDisk());
    if (host.isPresent() && host.get().spent()) {
      kill(true, witness.ms);
    }
    if (host.isEmpty() && startAtMs != Witness.NEVER) {
      startAtMs = witness.ms;
    }
  }

  /** Whether the batch is over, so that there is nothing left to go on with. */
  boolean batchOver() {
    return witness.state == RigState.DONE || (host.isEmpty() && startAtMs == Witness.NEVER);
  }

  /** What the winder may still put into the nest. */
  void workOn() {
    people.begin(stock.batch(store).map(stock::open).orElse(List.of()));
  }

  /** The winder says "go on". */
  void sayGoOn() {
    command(Command.CONTINUE);
  }

  /** When the host went over to which state. */
  List<StateChange> changes() {
    return changes;
  }

  /** The record so far, for tests. */
  List<StoredEvent> stored() {
    List<StoredEvent> events = new ArrayList<>();
    store.forEach(1, store.newest().number(), events::add);
    return events;
  }
}
