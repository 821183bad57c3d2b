package lodestep.measure;

import java.util.function.DoubleFunction;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;

/**
 * Samples as they come, and whether their newest stretch is steady. Any thread, immutable: a new
 * sample makes a new window that shares the old one's samples, so adding costs the same however
 * many there are, and only every {@value #JUDGE_EVERY}th sample is the stretch judged.
 *
 * <p>The stretch judged is the newer half of all since the start, not shorter and not longer than
 * the rule says: whatever swung at the start is left behind as time passes.
 */
final class SteadyWindow {

  /** Judging costs about as much as two hundred samples' worth of adding. */
  static final int JUDGE_EVERY = 10;

  /** Fewer tell neither noise nor drift. */
  static final int SAMPLES_MIN = 20;

  private final SettlingRule rule;
  private final long startedAtNs;
  private final @Nullable Sample newest;
  private final int count;
  private final Outcome outcome;

  private SteadyWindow(
      SettlingRule rule, long startedAtNs, @Nullable Sample newest, int count, Outcome outcome) {
    this.rule = rule;
    this.startedAtNs = startedAtNs;
    this.newest = newest;
    this.count = count;
    this.outcome = outcome;
  }

  private record Sample(double value, long atNs, @Nullable Sample before) {}

  /** What the samples say so far. */
  sealed interface Outcome {

    /** Not yet; the trend is the latest judgement's, none before the first. */
    record Continues(@Nullable Trend latest) implements Outcome {}

    /** Steady: this is the value. */
    record Steady(double mean, StandardUncertainty uncertainty, int samples) implements Outcome {}

    /** The time is up; the trend is the latest judgement's, none when there never was one. */
    record GaveUp(@Nullable Trend latest) implements Outcome {}

    default <R> R match(
        Function<Continues, R> continues, Function<Steady, R> steady, Function<GaveUp, R> gaveUp) {
      if (this instanceof Continues c) {
        return continues.apply(c);
      }
      if (this instanceof Steady s) {
        return steady.apply(s);
      }
      return gaveUp.apply((GaveUp) this);
    }
  }

  static SteadyWindow start(SettlingRule rule, long startedAtNs) {
    return new SteadyWindow(rule, startedAtNs, null, 0, new Outcome.Continues(null));
  }

  Outcome outcome() {
    return outcome;
  }

  /**
   * @throws IllegalArgumentException if the value is not finite, or the time runs backwards
   */
  SteadyWindow with(double value, long atNs) {
    if (!(outcome instanceof Outcome.Continues soFar)) {
      return this;
    }
    long lastAtNs = newest == null ? startedAtNs : newest.atNs();
    if (!Double.isFinite(value) || atNs - lastAtNs < 0) {
      throw new IllegalArgumentException(
          "sample " + value + " at " + atNs + " ns cannot follow one at " + lastAtNs + " ns");
    }
    Sample sample = new Sample(value, atNs, newest);
    Outcome now = judge(sample, count + 1, soFar);
    return new SteadyWindow(rule, startedAtNs, sample, count + 1, now);
  }

  /**
   * Why it is not steady, in words for a person.
   *
   * @param perSecond writes a drift for one second with its unit
   */
  String why(DoubleFunction<String> perSecond) {
    Trend trend = outcome.match(Outcome.Continues::latest, steady -> null, Outcome.GaveUp::latest);
    if (trend == null) {
      return "only " + count + " samples came; check the head's line";
    }
    if (trend.jumps()) {
      int dropped = trend.samples() - trend.kept();
      return dropped + " of " + trend.samples() + " samples jumped; check the gauge's cable";
    }
    if (trend.drifts(rule)) {
      return "it still moves by " + perSecond.apply(trend.slopePerSecond()) + " a second";
    }
    return "it is too restless; look for a moving field or a loose magnet";
  }

  private Outcome judge(Sample sample, int samples, Outcome.Continues soFar) {
    long elapsedNs = sample.atNs() - startedAtNs;
    boolean late = elapsedNs - rule.giveUpForNs() >= 0;
    Trend trend = soFar.latest();
    if (elapsedNs >= rule.spanForNsMin() && (late || samples % JUDGE_EVERY == 0)) {
      long spanNs = Math.max(rule.spanForNsMin(), Math.min(rule.spanForNsMax(), elapsedNs / 2));
      Trend latest = trendOver(sample, spanNs, rule.resolution());
      trend = latest == null ? trend : latest;
      if (latest != null && latest.isSteady(rule)) {
        return new Outcome.Steady(latest.mean(), latest.uncertainty(rule), latest.kept());
      }
    }
    return late ? new Outcome.GaveUp(trend) : new Outcome.Continues(trend);
  }

  /** The trend of the newest stretch, or none if it holds too few samples or too short a time. */
  private static @Nullable Trend trendOver(Sample last, long spanNs, double resolution) {
    int length = 0;
    Sample first = last;
    for (Sample s = last; s != null && last.atNs() - s.atNs() <= spanNs; s = s.before()) {
      first = s;
      length++;
    }
    // Two thirds of the span must really be covered: after a gap in the line it is not.
    if (length < SAMPLES_MIN || 3 * (last.atNs() - first.atNs()) < 2 * spanNs) {
      return null;
    }
    double[] seconds = new double[length];
    double[] values = new double[length];
    int i = length;
    for (Sample s = last; s != null && i > 0; s = s.before()) {
      i--;
      seconds[i] = (s.atNs() - first.atNs()) * 1e-9;
      values[i] = s.value();
    }
    return Trend.of(seconds, values, resolution);
  }
}
