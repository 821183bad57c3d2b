package lodestep.measure;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
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

  /**
   * Into how many batches the samples are divided to see them wander. Few, so that a batch is long
   * against what is alike from sample to sample; and two that have no divisor in common, so that a
   * swing which fits one batch just so shows in the other.
   */
  private static final List<Integer> BATCHES = List.of(5, 8);

  /** Two degrees of freedom went into the line. */
  private static final int LINE_PARAMETERS = 2;

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
    double[] sizes = Arrays.stream(residuals).map(Math::abs).toArray();
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
        line.noise() / Math.sqrt(line.sxx()),
        line.noise(),
        swing(line),
        wander(line),
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

  /** A least-squares line: mean, slope, sum of squared times, noise beside it, what is left. */
  private record Line(double mean, double slope, double sxx, double noise, List<Double> rest) {

    static Line through(double[] seconds, double[] values) {
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
      List<Double> rest = new ArrayList<>(n);
      double squares = 0;
      for (int i = 0; i < n; i++) {
        double residual = values[i] - mean - slope * (seconds[i] - meanSeconds);
        rest.add(residual);
        squares += residual * residual;
      }
      return new Line(mean, slope, sxx, Math.sqrt(squares / (n - LINE_PARAMETERS)), rest);
    }
  }

  /**
   * The noise less what shows from each sample to the next (von Neumann's successive differences).
   */
  private static double swing(Line line) {
    List<Double> rest = line.rest();
    double squares = 0;
    for (int i = 1; i < rest.size(); i++) {
      double difference = rest.get(i) - rest.get(i - 1);
      squares += difference * difference;
    }
    double white = squares / (2 * (rest.size() - 1));
    return Math.sqrt(Math.max(0, line.noise() * line.noise() - white));
  }

  /** The larger of what the divisions into batches say. */
  private static StandardUncertainty wander(Line line) {
    return BATCHES.stream()
        .map(batches -> wander(line, batches))
        .max(Comparator.comparingDouble(StandardUncertainty::value))
        .orElseThrow();
  }

  /**
   * Uncertainty of the mean from the scatter of the batches' means, less what white noise makes of
   * it. With so few batches the scatter itself is poorly known; the figure is widened by √(ν/(ν −
   * 2)) as JCGM 101:2008, 6.4.9.4 does, so that twice the whole still covers about 95 per cent.
   */
  private static StandardUncertainty wander(Line line, int batches) {
    List<Double> rest = line.rest();
    double squares = 0;
    for (int batch = 0; batch < batches; batch++) {
      int from = batch * rest.size() / batches;
      int to = (batch + 1) * rest.size() / batches;
      double sum = 0;
      for (int i = from; i < to; i++) {
        sum += rest.get(i);
      }
      squares += sum * sum / ((double) (to - from) * (to - from));
    }
    int freedom = batches - LINE_PARAMETERS;
    double white = line.noise() * line.noise() / rest.size();
    double excess = Math.max(0, squares / freedom / batches - white);
    double widening = freedom / (freedom - 2.0);
    return new StandardUncertainty(Math.sqrt(excess * widening), freedom);
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
            new StandardUncertainty(noise / Math.sqrt(kept), kept - LINE_PARAMETERS),
            wander,
            StandardUncertainty.known(Math.abs(slopePerSecond) * spanSeconds / rectangular),
            StandardUncertainty.known(rule.resolution() / rectangular),
            StandardUncertainty.known(rule.wander())));
  }
}
