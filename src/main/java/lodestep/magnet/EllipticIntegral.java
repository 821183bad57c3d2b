package lodestep.magnet;

/** Bulirsch's general complete elliptic integral. */
final class EllipticIntegral {

  /** Squared by the last step of the loop, so that the result is good to the last digits. */
  private static final double NEAR_ENOUGH = 1e-8;

  private EllipticIntegral() {}

  /**
   * The integral from 0 to π/2 of (c cos² + s sin²) / ((cos² + p sin²) √(cos² + k² sin²)).
   *
   * <p>Source: R. Bulirsch, Numer. Math. 13, 305 (1969), in the form that N. Derby and S. Olbert,
   * Am. J. Phys. 78(3), 229 (2010), print in their appendix, for p above zero alone.
   *
   * @param k complementary modulus, &gt; 0
   * @param p &gt; 0
   * @return infinite where k is zero
   */
  static double cel(double k, double p, double c, double s) {
    if (k == 0) {
      return Double.POSITIVE_INFINITY;
    }
    double root = Math.sqrt(p);
    double cosines = c;
    double sines = s / root;
    double mean = 1;
    double modulus = k;
    double product = k;
    double old;
    while (true) {
      double before = cosines;
      cosines += sines / root;
      double ratio = product / root;
      sines = 2 * (sines + before * ratio);
      root += ratio;
      old = mean;
      mean += modulus;
      if (Math.abs(old - modulus) <= old * NEAR_ENOUGH) {
        return 0.5 * Math.PI * (sines + cosines * mean) / (mean * (mean + root));
      }
      modulus = 2 * Math.sqrt(product);
      product = modulus * mean;
    }
  }
}
