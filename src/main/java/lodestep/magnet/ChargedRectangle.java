package lodestep.magnet;

/** An evenly charged rectangle and a charged ring: what their potential is. Pure. */
final class ChargedRectangle {

  private ChargedRectangle() {}

  /**
   * The integral of 1/r over a rectangle in the plane z = 0 around the origin, in metres. The
   * closed form of a sheet of constant charge; see any text on the boundary-element method.
   *
   * @param halfX half its size along x, &gt; 0
   * @param halfY half its size along y, &gt; 0
   */
  static double potential(double halfX, double halfY, double x, double y, double z) {
    return corner(x + halfX, y + halfY, z)
        - corner(x - halfX, y + halfY, z)
        - corner(x + halfX, y - halfY, z)
        + corner(x - halfX, y - halfY, z);
  }

  private static double corner(double u, double v, double z) {
    double far = Math.sqrt(u * u + v * v + z * z);
    double height = Math.abs(z);
    double angle = height == 0 ? 0 : height * Math.atan2(u * v, height * far);
    return asinh(u, v, z) + asinh(v, u, z) - angle;
  }

  /** u asinh(v / hypot(u, z)), nothing where u is nothing. */
  private static double asinh(double u, double v, double z) {
    if (u == 0) {
      return 0;
    }
    double ratio = Math.abs(v) / Math.hypot(u, z);
    return u * Math.copySign(Math.log(ratio + Math.sqrt(ratio * ratio + 1)), v);
  }

  /**
   * Mean of 1/r over a ring, seen from a place: 2 K(k)/(&pi; s), K the complete elliptic integral.
   *
   * @param radius of the ring, &gt; 0
   * @param aside of the place from the ring's axis, &ge; 0
   * @param height of the place above the ring's plane; not 0 on the ring itself
   */
  static double ofRing(double radius, double aside, double height) {
    double farthest = Math.hypot(radius + aside, height);
    double nearest = Math.hypot(radius - aside, height);
    return 2 / Math.PI * EllipticIntegral.cel(nearest / farthest, 1, 1, 1) / farthest;
  }
}
