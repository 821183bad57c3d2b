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
  private long runs;
  private long rigMs;
  private long pulses;
  private long accepted;
  private long starts;
  private long permitGoneMs;
  private final SortedMap<String, Long> trips = new TreeMap<>();
  private final Map<HappeningKind, Map<RigState, Long>> coverage =
      new EnumMap<>(HappeningKind.class);
  private final List<SavedRun> failed = new ArrayList<>();
  private final List<String> problems = new ArrayList<>();
  private final Map<Planted, Long> canaries = new EnumMap<>(Planted.class);

  /** Counts one more seed in. */
  public void add(SeedReport report) {
    seeds++;
    report.runs().forEach(this::add);
    if (report.canary().isEmpty()) {
      // A planted mistake may be the very one that keeps the permit.
      report.runs().forEach(run -> permitGoneMs = Math.max(permitGoneMs, run.permitGoneMs()));
    }
    report.failed().ifPresent(failed::add);
    report.problem().ifPresent(problems::add);
    report.canary().ifPresent(found -> canaries.merge(found, 1L, Long::sum));
  }

  private void add(RunResult run) {
    runs++;
    rigMs += run.rigMs();
    pulses += run.pulses();
    accepted += run.accepted();
    starts += run.starts();
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

  /** Runs played, those with a planted mistake not counted. */
  public long runs() {
    return runs;
  }

  /** Virtual time, in milliseconds; of runs with a planted mistake none. */
  public long rigMs() {
    return rigMs;
  }

  /** Pulses that really were. */
  public long pulses() {
    return pulses;
  }

  /** Magnets accepted. */
  public long accepted() {
    return accepted;
  }

  /** Starts of the program. */
  public long starts() {
    return starts;
  }

  /** Longest time from a program's death to the fall of the head's permit, in milliseconds. */
  public long permitGoneMs() {
    return permitGoneMs;
  }

  /** How often each cause tripped. */
  public SortedMap<String, Long> trips() {
    return new TreeMap<>(trips);
  }

  /** How often this kind of happening began in this state. */
  public long met(HappeningKind kind, RigState state) {
    return coverage.getOrDefault(kind, Map.of()).getOrDefault(state, 0L);
  }

  /** The states that this kind never met, though it might have. */
  public Set<RigState> neverMet(HappeningKind kind) {
    Set<RigState> never = EnumSet.allOf(RigState.class);
    never.removeAll(coverage.getOrDefault(kind, Map.of()).keySet());
    return never;
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
