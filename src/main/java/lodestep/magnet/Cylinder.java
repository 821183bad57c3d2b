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
    double axial = axial(rho, z + halfLengthMetres) - axial(rho, z - halfLengthMetres);
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

  private double axial(double rho, double fromEnd) {
    if (fromEnd == 0) {
      return 0;
    }
    double across = rho + radiusMetres;
    double reach = Math.hypot(fromEnd, across);
    double modulus = Math.hypot(fromEnd, rho - radiusMetres) / reach;
    double side = (radiusMetres - rho) / across;
    // On the mantle the integrand's jump is met half way.
    double integral =
        side == 0
            ? EllipticIntegral.cel(modulus, 1, 1, 1)
            : EllipticIntegral.cel(modulus, side * side, 1, side);
    return radiusMetres * fromEnd / (Math.PI * across * reach) * integral;
  }
}
