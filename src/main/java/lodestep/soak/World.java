package lodestep.soak;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.TreeMap;
import lodestep.port.Command;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.protocol.HeadRequest;
import lodestep.sim.RigTruth;
import lodestep.sim.VirtualRig;

/**
 * One run: rig, computer, people and rules, moved on together a millisecond at a time, in one
 * thread. Everything is drawn from one seed, each purpose from a source of its own.
 */
final class World {

  private final SoakRig kind;
  private final Script script;
  private final Planted planted;
  private final VirtualRig rig;
  private final RigTruth truth;
  private final Witness witness;
  private final Computer computer;
  private final People people;
  private final Stranger stranger;
  private final List<Rule> rules = new ArrayList<>();
  private final List<Rule> recordRules = new ArrayList<>(RecordRules.all());
  private final Agenda agenda;
  private final long scanPeriodNs;
  private final List<StateChange> changes = new ArrayList<>();
  private final Map<RunResult.Cell, Long> coverage = new HashMap<>();
  private final Map<TripCause, Long> trips = new EnumMap<>(TripCause.class);

  private long scanDueAtNs;
  private boolean healed;
  private boolean over;
  private Optional<Violation> violation = Optional.empty();

  /** The host went over to this state at this time. */
  record StateChange(RigState state, long atMs) {}

  World(SoakSettings settings, long seed, Script script, Planted planted) {
    this.script = script;
    this.planted = planted;
    SplittableRandom random = new SplittableRandom(seed);
    Computer.Chances chances = new Computer.Chances(random.split(), random.split());
    Stock stock = new Stock(settings, random.split());
    this.rig =
        new VirtualRig(
            settings.rig(),
            stock.firstNest(),
            random.nextLong(),
            planted.hiddenIn(script.faults()));
    this.truth = rig.truth();
    this.kind = settings.kind();
    this.witness = new Witness(RigFigures.of(settings.rig()));
    witness.faceTesla = () -> truth.faceTesla(rig.clock().nowNs());
    this.computer = new Computer(settings, rig, witness, stock, planted, this::broken, chances);
    this.people = new People(rig, this::command, computer::cue, random.split());
    witness.lowestMetres = people::lowestMetres;
    this.stranger = new Stranger(rig);
    this.rules.addAll(FireRules.all());
    this.rules.addAll(SwitchedRules.all());
    this.rules.addAll(JigRules.all());
    this.rules.addAll(BankRules.all());
    this.rules.addAll(HostRules.all());
    this.agenda = new Agenda(script);
    this.scanPeriodNs = settings.rig().limits().scanPeriodNs();
  }

  /**
   * Of the rules only that of one law judges: a mistake may break several in one millisecond, and
   * the first would hide the others. The laws that are no rules stay.
   */
  World judgedBy(Law law) {
    rules.removeIf(rule -> !rule.law().equals(law));
    recordRules.removeIf(rule -> !rule.law().equals(law));
    return this;
  }

