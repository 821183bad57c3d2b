package lodestep.magnet;

/**
 * A cylinder's mantle with one tesla of magnetic charge, without its ends: what the polarisation
 * across a rod leaves on it. Gives µ0 H. Any thread, immutable.
 *
 * <p>Along the axis it is the difference of the ring's potentials at both ends; across, the same
 * integral as that of {@link Cylinder} along the axis, radius and distance changing places.
 *
 * @param radiusMetres &gt; 0
 * @param halfLengthMetres &gt; 0
 */
record ChargedShell(double radiusMetres, double halfLengthMetres) implements FluxSource {

  @Override
  public Flux at(Place place) {
    double rho = Math.hypot(place.xMetres(), place.yMetres());
    double fromLow = place.zMetres() + halfLengthMetres;
    double fromHigh = place.zMetres() - halfLengthMetres;
    double axial = potential(rho, fromHigh) - potential(rho, fromLow);
    double toMantle = rho - radiusMetres;
    double radial =
        Cylinder.sheet(radiusMetres, toMantle, rho, fromLow)
            - Cylinder.sheet(radiusMetres, toMantle, rho, fromHigh);
    double across = rho == 0 ? 0 : radial / rho;
    return new Flux(across * place.xMetres(), across * place.yMetres(), axial);
  }

  private double potential(double rho, double fromEnd) {
    double reach = Math.hypot(fromEnd, rho + radiusMetres);
    double modulus = Math.hypot(fromEnd, rho - radiusMetres) / reach;
    return radiusMetres / (Math.PI * reach) * EllipticIntegral.cel(modulus, 1, 1, 1);
  }
}
