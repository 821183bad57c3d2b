package lodestep.bench;

import java.util.ArrayList;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lodestep.config.RigConfig;
import lodestep.dial.ForeseenActs;
import lodestep.dial.Zero;
import lodestep.measure.GaugeZero;
import lodestep.measure.SettlingRule;
import lodestep.measure.UncertaintyBudget;

/**
 * How long a batch is expected to take still, hands counted, in seconds of the rig's own time. Any
 * thread, immutable.
 *
 * @param least most of the time it takes longer
 * @param most most of the time it takes no longer; at least the least
 * @param by what it goes by
 * @param magnets so many magnets tell it; 0 by the planner
 * @param alloys of these, the names with commas between
 */
public record TimeLeft(double least, double most, By by, int magnets, String alloys) {

  /** What an expectation goes by, the best first. */
  public enum By {
    /** Magnets of this batch. */
    BATCH,
    /** Earlier magnets of the same alloys, shapes and tasks. */
    ALIKE,
    /** Earlier magnets of any kind, for some at least. */
    ANY,
    /** The pulses that the planner expects, and the times of the rig's parts, for some at least. */
    PLANNER
  }

  /** Nine times in ten it lies between the two, if magnets go on as they did. */
  private static final double PROBABILITY = 0.9;

  /** Of one or two magnets no scatter can be told: this part of what they took. No source. */
  private static final double SCATTER = 0.3;

  /** What a magnet takes still that has already taken all that was expected, as a part of that. */
  private static final double STILL = 0.1;

  /**
   * Of a batch under way.
   *
   * @param known what it can go by
   * @param spentSeconds since the newest verdict, waits by a person's wish left out
   */
  public static TimeLeft of(Batch batch, Known known, double spentSeconds) {
    Map<MagnetSpans.Span, List<Entry>> open = new LinkedHashMap<>();
    for (Entry entry : batch.entries()) {
      if (!entry.done()) {
        MagnetSpans.Span kind = MagnetSpans.span(entry, 0, 0);
        open.computeIfAbsent(kind, any -> new ArrayList<>()).add(entry);
      }
    }
    Sum sum = new Sum(batch.number());
    open.forEach(
        (kind, entries) -> {
          List<MagnetSpans.Span> alike = known.spans().like(kind);
          List<MagnetSpans.Span> seen = alike.isEmpty() ? known.spans().any() : alike;
          if (seen.isEmpty()) {
            entries.forEach(entry -> known.foreseen(entry.prepared().row()).ifPresent(sum::add));
          } else {
            sum.add(seen, entries.size(), !alike.isEmpty());
          }
        });
    return sum.left(batch.open(), spentSeconds);
  }

  /**
   * What an expectation can go by. Any thread, immutable.
   *
   * @param spans how long magnets took, this batch's counted
   * @param foreseen how long a magnet of each row may take, by the row's line
   */
  public record Known(MagnetSpans spans, Map<Integer, SpanForeseen> foreseen) {

    /** Nothing. */
    public static final Known NOTHING = new Known(MagnetSpans.NONE, Map.of());

    public Known {
      foreseen = Map.copyOf(foreseen);
    }

    /** With one more magnet. */
    public Known with(MagnetSpans.Span span) {
      return new Known(spans.with(span), foreseen);
    }

    private Optional<SpanForeseen> foreseen(PlanRow row) {
      return Optional.ofNullable(foreseen.get(row.line()));
    }
  }

  /**
   * What a batch can go by before its first magnet: the record, and what the planner and the rig's
   * parts let expect; some milliseconds a row.
   *
   * @param spans what is on record
   */
  public static Known before(Batch batch, MagnetSpans spans, RigConfig rig) {
    Map<Integer, SpanForeseen> rows = new LinkedHashMap<>();
    SettlingRule rule =
        SettlingRule.reading(batch.calibration(), SettlingRule.READING_WANDER_TESLA);
    // A first guess counts no reading, so that any zero serves.
    Zero none = new Zero(new GaugeZero(0, 0, 1, 1), 0);
    for (Entry entry : batch.entries()) {
      rows.computeIfAbsent(
          entry.prepared().row().line(),
          line -> {
            ForeseenActs acts = ForeseenActs.of(batch.dial(entry, none));
            return SpanForeseen.of(entry.prepared(), acts, rule, rig);
          });
    }
    return new Known(spans, rows);
  }

  /** Adds up kinds that have nothing to do with one another. Confined to one call. */
  private static final class Sum {
    private final long batch;
    // Two magnets may have taken the same time: they are two all the same.
    private final Set<MagnetSpans.Span> known = Collections.newSetFromMap(new IdentityHashMap<>());
    private By by = By.BATCH;
    private double middle;
    private double variance;
    private double least;
    private double most;

    Sum(long batch) {
      this.batch = batch;
    }

    /** Nobody knows in which way this is wrong, so it is wrong for all magnets alike. */
    void add(SpanForeseen one) {
      by = By.PLANNER;
      least += one.least();
      most += one.most();
    }

    /**
     * So many more magnets like n that were seen: the sum of k further figures lies within t s
     * &radic;(k + k&sup2; / n) of k means (prediction from a normal sample).
     */
    void add(List<MagnetSpans.Span> seen, int count, boolean alike) {
      known.addAll(seen);
      boolean ours = alike && seen.stream().allMatch(one -> one.batch() == batch);
      By here = alike ? By.ALIKE : By.ANY;
      here = ours ? By.BATCH : here;
      by = here.compareTo(by) > 0 ? here : by;
      double mean = seen.stream().mapToDouble(MagnetSpans.Span::seconds).average().orElse(0);
      int n = seen.size();
      double squares =
          seen.stream().mapToDouble(one -> (one.seconds() - mean) * (one.seconds() - mean)).sum();
      double scatter = n > 2 ? Math.sqrt(squares / (n - 1)) : SCATTER * mean;
      double freedom = n > 2 ? n - 1 : Double.POSITIVE_INFINITY;
      double off =
          UncertaintyBudget.coverage(PROBABILITY, freedom)
              * scatter
              * Math.sqrt(count + (double) count * count / n);
      middle += count * mean;
      variance += off * off;
    }

    TimeLeft left(long open, double spent) {
      double off = Math.sqrt(variance);
      double low = least + Math.max(0, middle - off);
      double high = most + middle + off;
      double part = open > 0 ? (1 - STILL) / open : 0;
      String alloys =
          String.join(
              ", ", known.stream().map(MagnetSpans.Span::alloy).distinct().sorted().toList());
      // What is spent was spent on the magnet at work, and the others are still to come.
      return new TimeLeft(
          low - Math.min(spent, part * low),
          high - Math.min(spent, part * high),
          by,
          known.size(),
          alloys);
    }
  }
}
