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
 * @param swing standard deviation of the part of the noise that is alike from one sample to the
 *     next
 * @param wander what slow wander beside the line adds to the uncertainty of the mean
 * @param spanSeconds from the first kept sample to the last
 * @param samples all
 * @param kept those not dropped
 * @param droppedInARow the longest run of dropped samples
 */
record Trend(
    double mean,
    double slopePerSecond,
    double slopeUncertainty,
    double noise,
    double swing,
    StandardUncertainty wander,
    double spanSeconds,
    int samples,
    int kept,
    int droppedInARow) {

  /** One good sample in two million lies further out. */
  private static final double OUTLIER_SIGMAS = 5;

  /** Standard deviation over median absolute deviation, of a normal distribution. */
  private static final double SIGMA_OVER_MAD = 1.4826;

  /** A gauge that loses more than a tenth of its samples to jumps is not to be believed. */
  private static final double KEPT_FRACTION_MIN = 0.9;

  /** A knock on the gauge is over in two samples; more in a row are a step of the field. */
  private static final int DROPPED_IN_A_ROW_MAX = 2;

  /** A swing is measured against the drift of this time; longer is a drift in its own right. */
  private static final double SWING_SECONDS = 1;

  /** Coverage of about 95 per cent. */
  private static final double COVERAGE = 2;

  /**
   * @param seconds rising, at least 20, not all the same
   * @param resolution step of the converter, &ge; 0
   */
  static Trend of(double[] seconds, double[] values, double resolution) {
    double[] residuals = besideResistantLine(seconds, values);
    double[] sizes = new double[residuals.length];
    Arrays.setAll(sizes, i -> Math.abs(residuals[i]));
    double limit = OUTLIER_SIGMAS * SIGMA_OVER_MAD * median(sizes) + resolution;
    double[] keptSeconds = new double[values.length];
    double[] keptValues = new double[values.length];
    int kept = 0;
    int row = 0;
    int longestRow = 0;
    for (int i = 0; i < values.length; i++) {
      if (sizes[i] <= limit) {
        keptSeconds[kept] = seconds[i];
        keptValues[kept] = values[i];
        kept++;
        row = 0;
      } else {
        row++;
        longestRow = Math.max(longestRow, row);
      }
    }
    Line line = Line.through(Arrays.copyOf(keptSeconds, kept), Arrays.copyOf(keptValues, kept));
    return new Trend(
        line.mean(),
        line.slope(),
        line.slopeUncertainty(),
        line.noise(),
        line.swing(),
        line.wander(),
        keptSeconds[kept - 1] - keptSeconds[0],
        values.length,
        kept,
        longestRow);
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

  /** The middle value, or the mean of the middle two; the array is not changed. */
  private static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    int half = sorted.length / 2;
    return sorted.length % 2 == 1 ? sorted[half] : 0.5 * (sorted[half - 1] + sorted[half]);
  }

  /** Whether so many samples were dropped that the rest proves nothing. */
  boolean jumps() {
    return kept < KEPT_FRACTION_MIN * samples || droppedInARow > DROPPED_IN_A_ROW_MAX;
  }

  /** Whether the line rises or falls beyond what its noise explains and the rule allows. */
  boolean drifts(SettlingRule rule) {
    return Math.abs(slopePerSecond) > COVERAGE * slopeUncertainty
        && Math.abs(slopePerSecond) > rule.driftPerSecondMax();
  }

  /**
   * Whether the drift is proven under the rule's limit, or is not there as far as a noise that is
   * itself under the limit lets one see; and slow wander moves the mean by no more than the drift
   * may.
   */
  boolean isSteady(SettlingRule rule) {
    double limit = rule.driftPerSecondMax();
    double size = Math.abs(slopePerSecond);
    boolean proven = size + COVERAGE * slopeUncertainty <= limit;
    boolean unseen = size <= COVERAGE * slopeUncertainty && slopeUncertainty <= limit;
    double swingMax = limit * SWING_SECONDS;
    return !jumps() && (proven || unseen) && swing <= swingMax;
  }

  /**
   * Standard uncertainty of the mean. Its parts: white noise (noise/√n); slow wander inside the
   * stretch (what is alike from sample to sample averages by batches, not by samples); drift across
   * the stretch and the converter's step, both rectangular; and the wander between zero and reading
   * that the rule states.
   */
  StandardUncertainty uncertainty(SettlingRule rule) {
    double rectangular = Math.sqrt(12);
    return StandardUncertainty.combined(
        List.of(
            new StandardUncertainty(noise / Math.sqrt(kept), kept - Line.PARAMETERS),
            wander,
            StandardUncertainty.known(Math.abs(slopePerSecond) * spanSeconds / rectangular),
            StandardUncertainty.known(rule.resolution() / rectangular),
            StandardUncertainty.known(rule.wander())));
  }
}
