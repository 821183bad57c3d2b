package lodestep.measure;

import org.hipparchus.analysis.integration.IterativeLegendreGaussIntegrator;

/**
 * Risks of accepting by a measured value what does not conform, and of refusing what does. Any
 * thread, immutable. Figures are in one unit, as deviations from the tolerance's middle.
 *
 * <p>Source: JCGM 106:2012, clause 9 (global risks) and 7.4, 9.3.2 (specific risks), with normal
 * distributions of the items and of the measurement.
 *
 * @param itemMean mean of the items, from the middle of the tolerance
 * @param itemSigma their standard deviation, &gt; 0
 * @param u standard uncertainty of the measurement, &gt; 0
 * @param halfTolerance half width of the tolerance, &gt; 0
 * @param guard by how much what is accepted is narrower on each side; negative where it is wider
 */
public record ConformityRisk(
    double itemMean, double itemSigma, double u, double halfTolerance, double guard) {

  /** Beyond so many standard deviations nothing is left that counts. */
  private static final double TAIL = 9;

  private static final int EVALUATIONS_MAX = 200_000;

  /**
   * @throws IllegalArgumentException if a figure is not a number or out of range
   */
  public ConformityRisk {
    // Negated comparisons on purpose: they also reject NaN.
    if (!(itemSigma > 0 && u > 0 && halfTolerance > 0)) {
      throw new IllegalArgumentException(
          "risks need a scatter, an uncertainty and a tolerance above zero: "
              + itemSigma
              + ", "
              + u
              + ", "
              + halfTolerance);
    }
    if (!(Double.isFinite(itemMean) && Math.abs(guard) <= 10 * (halfTolerance + u))) {
      throw new IllegalArgumentException("guard band out of range: " + guard);
    }
  }

  /** Fraction of the items that conform. */
  public double conforming() {
    return Normal.between(
        (-halfTolerance - itemMean) / itemSigma, (halfTolerance - itemMean) / itemSigma);
  }

  /** The consumer's global risk: an item does not conform and is accepted. */
  public double consumer() {
    return integral(-bound(), -halfTolerance, true) + integral(halfTolerance, bound(), true);
  }

  /** The producer's global risk: an item conforms and is not accepted. */
  public double producer() {
    return integral(-halfTolerance, halfTolerance, false);
  }

  /**
   * The consumer's specific risk: how probable it is that an item with this measured value does not
   * conform, what is known of the items counted in.
   */
  public double specific(double measured) {
    double weight = itemSigma * itemSigma / (itemSigma * itemSigma + u * u);
    double mean = itemMean + weight * (measured - itemMean);
    double deviation = u * Math.sqrt(weight);
    return 1
        - Normal.between((-halfTolerance - mean) / deviation, (halfTolerance - mean) / deviation);
  }

  /**
   * The same where nothing is known of the items beforehand.
   *
   * @param fromLimit how far inside the tolerance's only near limit the measured value lies
   * @param u standard uncertainty, &gt; 0
   */
  public static double specificAtLimit(double fromLimit, double u) {
    return 0.5 - Normal.between(0, fromLimit / u);
  }

  /** Beyond this no item is accepted, or there is none. */
  private double bound() {
    return halfTolerance + Math.abs(itemMean) + TAIL * (itemSigma + u) + Math.abs(guard);
  }

  /** Of the items in this range, the part that is accepted, or the part that is not. */
  private double integral(double from, double to, boolean accepted) {
    double acceptedHalf = halfTolerance - guard;
    if (acceptedHalf <= 0) {
      // Nothing is accepted at all.
      return accepted
          ? 0
          : Normal.between((from - itemMean) / itemSigma, (to - itemMean) / itemSigma);
    }
    // Cut into short pieces: the integrand may be a narrow hump far from the range's middle.
    double step = Math.min(itemSigma, u);
    int pieces = (int) Math.min(1_000, Math.max(1, Math.ceil((to - from) / step)));
    double sum = 0;
    for (int piece = 0; piece < pieces; piece++) {
      double start = from + (to - from) * piece / pieces;
      double end = from + (to - from) * (piece + 1) / pieces;
      sum += gauss(start, end, accepted);
    }
    return sum;
  }

  private double gauss(double from, double to, boolean accepted) {
    return new IterativeLegendreGaussIntegrator(5, 1e-9, 1e-14)
        .integrate(EVALUATIONS_MAX, item -> density(item, accepted), from, to);
  }

  private double density(double item, boolean accepted) {
    double half = halfTolerance - guard;
    double passes = Normal.between((-half - item) / u, (half - item) / u);
    return Normal.density((item - itemMean) / itemSigma)
        / itemSigma
        * (accepted ? passes : 1 - passes);
  }
}
