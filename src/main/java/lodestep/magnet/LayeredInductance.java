package lodestep.magnet;

import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;

/**
 * Inductance of a winding with depth: the mutual inductance of every two of its turns, by Gauss
 * rules. Pure.
 *
 * <p>L = (N/(l d))² ∫∫∫∫ M(u, v, |z₁ − z₂|), u and v the turns' places in the depth. Two integrals
 * along the winding become one with the weight 2 (l − z). Only v below u is taken, twice, since M
 * has its logarithm at v = u; z = l t³ and v = u (1 − s²) crowd the points towards it.
 */
final class LayeredInductance {

  private static final GaussIntegrator LAYERS = new GaussIntegratorFactory().legendre(16, 0, 1);
  private static final GaussIntegrator ALONG = new GaussIntegratorFactory().legendre(40, 0, 1);

  /** Two turns of a winding. */
  interface Turns {
    /**
     * Their mutual inductance in henries.
     *
     * @param outer place of one turn in the depth, in metres
     * @param inner place of the other, below it
     * @param apart along the axis
     */
    double henries(double outer, double inner, double apart);
  }

  private LayeredInductance() {}

  /** In henries, for one turn in all; the depth is above zero. */
  static double perSquaredTurns(Turns mutual, double depth, double length) {
    double half =
        LAYERS.integrate(
            part -> {
              double outer = part * depth;
              return part * LAYERS.integrate(s -> 2 * s * layers(mutual, outer, s, length));
            });
    return 2 * half;
  }

  /**
   * Of two thin layers of one turn each, as long as one another, one inside the other; in henries.
   * z = d sinh(u), d between the two, evens out what is nearly a logarithm there.
   */
  static double ofSheets(double outerRadius, double innerRadius, double length) {
    double between = outerRadius - innerRadius;
    double end = asinh(length / between);
    return end
        * ALONG.integrate(
            part -> {
              double apart = between * Math.sinh(part * end);
              double weight = 2 * (1 - apart / length) * between * Math.cosh(part * end) / length;
              return weight * circles(outerRadius, innerRadius, apart);
            });
  }

  private static double asinh(double x) {
    return Math.log(x + Math.hypot(x, 1));
  }

  /** Mean over the length of both layers. */
  private static double layers(Turns mutual, double outer, double s, double length) {
    double inner = outer * (1 - s * s);
    return ALONG.integrate(
        t -> {
          double apart = t * t * t;
          return 6 * t * t * (1 - apart) * mutual.henries(outer, inner, apart * length);
        });
  }

  /**
   * Of two coaxial circles. Source: J. C. Maxwell, A Treatise on Electricity and Magnetism, article
   * 701: µ0 √(ab) ((2/k − k) K − 2E/k), k² = 4ab/((a+b)² + z²).
   */
  static double circles(double a, double b, double apart) {
    double reach = Math.hypot(a + b, apart);
    // By the complementary modulus, which keeps its digits where the circles nearly touch.
    double complement = Math.hypot(a - b, apart) / reach;
    double bigK = EllipticIntegral.cel(complement, 1, 1, 1);
    double bigE = EllipticIntegral.cel(complement, 1, 1, complement * complement);
    double k = 2 * Math.sqrt(a * b) / reach;
    return Mu0.TESLA_PER_AMPERE_PER_METRE * Math.sqrt(a * b) * ((2 / k - k) * bigK - 2 / k * bigE);
  }

  /**
   * Of two rectangles with a common axis and parallel sides, by Neumann's integral over each two
   * parallel sides; any text on inductance, for example F. W. Grover, Inductance Calculations.
   */
  static double rectangles(double xA, double yA, double xB, double yB, double apart) {
    return parallels(xA, xB, yA, yB, apart) + parallels(yA, yB, xA, xB, apart);
  }

  /** The sides of these lengths, of which those of one rectangle are a width apart. */
  private static double parallels(
      double lengthA, double lengthB, double widthA, double widthB, double apart) {
    double near = Math.hypot(0.5 * (widthA - widthB), apart);
    double far = Math.hypot(0.5 * (widthA + widthB), apart);
    return Mu0.TESLA_PER_AMPERE_PER_METRE
        / Math.PI
        * (sides(lengthA, lengthB, near) - sides(lengthA, lengthB, far));
  }

  private static double sides(double a, double b, double distance) {
    return neumann(0.5 * (a + b), distance) - neumann(0.5 * (a - b), distance);
  }

  private static double neumann(double u, double distance) {
    double x = Math.abs(u);
    double reach = Math.hypot(x, distance);
    return x * Math.log((x + reach) / distance) - reach;
  }
}
