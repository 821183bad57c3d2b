package lodestep.measure;

/**
 * How well one seating of a magnet in a nest is known. Any thread, immutable.
 *
 * @param relative standard uncertainty of a reading by how the magnet lies, as a part of the
 *     reading, with its degrees of freedom
 * @param known by what it is known, in words
 */
public record Seating(StandardUncertainty relative, String known) {

  /**
   * Relative standard uncertainty of one seating until a study has been made on the rig: five
   * micrometres of stand-off at a third of a per cent for ten. Common practice, no source.
   */
  public static final double USUAL = 0.0015;

  /** Below this many degrees of freedom a standard deviation has no finite mean square. */
  private static final double FREEDOM_LEAST = 2;

  /** As is usual, until the nest has been studied. */
  public static Seating usual() {
    return new Seating(StandardUncertainty.known(USUAL), "usual, until studied");
  }

  /**
   * What a verdict counts it with, as a part of the reading: a study's figure widened by the root
   * of f / (f &minus; 2), so that few re-seatings that happened to agree promise no more than they
   * showed (JCGM 101, 6.4.9: the standard deviation of Student's t).
   */
  public double counted() {
    double freedom = relative.degreesOfFreedom();
    return Double.isInfinite(freedom)
        ? relative.value()
        : relative.value() * Math.sqrt(freedom / Math.max(freedom - FREEDOM_LEAST, 1));
  }
}
