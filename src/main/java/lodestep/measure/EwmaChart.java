package lodestep.measure;

import java.util.ArrayList;
import java.util.List;

/**
 * A control chart of exponentially weighted means: it sees small lasting shifts that single points
 * do not show. Any thread, immutable. Figures are in the unit of the points.
 *
 * <p>Source: NIST/SEMATECH e-Handbook, 6.3.2.4; the limits are those of a mean that has run on for
 * long, which at the first points are wider than they need be.
 *
 * @param target what the mean begins with, and the centre line
 * @param sigma standard deviation of a point, &gt; 0
 * @param weight of the newest point, 0 to 1; from 0.2 to 0.3 is usual
 */
public record EwmaChart(double target, double sigma, double weight) {

  /** The usual weight. */
  public static final double WEIGHT = 0.3;

  private static final double LIMIT_SIGMAS = 3;

  /**
   * @throws IllegalArgumentException if a figure is not a number or out of range
   */
  public EwmaChart {
    // Negated comparisons on purpose: they also reject NaN.
    if (!Double.isFinite(target) || !(sigma > 0 && sigma < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("chart's target or scatter out of range: " + sigma);
    }
    if (!(weight > 0 && weight <= 1)) {
      throw new IllegalArgumentException("chart's weight out of range 0 to 1: " + weight);
    }
  }

  /** The weighted mean after each point, as many as there are points. */
  public List<Double> means(List<Double> points) {
    List<Double> means = new ArrayList<>();
    double mean = target;
    for (double point : points) {
      mean = weight * point + (1 - weight) * mean;
      means.add(mean);
    }
    return List.copyOf(means);
  }

  /** Upper control limit. */
  public double upper() {
    return target + LIMIT_SIGMAS * sigma * Math.sqrt(weight / (2 - weight));
  }

  /** Lower control limit. */
  public double lower() {
    return 2 * target - upper();
  }

  /** Which points, from 0, have a mean beyond the limits. */
  public List<Integer> beyond(List<Double> points) {
    List<Double> means = means(points);
    List<Integer> found = new ArrayList<>();
    for (int at = 0; at < means.size(); at++) {
      if (means.get(at) > upper() || means.get(at) < lower()) {
        found.add(at);
      }
    }
    return List.copyOf(found);
  }
}
