package lodestep.measure;

/** A least-squares line through samples, with what is left beside it. Immutable. */
final class Line {

  /** Degrees of freedom that go into the line. */
  static final int PARAMETERS = 2;

  /**
   * Into how many batches the samples are divided to see them wander. Few, so that a batch is long
   * against what is alike from sample to sample; and two numbers that have no divisor in common, so
   * that a swing which fits one batch just so shows in the other.
   */
  private static final int BATCHES_FEW = 5;

  private static final int BATCHES_MORE = 8;

  private final double mean;
  private final double slope;
  private final double slopeUncertainty;
  private final double noise;
  private final double[] rest;

  private Line(double mean, double slope, double slopeUncertainty, double noise, double[] rest) {
    this.mean = mean;
    this.slope = slope;
    this.slopeUncertainty = slopeUncertainty;
    this.noise = noise;
    this.rest = rest;
  }

  /**
   * @param seconds as many as the values, more than two, not all the same
   */
  static Line through(double[] seconds, double[] values) {
    int n = values.length;
    double meanSeconds = 0;
    double mean = 0;
    for (int i = 0; i < n; i++) {
      meanSeconds += seconds[i] / n;
      mean += values[i] / n;
    }
    double sxx = 0;
    double sxy = 0;
    for (int i = 0; i < n; i++) {
      double x = seconds[i] - meanSeconds;
      sxx += x * x;
      sxy += x * (values[i] - mean);
    }
    double slope = sxy / sxx;
    double[] rest = new double[n];
    double squares = 0;
    for (int i = 0; i < n; i++) {
      rest[i] = values[i] - mean - slope * (seconds[i] - meanSeconds);
      squares += rest[i] * rest[i];
    }
    double noise = Math.sqrt(squares / (n - PARAMETERS));
    return new Line(mean, slope, noise / Math.sqrt(sxx), noise, rest);
  }

  double mean() {
    return mean;
  }

  /** In the samples' unit a second. */
  double slope() {
    return slope;
  }

  /** Standard uncertainty of the slope, white noise alone. */
  double slopeUncertainty() {
    return slopeUncertainty;
  }

  /** Standard deviation of one sample beside the line. */
  double noise() {
    return noise;
  }

  /** The noise less what shows from each sample to the next (von Neumann's differences). */
  double swing() {
    double squares = 0;
    for (int i = 1; i < rest.length; i++) {
      double difference = rest[i] - rest[i - 1];
      squares += difference * difference;
    }
    double white = squares / (2 * (rest.length - 1));
    return Math.sqrt(Math.max(0, noise * noise - white));
  }

  /**
   * What slow wander beside the line adds to the uncertainty of the mean: the larger of what two
   * divisions into batches say.
   */
  StandardUncertainty wander() {
    StandardUncertainty few = wander(BATCHES_FEW);
    StandardUncertainty more = wander(BATCHES_MORE);
    return few.value() > more.value() ? few : more;
  }

  /**
   * From the scatter of the batches' means, less what white noise makes of it. With so few batches
   * the scatter itself is poorly known; the figure is widened by √(ν/(ν − 2)) as JCGM 101:2008,
   * 6.4.9.4 does, so that twice the whole still covers about 95 per cent.
   */
  private StandardUncertainty wander(int batches) {
    double squares = 0;
    for (int batch = 0; batch < batches; batch++) {
      int from = batch * rest.length / batches;
      int to = (batch + 1) * rest.length / batches;
      double sum = 0;
      for (int i = from; i < to; i++) {
        sum += rest[i];
      }
      double batchMean = sum / (to - from);
      squares += batchMean * batchMean;
    }
    int freedom = batches - PARAMETERS;
    double white = noise * noise / rest.length;
    double excess = Math.max(0, squares / freedom / batches - white);
    double widening = freedom / (freedom - 2.0);
    return new StandardUncertainty(Math.sqrt(excess * widening), freedom);
  }
}
