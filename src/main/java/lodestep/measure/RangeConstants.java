package lodestep.measure;

/**
 * Mean and standard deviation of the range of a normal sample, by which ranges are turned into
 * standard deviations. Pure.
 *
 * <p>Reckoned from the range's distribution (David and Nagaraja, Order Statistics, 3rd ed., 2.3,
 * from memory), so that no table ends too early: P(W ≤ w) = n ∫ φ(x) [Φ(x + w) − Φ(x)]ⁿ⁻¹ dx.
 */
final class RangeConstants {

  /** Steps of a twentieth on sums this smooth leave less than 1e-7. */
  private static final double STEP = 0.05;

  private static final int FROM = -180;
  private static final int WIDTHS = 360;
  private static final int SIZE_MAX = 1000;

  private final double mean;
  private final double square;

  private RangeConstants(double mean, double square) {
    this.mean = mean;
    this.square = square;
  }

  /**
   * @param n size of the sample, 2 to {@value #SIZE_MAX}
   * @throws IllegalArgumentException if it is not
   */
  static RangeConstants of(int n) {
    if (n < 2 || n > SIZE_MAX) {
      throw new IllegalArgumentException("a range of " + n + " figures");
    }
    double mean = 0;
    double square = 0;
    for (int w = 0; w <= WIDTHS; w++) {
      // Simpson's weights: the integrand is not smooth at its lower end.
      double weight = w == 0 || w == WIDTHS ? 1 : w % 2 == 1 ? 4 : 2;
      double above = 1 - below(w, n);
      mean += weight * above * STEP / 3;
      square += weight * 2 * (w * STEP) * above * STEP / 3;
    }
    return new RangeConstants(mean, square);
  }

  private static double below(int width, int n) {
    double sum = 0;
    for (int at = FROM; at <= -FROM; at++) {
      double x = at * STEP;
      double density = Normal.density(x);
      sum += density * Math.pow(Normal.between(x, x + width * STEP), n - 1) * STEP;
    }
    return n * sum;
  }

  /** Mean range over standard deviation, d₂. */
  double mean() {
    return mean;
  }

  /** Standard deviation of the range over that of the sample, d₃. */
  double deviation() {
    return Math.sqrt(square - mean * mean);
  }

  /**
   * What turns the range of one single sample into a standard deviation, √(d₂² + d₃²): the d₂* of
   * one sample.
   */
  double ofOneSample() {
    return Math.sqrt(square);
  }
}
