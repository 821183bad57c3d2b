package lodestep.measure;

import org.hipparchus.special.Erf;

/** The standard normal distribution. Pure. */
final class Normal {

  private static final double ROOT_2 = Math.sqrt(2);

  private Normal() {}

  /** Probability from one place to another; keeps its digits where both lie on one side. */
  static double between(double from, double to) {
    return 0.5 * Erf.erf(from / ROOT_2, to / ROOT_2);
  }

  /** Density. */
  static double density(double x) {
    return Math.exp(-x * x / 2) / Math.sqrt(2 * Math.PI);
  }
}
