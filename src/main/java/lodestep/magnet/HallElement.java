package lodestep.magnet;

import lodestep.quantity.Length;
import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;

/**
 * The sensitive square of a Hall sensor, flat across the axis: it reads the mean of the flux
 * density along the axis over its area. Any thread, immutable.
 *
 * @param sideMetres of the square, &ge; 0; 0 for a point
 */
public record HallElement(double sideMetres) {

  /** Points of the Gauss rule along a side; three follow a field of the fifth power exactly. */
  private static final int POINTS = 3;

  /** One that reads at a point. */
  public static final HallElement POINT = new HallElement(0);

  /**
   * @throws IllegalArgumentException if the side is negative or no number
   */
  public HallElement {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(sideMetres >= 0 && sideMetres < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(
          "a Hall element's side has to be 0 or more: " + sideMetres + " m");
    }
  }

  /** One of this side; a point if it is 0. */
  public static HallElement of(Length side) {
    return new HallElement(side.metres());
  }

  /** Whether it reads at a point. */
  public boolean isPoint() {
    return sideMetres == 0;
  }

  /** What it reads with its centre at a place, in tesla. */
  public double reads(FluxSource source, Place centre) {
    if (isPoint()) {
      return source.at(centre).zTesla();
    }
    GaussIntegrator rule =
        new GaussIntegratorFactory().legendre(POINTS, -0.5 * sideMetres, 0.5 * sideMetres);
    double sum = 0;
    for (int i = 0; i < POINTS; i++) {
      for (int j = 0; j < POINTS; j++) {
        Place place = centre.moved(rule.getPoint(i), rule.getPoint(j), 0);
        sum += rule.getWeight(i) * rule.getWeight(j) * source.at(place).zTesla();
      }
    }
    return sum / (sideMetres * sideMetres);
  }
}
