package lodestep.measure;

import java.util.Arrays;
import java.util.List;

/**
 * A straight line through a stretch of samples, and what is left beside it. Any thread, immutable.
 *
 * <p>A resistant line (medians of the outer thirds, after Tukey) finds single outliers first:
 * samples further from it than five times the scatter (from the median absolute deviation) and one
 * step of the converter are dropped. A least-squares line through the rest gives the figures.
 *
 * @param mean of the kept samples
 * @param slopePerSecond of the line
 * @param slopeUncertainty standard uncertainty of the slope, white noise alone
 * @param noise standard deviation of one kept sample beside the line
 * @param swing standard deviation of the means of {@value #BATCHES} batches beside the line, less
 *     what white noise makes of it; 0 when there is no more than that
 * @param spanSeconds from the first kept sample to the last
 * @param samples all
 * @param kept those not dropped
 */
record Trend(
    double mean,
    double slopePerSecond,
    double slopeUncertainty,
    double noise,
    double swing,
    double spanSeconds,
    int samples,
    int kept) {

  /** Few enough that a batch is long against white noise, enough to see the mean wander. */
  static final int BATCHES = 6;

  /** Two degrees of freedom went into the line. */
  private static final int LINE_PARAMETERS = 2;

  /** One good sample in two million lies further out. */
  private static final double OUTLIER_SIGMAS = 5;

  /** Standard deviation over median absolute deviation, of a normal distribution. */
  private static final double SIGMA_OVER_MAD = 1.4826;

  /** A gauge that loses more than a tenth of its samples to jumps is not to be believed. */
  private static final double KEPT_FRACTION_MIN = 0.9;

  /** Coverage of about 95 per cent. */
  private static final double COVERAGE = 2;

  /**
   * @param seconds rising, at least 20, not all the same
   * @param resolution step of the converter, &ge; 0
   */
  static Trend of(double[] seconds, double[] values, double resolution) {
    double[] residuals = besideResistantLine(seconds, values);
    double[] sizes = Arrays.stream(residuals).map(Math::abs).toArray();
    double limit = OUTLIER_SIGMAS * SIGMA_OVER_MAD * median(sizes) + resolution;
    double[] keptSeconds = new double[values.length];
    double[] keptValues = new double[values.length];
    int kept = 0;
    for (int i = 0; i < values.length; i++) {
      if (sizes[i] <= limit) {
        keptSeconds[kept] = seconds[i];
        keptValues[kept] = values[i];
        kept++;
      }
    }
    return leastSquares(
        Arrays.copyOf(keptSeconds, kept), Arrays.copyOf(keptValues, kept), values.length);
  }

  private static double[] besideResistantLine(double[] seconds, double[] values) {
    int third = values.length / 3;
    int last = values.length - third;
    double slope =
        (median(Arrays.copyOfRange(values, last, values.length))
                - median(Arrays.copyOf(values, third)))
            / (median(Arrays.copyOfRange(seconds, last, seconds.length))
                - median(Arrays.copyOf(seconds, third)));
    double[] level = new double[values.length];
    Arrays.setAll(level, i -> values[i] - slope * seconds[i]);
    double middle = median(level);
    Arrays.setAll(level, i -> level[i] - middle);
    return level;
  }

  private static Trend leastSquares(double[] seconds, double[] values, int samples) {
    int n = values.length;
    double meanSeconds = Arrays.stream(seconds).sum() / n;
    double mean = Arrays.stream(values).sum() / n;
    double sxx = 0;
    double sxy = 0;
    for (int i = 0; i < n; i++) {
      double x = seconds[i] - meanSeconds;
      sxx += x * x;
      sxy += x * (values[i] - mean);
    }
    double slope = sxy / sxx;
    double[] residuals = new double[n];
    double squares = 0;
    for (int i = 0; i < n; i++) {
      residuals[i] = values[i] - mean - slope * (seconds[i] - meanSeconds);
      squares += residuals[i] * residuals[i];
    }
    double variance = squares / (n - LINE_PARAMETERS);
    return new Trend(
        mean,
        slope,
        Math.sqrt(variance / sxx),
        Math.sqrt(variance),
        swing(residuals, variance),
        seconds[n - 1] - seconds[0],
        samples,
        n);
  }

  /** Scatter of the batches' means that white noise of this variance does not explain. */
  private static double swing(double[] residuals, double variance) {
    double squares = 0;
    for (int batch = 0; batch < BATCHES; batch++) {
      int from = batch * residuals.length / BATCHES;
      int to = (batch + 1) * residuals.length / BATCHES;
      double batchMean = Arrays.stream(residuals, from, to).sum() / (to - from);
      squares += batchMean * batchMean;
    }
    double white = variance * BATCHES / residuals.length;
    return Math.sqrt(Math.max(0, squares / (BATCHES - LINE_PARAMETERS) - white));
  }

  /** The middle value, or the mean of the middle two; the array is not changed. */
  private static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    int half = sorted.length / 2;
    return sorted.length % 2 == 1 ? sorted[half] : 0.5 * (sorted[half - 1] + sorted[half]);
  }

  /** Whether so many samples were dropped that the rest proves nothing. */
  boolean jumps() {
    return kept < KEPT_FRACTION_MIN * samples;
  }

  /** Whether the line rises or falls beyond what its noise explains and the rule allows. */
  boolean drifts(SettlingRule rule) {
    return Math.abs(slopePerSecond) > COVERAGE * slopeUncertainty
        && Math.abs(slopePerSecond) > rule.driftPerSecondMax();
  }

  /**
   * Whether the drift is proven under the rule's limit, or is not there as far as a noise that is
   * itself under the limit lets one see; and the rest does not swing by more than the drift may.
   */
  boolean isSteady(SettlingRule rule) {
    double limit = rule.driftPerSecondMax();
    double size = Math.abs(slopePerSecond);
    boolean proven = size + COVERAGE * slopeUncertainty <= limit;
    boolean unseen = size <= COVERAGE * slopeUncertainty && slopeUncertainty <= limit;
    return !jumps() && (proven || unseen) && swing <= limit * spanSeconds;
  }

  /**
   * Standard uncertainty of the mean. Its parts: white noise (noise/√n); slow wander inside the
   * stretch (swing/√batches: what is alike from sample to sample averages by batches, not by
   * samples); drift across the stretch and the converter's step, both rectangular; and the wander
   * between zero and reading that the rule states.
   */
  StandardUncertainty uncertainty(SettlingRule rule) {
    double rectangular = Math.sqrt(12);
    return StandardUncertainty.combined(
        List.of(
            new StandardUncertainty(noise / Math.sqrt(kept), kept - LINE_PARAMETERS),
            new StandardUncertainty(swing / Math.sqrt(BATCHES), BATCHES - LINE_PARAMETERS),
            StandardUncertainty.known(Math.abs(slopePerSecond) * spanSeconds / rectangular),
            StandardUncertainty.known(rule.resolution() / rectangular),
            StandardUncertainty.known(rule.wander())));
  }
}
