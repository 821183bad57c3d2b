package lodestep.port;

import java.util.Collections;
import java.util.List;
import java.util.stream.Stream;

/**
 * Curves to be drawn, each over the same axis. Any thread, immutable.
 *
 * @param across what is along the bottom, with its unit
 * @param up what is up the side, with its unit
 * @param curves at least one
 * @param logarithmic whether what is along the bottom is the decimal logarithm of what is told
 */
public record Plot(
    String title, String across, String up, List<Curve> curves, boolean logarithmic) {

  /** Curves over an even axis. */
  public Plot(String title, String across, String up, List<Curve> curves) {
    this(title, across, up, curves, false);
  }

  /**
   * One curve.
   *
   * @param x rising
   * @param y as many
   * @param joined whether a line runs through its points, or they stand each for itself
   */
  public record Curve(String name, List<Double> x, List<Double> y, boolean joined) {
    /** A line through its points. */
    public Curve(String name, List<Double> x, List<Double> y) {
      this(name, x, y, true);
    }

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

  /**
   * A round axis under all curves.
   *
   * @param stepsMax how many steps at most
   */
  public RoundScale scaleAcross(int stepsMax) {
    return scale(curves.stream().flatMap(curve -> curve.x().stream()).toList(), stepsMax);
  }

  /**
   * A round axis beside all curves; zero is on it.
   *
   * @param stepsMax how many steps at most
   */
  public RoundScale scaleUp(int stepsMax) {
    return scale(
        Stream.concat(Stream.of(0.0), curves.stream().flatMap(curve -> curve.y().stream()))
            .toList(),
        stepsMax);
  }

  /** What is told at a place along the bottom. */
  public double toldAcross(double x) {
    return logarithmic ? Math.pow(10, x) : x;
  }

  private static RoundScale scale(List<Double> values, int stepsMax) {
    return RoundScale.over(Collections.min(values), Collections.max(values), stepsMax);
  }
}
