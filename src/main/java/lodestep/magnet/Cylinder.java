package lodestep.magnet;

/**
 * A cylinder of one tesla of polarisation along its axis, or, which is the same field, a current
 * sheet around it of 1/µ0 amperes per metre. Any thread, immutable.
 *
 * <p>Source: N. Derby, S. Olbert, Am. J. Phys. 78(3), 229 (2010), equations 4 and 5.
 *
 * @param radiusMetres &gt; 0
 * @param halfLengthMetres &gt; 0
 */
public record Cylinder(double radiusMetres, double halfLengthMetres) implements FluxSource {

  /**
   * @throws IllegalArgumentException naming the size that is not above zero
   */
  public Cylinder {
    Sizes.requireAboveZero("a cylinder's radius", radiusMetres);
    Sizes.requireAboveZero("a cylinder's half length", halfLengthMetres);
  }

  @Override
  public Flux at(Place place) {
    double rho = Math.hypot(place.xMetres(), place.yMetres());
    double z = place.zMetres();
    double radial = radial(rho, z + halfLengthMetres) - radial(rho, z - halfLengthMetres);
    double toMantle = radiusMetres - rho;
    double axial =
        sheet(radiusMetres, toMantle, rho, z + halfLengthMetres)
            - sheet(radiusMetres, toMantle, rho, z - halfLengthMetres);
    // On the axis nothing points across.
    double across = rho == 0 ? 0 : radial / rho;
    return new Flux(across * place.xMetres(), across * place.yMetres(), axial);
  }

  /** What one end gives, at a distance along the axis from it. */
  private double radial(double rho, double fromEnd) {
    if (rho == 0) {
      return 0;
    }
    double reach = Math.hypot(fromEnd, rho + radiusMetres);
    double modulus = Math.hypot(fromEnd, rho - radiusMetres) / reach;
    return radiusMetres / (Math.PI * reach) * EllipticIntegral.cel(modulus, 1, 1, -1);
  }

  /**
   * The integral that a current sheet's field along the axis and a charged mantle's field across it
   * have in common, for one end.
   *
   * @param toMantle the difference of radius and distance from the axis, with its sign
   * @param fromEnd along the axis
   */
  static double sheet(double radius, double toMantle, double rho, double fromEnd) {
    if (fromEnd == 0) {
      return 0;
    }
    double across = rho + radius;
    double reach = Math.hypot(fromEnd, across);
    double modulus = Math.hypot(fromEnd, toMantle) / reach;
    double side = toMantle / across;
    // On the mantle the integrand's jump is met half way.
    double integral =
        side == 0
            ? EllipticIntegral.cel(modulus, 1, 1, 1)
            : EllipticIntegral.cel(modulus, side * side, 1, side);
    return radius * fromEnd / (Math.PI * across * reach) * integral;
  }
}
