package lodestep.port;

import java.util.List;

/**
 * Curves to be drawn, each over the same axis. Any thread, immutable.
 *
 * @param across what is along the bottom, with its unit
 * @param up what is up the side, with its unit
 * @param curves at least one
 */
public record Plot(String title, String across, String up, List<Curve> curves) {

  /**
   * One curve.
   *
   * @param x rising
   * @param y as many
   */
  public record Curve(String name, List<Double> x, List<Double> y) {
    /**
     * @throws IllegalArgumentException if it has no point, or not as many of one as of the other
     */
    public Curve {
      x = List.copyOf(x);
      y = List.copyOf(y);
      if (x.isEmpty() || x.size() != y.size()) {
        throw new IllegalArgumentException(
            "a curve has as many heights as places, and one at least");
      }
    }
  }

  public Plot {
    curves = List.copyOf(curves);
  }
}
