package lodestep.magnet;

/**
 * A rectangular block of one tesla of polarisation along z, or, which is the same field, a current
 * sheet around its four sides of 1/µ0 amperes per metre. Any thread, immutable.
 *
 * <p>Source: sums over the eight corners as in R. Engel-Herbert, T. Hesjedal, J. Appl. Phys. 97,
 * 074504 (2005), and E. P. Furlani, Permanent Magnet and Electromechanical Devices (2001), chapter
 * 4; the field of its charged faces, with its own polarisation added inside.
 *
 * @param halfXMetres half its size along x, &gt; 0
 * @param halfYMetres &gt; 0
 * @param halfZMetres &gt; 0
 */
public record Block(double halfXMetres, double halfYMetres, double halfZMetres)
    implements FluxSource {

  private static final double[] ENDS = {-1, 1};

  /**
   * @throws IllegalArgumentException naming the size that is not above zero
   */
  public Block {
    Sizes.requireAboveZero("half a block's size along x", halfXMetres);
    Sizes.requireAboveZero("half a block's size along y", halfYMetres);
    Sizes.requireAboveZero("half a block's size along z", halfZMetres);
  }

  @Override
  public Flux at(Place place) {
    double bx = 0;
    double by = 0;
    double bz = 0;
    for (double endZ : ENDS) {
      double z = place.zMetres() + endZ * halfZMetres;
      for (double endX : ENDS) {
        double x = place.xMetres() + endX * halfXMetres;
        for (double endY : ENDS) {
          double y = place.yMetres() + endY * halfYMetres;
          double sign = endX * endY * endZ;
          // ln(y + r) and ln(x + r), less what the sum over the corners takes away anyhow.
          bx += sign * asinh(y, Math.hypot(x, z));
          by += sign * asinh(x, Math.hypot(y, z));
          bz -= sign * angle(x * y, z * Math.sqrt(x * x + y * y + z * z));
        }
      }
    }
    double own = isInside(place) ? 1 : 0;
    return new Flux(bx / (4 * Math.PI), by / (4 * Math.PI), own + bz / (4 * Math.PI));
  }

  private boolean isInside(Place place) {
    return Math.abs(place.xMetres()) < halfXMetres
        && Math.abs(place.yMetres()) < halfYMetres
        && Math.abs(place.zMetres()) < halfZMetres;
  }

  private static double asinh(double opposite, double adjacent) {
    double ratio = Math.abs(opposite) / adjacent;
    return Math.copySign(Math.log(ratio + Math.sqrt(ratio * ratio + 1)), opposite);
  }

  private static double angle(double opposite, double adjacent) {
    return opposite == 0 ? 0 : Math.atan(opposite / adjacent);
  }
}
