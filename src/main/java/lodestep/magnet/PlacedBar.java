package lodestep.magnet;

/**
 * A bar magnet in a pickup: x along the strings, y along the row of poles, z up. Any thread,
 * immutable.
 *
 * @param centre of the bar
 * @param halfXMetres half its size along x, &gt; 0
 * @param halfYMetres along y
 * @param halfZMetres along z
 * @param upright whether it is charged along z, and not along x
 * @param sign 1 if its north end lies towards the axis' positive end, -1 if the other way
 */
public record PlacedBar(
    Place centre,
    double halfXMetres,
    double halfYMetres,
    double halfZMetres,
    boolean upright,
    int sign) {

  /**
   * @throws IllegalArgumentException naming the size that is not above zero
   */
  public PlacedBar {
    Sizes.requireAboveZero("half a bar's size along x", halfXMetres);
    Sizes.requireAboveZero("half a bar's size along y", halfYMetres);
    Sizes.requireAboveZero("half a bar's size along z", halfZMetres);
  }

  double cubicMetres() {
    return 8 * halfXMetres * halfYMetres * halfZMetres;
  }

  /** Magnetometric demagnetising factor along its axis of charge. */
  double demagnetisingFactor() {
    double x = 2 * halfXMetres;
    double y = 2 * halfYMetres;
    double z = 2 * halfZMetres;
    return upright ? DemagnetisingFactor.ofPrism(x, y, z) : DemagnetisingFactor.ofPrism(z, y, x);
  }

  /** Of one tesla, in T m: its two faces' potential, whose fall is the flux density outside. */
  double potentialAt(Place place) {
    double x = place.xMetres() - centre.xMetres();
    double y = place.yMetres() - centre.yMetres();
    double z = place.zMetres() - centre.zMetres();
    return sign
        * (upright
            ? faces(halfXMetres, halfYMetres, halfZMetres, x, y, z)
            : faces(halfZMetres, halfYMetres, halfXMetres, z, y, x));
  }

  private static double faces(
      double across, double along, double half, double x, double y, double z) {
    double north = ChargedRectangle.potential(across, along, x, y, z - half);
    double south = ChargedRectangle.potential(across, along, x, y, z + half);
    return (north - south) / (4 * Math.PI);
  }

  /** What one tesla of it makes around itself. */
  FluxSource perTesla() {
    double x0 = centre.xMetres();
    double y0 = centre.yMetres();
    double z0 = centre.zMetres();
    if (upright) {
      FluxSource block = new Block(halfXMetres, halfYMetres, halfZMetres).times(sign);
      return place -> block.at(place.moved(-x0, -y0, -z0));
    }
    FluxSource block = new Block(halfZMetres, halfYMetres, halfXMetres).times(sign);
    return place -> {
      Flux flux =
          block.at(new Place(place.zMetres() - z0, place.yMetres() - y0, place.xMetres() - x0));
      return new Flux(flux.zTesla(), flux.yTesla(), flux.xTesla());
    };
  }
}
