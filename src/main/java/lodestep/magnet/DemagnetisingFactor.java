package lodestep.magnet;

import static java.lang.Math.atan;
import static java.lang.Math.hypot;
import static java.lang.Math.log;

import org.hipparchus.special.elliptic.legendre.LegendreEllipticIntegral;

/** Magnetometric demagnetising factors of uniformly magnetised bodies. */
final class DemagnetisingFactor {

  private DemagnetisingFactor() {}

  /**
   * Of a cylinder along its axis: N = 1 − K, with K the Nagaoka coefficient of a current sheet of
   * the same shape.
   *
   * <p>Source: D.-X. Chen, J. A. Brug, R. B. Goldfarb, IEEE Trans. Magn. 27(4), 3601 (1991), who
   * take the factor for zero susceptibility from inductance formulas; K in the form of H. Nagaoka
   * (1909) with the complete elliptic integrals of the parameter m = k².
   */
  static double ofCylinder(double diameterMetres, double lengthMetres) {
    double diagonal = hypot(diameterMetres, lengthMetres);
    double k = diameterMetres / diagonal;
    double kPrime = lengthMetres / diagonal;
    double m = k * k;
    double bigK = LegendreEllipticIntegral.bigK(m);
    double bigE = LegendreEllipticIntegral.bigE(m);
    double bracket = kPrime * kPrime / m * (bigK - bigE) + bigE - k;
    return 1 - 4 / (3 * Math.PI * kPrime) * bracket;
  }

  /**
   * Of a ring along its axis, of rectangular section: by superposition of the cylinder that its
   * outside bounds and one of the hole's size with the opposite polarisation. The work of the one
   * on the other is the flux that two current sheets of these radii share, by Maxwell's mutual
   * inductance of two circles, summed along both.
   *
   * <p>Source: M. Beleggia, D. Vokoun, M. De Graef, J. Magn. Magn. Mater. 321, 1306 (2009) go the
   * same way, from memory.
   */
  static double ofRing(double outsideMetres, double insideMetres, double lengthMetres) {
    double outer = square(outsideMetres);
    double inner = square(insideMetres);
    double shared =
        LayeredInductance.ofSheets(0.5 * outsideMetres, 0.5 * insideMetres, lengthMetres);
    // Of the hole's volume: the mean of the outer cylinder's B in it, for one tesla.
    double mean = shared * 4 * lengthMetres / (Math.PI * inner * Mu0.TESLA_PER_AMPERE_PER_METRE);
    double sum =
        outer * ofCylinder(outsideMetres, lengthMetres)
            + inner * ofCylinder(insideMetres, lengthMetres)
            - 2 * inner * (1 - mean);
    return sum / (outer - inner);
  }

  private static double square(double x) {
    return x * x;
  }

  /**
   * Of a rectangular prism along its edge c; only the ratios of the edges count.
   *
   * <p>Source: A. Aharoni, J. Appl. Phys. 83, 3432 (1998), equation 1, in his order of terms.
   */
  static double ofPrism(double a, double b, double c) {
    double ab = hypot(a, b);
    double bc = hypot(b, c);
    double ac = hypot(a, c);
    double r = hypot(ab, c);
    double volume = 3 * a * b * c;
    double sum =
        (b * b - c * c) / (2 * b * c) * log((r - a) / (r + a))
            + (a * a - c * c) / (2 * a * c) * log((r - b) / (r + b))
            + b / (2 * c) * log((ab + a) / (ab - a))
            + a / (2 * c) * log((ab + b) / (ab - b))
            + c / (2 * a) * log((bc - b) / (bc + b))
            + c / (2 * b) * log((ac - a) / (ac + a))
            + 2 * atan(a * b / (c * r))
            + (cube(a) + cube(b) - 2 * cube(c)) / volume
            + (a * a + b * b - 2 * c * c) * r / volume
            + c / (a * b) * (ac + bc)
            - (cube(ab) + cube(bc) + cube(ac)) / volume;
    return sum / Math.PI;
  }

  private static double cube(double x) {
    return x * x * x;
  }
}
