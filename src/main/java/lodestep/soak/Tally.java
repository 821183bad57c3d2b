package lodestep.soak;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;

/** What many seeds came to together. Confined to one thread. */
public final class Tally {

  private long seeds;
  private final Map<SoakRig, Sums> sums = new EnumMap<>(SoakRig.class);
  private final SortedMap<String, Long> trips = new TreeMap<>();
  private final Map<HappeningKind, Map<RigState, Long>> coverage =
      new EnumMap<>(HappeningKind.class);
  private final List<SavedRun> failed = new ArrayList<>();
  private final List<String> problems = new ArrayList<>();
  private final Map<Planted, Long> canaries = new EnumMap<>(Planted.class);

  /**
   * What the runs on one kind of rig came to. Runs with a planted mistake are not counted.
   *
   * @param runs played
   * @param rigMs virtual time, in milliseconds
   * @param pulses that really were
   * @param strokes of the jig, on record as delivered
   * @param accepted magnets accepted
   * @param starts of the program
   * @param permitGoneMs longest time from a program's death to the fall of the head's permit
   * @param broken runs that broke a rule
   */
  public record Sums(
      long runs,
      long rigMs,
      long pulses,
      long strokes,
      long accepted,
      long starts,
      long permitGoneMs,
      long broken) {

    static final Sums NONE = new Sums(0, 0, 0, 0, 0, 0, 0, 0);

    Sums and(RunResult run) {
      return and(
          new Sums(
              1,
              run.rigMs(),
              run.pulses(),
              run.strokes(),
              run.accepted(),
              run.starts(),
              run.permitGoneMs(),
              run.violation().isPresent() ? 1 : 0));
    }

    Sums and(Sums other) {
      return new Sums(
          runs + other.runs,
          rigMs + other.rigMs,
          pulses + other.pulses,
          strokes + other.strokes,
          accepted + other.accepted,
          starts + other.starts,
          Math.max(permitGoneMs, other.permitGoneMs),
          broken + other.broken);
    }
  }

  /** Counts one more seed in. */
  public void add(SeedReport report) {
    seeds++;
    sums.putIfAbsent(report.rig(), Sums.NONE);
    report.runs().forEach(run -> add(report.rig(), run));
    report.failed().ifPresent(failed::add);
    report.problem().ifPresent(problems::add);
    report.canary().ifPresent(found -> canaries.merge(found, 1L, Long::sum));
  }

  private void add(SoakRig rig, RunResult run) {
    sums.merge(rig, Sums.NONE.and(run), Sums::and);
    run.trips().forEach((cause, count) -> trips.merge(cause, count, Long::sum));
    run.coverage()
        .forEach(
            (cell, count) ->
                coverage
                    .computeIfAbsent(cell.kind(), kind -> new EnumMap<>(RigState.class))
                    .merge(cell.state(), count, Long::sum));
  }

  /** Seeds counted in. */
  public long seeds() {
    return seeds;
  }

  /** What all came to. */
  public Sums all() {
    return sums.values().stream().reduce(Sums.NONE, Sums::and);
  }

  /** What each kind of rig that was played came to. */
  public SortedMap<SoakRig, Sums> ofEach() {
    return new TreeMap<>(sums);
  }

  /** How often each cause tripped. */
  public SortedMap<String, Long> trips() {
    return new TreeMap<>(trips);
  }

  /** What could happen on the rigs that were played. */
  public Set<HappeningKind> kinds() {
    Set<HappeningKind> kinds = EnumSet.noneOf(HappeningKind.class);
    sums.keySet().forEach(rig -> kinds.addAll(rig.kinds()));
    return kinds;
  }

  /** The states in which this kind could begin, on the rigs that were played. */
  public Set<RigState> states(HappeningKind kind) {
    Set<RigState> states = EnumSet.noneOf(RigState.class);
    sums.keySet().stream()
        .filter(rig -> rig.kinds().contains(kind))
        .forEach(rig -> states.addAll(rig.states()));
    return states;
  }

  /** How often this kind of happening began in this state. */
  public long met(HappeningKind kind, RigState state) {
    return coverage.getOrDefault(kind, Map.of()).getOrDefault(state, 0L);
  }

  /** Runs that broke a rule, made short, in the order they were counted in. */
  public List<SavedRun> failed() {
    return List.copyOf(failed);
  }

  /** What is wrong with the harness itself, a sentence each. */
  public List<String> problems() {
    return List.copyOf(problems);
  }

  /** How often each planted mistake was found. */
  public Map<Planted, Long> canaries() {
    return Map.copyOf(canaries);
  }
}