  private void command(Command command) {
    if (command == Command.CONTINUE) {
      witness.continuedAtMs = witness.ms;
    }
    computer.host().ifPresent(running -> running.offer(command));
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
      broken(Law.NO_NUISANCE, trips.keySet().toString());
    }
    return finished();
  }

  /** The whole run: faults on, then healed, then a healthy winder goes on. */
  RunResult play() {
    playUntilHealed();
    if (!over) {
      healed = true;
      agenda.heal(witness);
      stranger.goes();
      new Recovery(this).play();
    }
    return finished();
  }

  private RunResult finished() {
    if (violation.isEmpty()) {
      computer.finish();
    }
    TreeMap<String, Long> named = new TreeMap<>();
    trips.forEach((cause, count) -> named.put(cause.name(), count));
    return new RunResult(
        violation,
        witness.ms,
        witness.pulses,
        witness.record.strokes(),
        witness.record.accepted(),
        witness.hostStarts,
        witness.permitGoneMs,
        named,
        coverage,
        computer.recordHash());
  }

  /** One millisecond of everything. */
  void step() {
    if (!healed) {
      // What begins in this step is there when the rig looks.
      happen(witness.ms + 1);
    }
    startIfDue();
    people.step(rig.clock().nowNs(), witness.ms);
    stranger.step(witness.ms);
    misbehave(witness.ms);
    rig.step();
    witness.look(truth);
    if (!healed) {
      agenda.stand(witness);
    }
    scanIfDue();
    judge();
  }

  /** Mistakes that are not made at a port. */
  private void misbehave(long ms) {
    if (planted == Planted.BLIND_HEARTBEAT && !witness.hostUp && witness.hostStarts > 0) {
      rig.headLink().offer(new HeadRequest.Heartbeat((int) (ms % 65_536), true));
    } else if (planted == Planted.SELF_CONTINUE && ms % 1_000 == 0) {
      computer.host().ifPresent(running -> running.offer(Command.CONTINUE));
    }
  }

  private void happen(long ms) {
    while (agenda.isDue(ms)) {
      Agenda.Edge edge = agenda.take();
      Happening what = edge.what();
      witness.edge(what);
      people.act(what.kind(), edge.begins());
      stranger.act(what, edge.begins());
      if (edge.begins()) {
        coverage.merge(new RunResult.Cell(what.kind(), witness.state), 1L, Long::sum);
        computer.befall(what);
      }
    }
  }

  private void startIfDue() {
    if (witness.hostUp) {
      return;
    }
    computer
        .startIfDue()
        .ifPresent(
            open -> {
              scanDueAtNs = rig.clock().nowNs() + scanPeriodNs;
              people.begin(healed ? List.of() : open);
            });
  }

  private void scanIfDue() {
    long nowNs = rig.clock().nowNs();
    if (computer.host().isEmpty() || nowNs - scanDueAtNs < 0) {
      return;
    }
    scanDueAtNs += scanPeriodNs;
    Host host = computer.host().get();
    host.ledger().advance(nowNs);
    if (witness.hostPaused || !scanned(host, nowNs)) {
      return;
    }
    if (planted == Planted.LATE_HEARTBEAT && witness.beats == 0) {
      witness.beats = 1;
    }
    host.scan().snapshot().failure().ifPresent(failure -> hostFailed(failure.toString()));
    host.scan().snapshot().trip().ifPresent(trip -> count(trip, nowNs));
    if (witness.state != witness.stateBefore) {
      changes.add(new StateChange(witness.state, witness.ms));
    }
    computer.endIfAtRest();
  }

  private boolean scanned(Host host, long nowNs) {
    try {
      host.run(nowNs);
      return true;
    } catch (IllegalStateException | IllegalArgumentException | ArithmeticException thrown) {
      hostFailed(thrown.toString());
      return false;
    }
  }

  private void hostFailed(String what) {
    broken(Law.HOST_WORKS, what);
  }

  /** A trip that stands, also from an earlier program, is counted when it comes and not again. */
  private void count(Trip trip, long nowNs) {
    if (!witness.trippedBefore && trip.atNs() == nowNs) {
      trips.merge(trip.cause(), 1L, Long::sum);
    }
  }

  private void judge() {
    judge(rules);
    if (!witness.record.fresh().isEmpty()) {
      judge(recordRules);
      witness.record.forgetFresh();
    }
  }

  private void judge(List<Rule> by) {
    for (int i = 0; i < by.size(); i++) {
      Rule rule = by.get(i);
      if (rule.broken(witness)) {
        broken(rule.law(), rule.detail(witness));
      }
    }
  }

  /** A rule was seen broken: the first one is kept and ends the run. */
  void broken(Law law, String detail) {
    if (violation.isEmpty()) {
      violation = Optional.of(new Violation(law.id(), law.words(), witness.ms, detail));
    }
    over = true;
  }

  /** The kind of rig that is played. */
  SoakRig kind() {
    return kind;
  }

  Witness witness() {
    return witness;
  }

  Computer computer() {
    return computer;
  }

  People people() {
    return people;
  }

  /** Whether the run is over because a rule was seen broken. */
  boolean over() {
    return over;
  }

  /** The winder says "go on". */
  void sayGoOn() {
    command(Command.CONTINUE);
  }

  /** When the host went over to which state. */
  List<StateChange> changes() {
    return changes;
  }
}
