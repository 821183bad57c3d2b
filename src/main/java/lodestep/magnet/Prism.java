package lodestep.magnet;

/**
 * Edges of a rectangular magnet in metres, charged along c.
 *
 * @param a across, &gt; 0
 * @param b across, &gt; 0
 * @param c along, &gt; 0
 */
record Prism(double a, double b, double c) {

  /**
   * Solid angle in steradians of the pole face, seen from a point on the axis.
   *
   * @param distance from the face in metres, &ge; 0
   */
  double solidAngle(double distance) {
    double diagonal = Math.sqrt(4 * distance * distance + a * a + b * b);
    return 4 * Math.atan2(a * b, 2 * distance * diagonal);
  }
}
