package lodestep.measure;

import java.util.OptionalDouble;

/**
 * Watches a settled reading a while longer for the slow, steady drift of a magnet that is warmer or
 * colder than its nest: too slow for {@link Settling} to tell from noise in a second or two. Any
 * thread, immutable; a least-squares line through all samples, a few additions each.
 *
 * <p>An alnico magnet loses about 0.02 per cent of its flux for each kelvin, reversibly, so that
 * one 40 K warmer than its nest reads 0.8 per cent low and comes back over minutes. The gauge's own
 * wander looks alike but slower: what counts as warm lies well above it.
 *
 * @param startedAtNs monotonic time of the first sample
 * @param count of samples
 */
public record WarmthWatch(
    long startedAtNs,
    long lastAtNs,
    long count,
    double sumSeconds,
    double sumValues,
    double sumSecondsSquared,
    double sumProducts,
    double sumValuesSquared,
    double first) {

  /** No sample yet. */
  public static final WarmthWatch NONE = new WarmthWatch(0, 0, 0, 0, 0, 0, 0, 0, 0);

  /** So long a gauge that wanders by 10 µT a minute drifts by a third of the limit or less. */
  public static final long SPAN_NS = 12_000_000_000L;

  /** The least; sooner than that the wander hides as much of a drift as the limit allows. */
  public static final long LEAST_NS = 4_000_000_000L;

  /**
   * Drift beyond which a magnet counts as warm: 0.9 G a minute. A starting value: four standard
   * deviations of what the gauge's wander makes over the span.
   */
  public static final double LIMIT_TESLA_PER_SECOND = 1.5e-6;

  private static final double SIGMAS = 3;

  /**
   * With one more sample.
   *
   * @param tesla calibrated, zero subtracted
   * @param atNs monotonic time of the sample, not before the last
   */
  public WarmthWatch with(double tesla, long atNs) {
    long start = count == 0 ? atNs : startedAtNs;
    // From the first value on, so that no digits are lost in the squares.
    double base = count == 0 ? tesla : first;
    double seconds = (atNs - start) * 1e-9;
    double value = tesla - base;
    return new WarmthWatch(
        start,
        atNs,
        count + 1,
        sumSeconds + seconds,
        sumValues + value,
        sumSecondsSquared + seconds * seconds,
        sumProducts + seconds * value,
        sumValuesSquared + value * value,
        base);
  }

  /**
   * Whether it has been watched long enough: the whole span, or as long as it takes to see that any
   * drift lies below the limit. That one lies above it is never said early, since the wander of a
   * short time looks like it.
   */
  public boolean over() {
    if (count <= 2) {
      return false;
    }
    long watchedNs = lastAtNs - startedAtNs;
    return watchedNs >= SPAN_NS || (watchedNs >= LEAST_NS && fit().below(LIMIT_TESLA_PER_SECOND));
  }

  /**
   * The drift of a magnet that is warmer or colder than its nest, in tesla a second, signed; empty
   * while too little was seen, or when it is no more than noise and wander explain.
   */
  public OptionalDouble drift() {
    if (!over()) {
      return OptionalDouble.empty();
    }
    Fit fit = fit();
    boolean proven = Math.abs(fit.slope()) > SIGMAS * fit.uncertainty();
    return proven && Math.abs(fit.slope()) > LIMIT_TESLA_PER_SECOND
        ? OptionalDouble.of(fit.slope())
        : OptionalDouble.empty();
  }

  /** The least-squares line's slope with its standard uncertainty, in tesla a second. */
  private record Fit(double slope, double uncertainty) {

    boolean below(double limit) {
      return Math.abs(slope) + SIGMAS * uncertainty < limit;
    }
  }

  private Fit fit() {
    double sxx = sumSecondsSquared - sumSeconds * sumSeconds / count;
    double sxy = sumProducts - sumSeconds * sumValues / count;
    double syy = sumValuesSquared - sumValues * sumValues / count;
    double slope = sxy / sxx;
    double rest = Math.max(0, syy - slope * sxy) / (count - 2);
    return new Fit(slope, Math.sqrt(rest / sxx));
  }
}
