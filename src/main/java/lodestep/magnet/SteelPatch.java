package lodestep.magnet;

import java.util.ArrayList;
import java.util.List;

/** A piece of a steel body's surface, evenly charged. Any thread, immutable. */
sealed interface SteelPatch {

  /** Of one unit of charge on it, in 1/m: the mean of 1/(4&pi;r) over the piece. */
  double potentialAt(Place place);

  /** Where its own potential is taken, which is the mean over these. */
  List<Place> places();

  /** Mean potential of a unit on this piece over another one, or over itself. */
  default double over(SteelPatch other) {
    return other.places().stream().mapToDouble(this::potentialAt).average().orElse(0);
  }

  /**
   * A ring of a pole piece.
   *
   * @param centre on the pole's axis
   * @param radius of its middle
   * @param width along the pole or across its end
   */
  record Ring(Place centre, double radius, double width) implements SteelPatch {

    /** Where another body is looked at from; a pole's own charge is even around it. */
    private static final int AROUND = 8;

    /**
     * A straight strip acts on itself like one at so many widths: its geometric mean distance,
     * exp(-3/2). Source: J. C. Maxwell, A Treatise on Electricity and Magnetism, art. 692.
     */
    static final double OWN_DISTANCE = Math.exp(-1.5);

    @Override
    public double potentialAt(Place place) {
      double aside =
          Math.hypot(place.xMetres() - centre.xMetres(), place.yMetres() - centre.yMetres());
      double height = place.zMetres() - centre.zMetres();
      return ChargedRectangle.ofRing(radius, aside, height) / (4 * Math.PI);
    }

    @Override
    public List<Place> places() {
      return around(AROUND);
    }

    List<Place> around(int times) {
      List<Place> places = new ArrayList<>();
      for (int step = 0; step < times; step++) {
        double angle = 2 * Math.PI * (step + 0.5) / times;
        places.add(centre.moved(radius * Math.cos(angle), radius * Math.sin(angle), 0));
      }
      return places;
    }

    @Override
    public double over(SteelPatch other) {
      if (!(other instanceof Ring ring) || !coaxial(ring)) {
        return SteelPatch.super.over(other);
      }
      double away = equals(ring) ? OWN_DISTANCE * width : ring.centre.zMetres() - centre.zMetres();
      return ChargedRectangle.ofRing(radius, ring.radius, away) / (4 * Math.PI);
    }

    private boolean coaxial(Ring other) {
      return centre.xMetres() == other.centre.xMetres()
          && centre.yMetres() == other.centre.yMetres();
    }
  }

  /**
   * A rectangle of a plate; the half size across itself is 0.
   *
   * @param halfX half its size along x
   */
  record Rectangle(Place centre, double halfX, double halfY, double halfZ) implements SteelPatch {

    /** Two points of Gauss's rule along each side. */
    private static final double GAUSS = 1 / Math.sqrt(3);

    @Override
    public double potentialAt(Place place) {
      double x = place.xMetres() - centre.xMetres();
      double y = place.yMetres() - centre.yMetres();
      double z = place.zMetres() - centre.zMetres();
      if (halfX == 0) {
        return mean(halfY, halfZ, ChargedRectangle.potential(halfY, halfZ, y, z, x));
      }
      return halfY == 0
          ? mean(halfZ, halfX, ChargedRectangle.potential(halfZ, halfX, z, x, y))
          : mean(halfX, halfY, ChargedRectangle.potential(halfX, halfY, x, y, z));
    }

    private static double mean(double half, double other, double integral) {
      return integral / (4 * half * other) / (4 * Math.PI);
    }

    @Override
    public List<Place> places() {
      List<Place> places = new ArrayList<>();
      for (double first : new double[] {-GAUSS, GAUSS}) {
        for (double second : new double[] {-GAUSS, GAUSS}) {
          double x = halfX * first;
          double y = halfY * (halfX == 0 ? first : second);
          places.add(centre.moved(x, y, halfZ * second));
        }
      }
      return places;
    }
  }
}
