package lodestep.measure;

import lodestep.quantity.FluxDensity;

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

  /**
   * Standard uncertainty of a magnet's level that is told by a reading: the reading's, and how the
   * magnet lies in its nest, which no repeated reading of one seating shows.
   *
   * @param reading its value, of either sign
   * @param standardUncertainty of the reading, gain and zero counted in
   */
  public FluxDensity ofLevel(FluxDensity reading, FluxDensity standardUncertainty) {
    return ofLevel(counted(), reading, standardUncertainty);
  }

  /**
   * The same of a seating of which no more is at hand than what is {@link #counted}.
   *
   * @param counted as a part of the reading, &ge; 0
   */
  public static FluxDensity ofLevel(
      double counted, FluxDensity reading, FluxDensity standardUncertainty) {
    return new FluxDensity(Math.hypot(standardUncertainty.tesla(), counted * reading.tesla()));
  }
}
