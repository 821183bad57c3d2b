package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: the closed forms of coils, on and off the axis, to a millionth. Against the law of Biot and
 * Savart, integrated turn by turn, which shares nothing with elliptic integrals and corner sums.
 */
class BiotSavartTest {

  private static final double MU0 = 4e-7 * Math.PI;
  private static final int AROUND = 600;
  private static final int PARTS = 24;
  private static final GaussIntegrator RULE = new GaussIntegratorFactory().legendre(16, 0, 1);

  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @CsvSource({"0, 0", "6, 0", "6, 17", "3, 26", "14, 5", "25, 31"})
  void aRoundLayerHasTheFieldOfItsTurns(double rhoMm, double zMm) {
    Winding.Round coil = new Winding.Round(10e-3, 10e-3, 40e-3, 200);

    assertAlike(coil, new Place(rhoMm * 1e-3, 0, zMm * 1e-3), seen -> circle(10e-3, seen));
  }

  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @CsvSource({"0, 0, 0", "20, 1, 0", "20, 1, 5", "31, 2, 11", "36, 7, 2", "3, 9, 20"})
  void aSlotLayerHasTheFieldOfItsTurns(double xMm, double yMm, double zMm) {
    Winding.Rectangular coil = new Winding.Rectangular(62e-3, 6e-3, 0, 16e-3, 200);

    assertAlike(
        coil, new Place(xMm * 1e-3, yMm * 1e-3, zMm * 1e-3), seen -> rectangle(31e-3, 3e-3, seen));
  }

  /** What one turn makes at a place seen from its centre. */
  private interface Loop {
    Flux at(Place place);
  }

  private static void assertAlike(Winding coil, Place place, Loop loop) {
    Flux ours = coil.perAmpere().at(place);
    double largest = Math.hypot(Math.hypot(ours.xTesla(), ours.yTesla()), ours.zTesla());

    Flux sum = alongCoil(loop, place, coil.lengthMetres()).times(coil.turns());

    assertThat(ours.xTesla()).isCloseTo(sum.xTesla(), within(1e-6 * largest));
    assertThat(ours.yTesla()).isCloseTo(sum.yTesla(), within(1e-6 * largest));
    assertThat(ours.zTesla()).isCloseTo(sum.zTesla(), within(1e-6 * largest));
  }

  /** Mean over the length. */
  private static Flux alongCoil(Loop loop, Place place, double length) {
    Flux sum = Flux.NONE;
    for (int part = 0; part < PARTS; part++) {
      for (int point = 0; point < RULE.getNumberOfPoints(); point++) {
        double z = length * ((part + RULE.getPoint(point)) / PARTS - 0.5);
        sum = sum.plus(loop.at(place.moved(0, 0, -z)).times(RULE.getWeight(point) / PARTS));
      }
    }
    return sum;
  }

  /** The rule of even steps, which gains digits with every step around a circle. */
  private static Flux circle(double a, Place place) {
    Flux sum = Flux.NONE;
    double step = 2 * Math.PI / AROUND;
    for (int i = 0; i < AROUND; i++) {
      double cos = Math.cos(i * step);
      double sin = Math.sin(i * step);
      double x = place.xMetres() - a * cos;
      double y = place.yMetres() - a * sin;
      double z = place.zMetres();
      double cube = Math.pow(x * x + y * y + z * z, 1.5);
      double strength = MU0 / (4 * Math.PI) * a * step / cube;
      // (−sin, cos, 0) × (x, y, z)
      sum = sum.plus(new Flux(cos * z, sin * z, -sin * y - cos * x).times(strength));
    }
    return sum;
  }

  private static Flux rectangle(double halfX, double halfY, Place place) {
    double x = place.xMetres();
    double y = place.yMetres();
    double z = place.zMetres();
    return side(new Place(x + halfX, y + halfY, z), new Place(x - halfX, y + halfY, z))
        .plus(side(new Place(x - halfX, y + halfY, z), new Place(x - halfX, y - halfY, z)))
        .plus(side(new Place(x - halfX, y - halfY, z), new Place(x + halfX, y - halfY, z)))
        .plus(side(new Place(x + halfX, y - halfY, z), new Place(x + halfX, y + halfY, z)));
  }

  /**
   * A straight wire of one ampere, the place seen from where it begins and where it ends: µ0/4π · p
   * × q (1/|p| + 1/|q|)/(|p||q| + p·q); any text on magnetostatics.
   */
  private static Flux side(Place p, Place q) {
    double pLength = length(p);
    double qLength = length(q);
    double dot = p.xMetres() * q.xMetres() + p.yMetres() * q.yMetres() + p.zMetres() * q.zMetres();
    double strength = MU0 / (4 * Math.PI) * (1 / pLength + 1 / qLength) / (pLength * qLength + dot);
    return new Flux(
            p.yMetres() * q.zMetres() - p.zMetres() * q.yMetres(),
            p.zMetres() * q.xMetres() - p.xMetres() * q.zMetres(),
            p.xMetres() * q.yMetres() - p.yMetres() * q.xMetres())
        .times(strength);
  }

  private static double length(Place place) {
    return Math.hypot(Math.hypot(place.xMetres(), place.yMetres()), place.zMetres());
  }
}
