package lodestep.measure;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;

/**
 * A control chart of single readings with moving ranges: what a gauge that has not changed reads on
 * one thing, again and again. Any thread, immutable. Figures are in the unit of the points.
 *
 * <p>Source: NIST/SEMATECH e-Handbook, 6.3.2.2.
 *
 * @param centre mean of the points the chart was drawn up from
 * @param meanRange mean of the differences without sign from each of them to the next, &gt; 0
 */
public record IndividualsChart(double centre, double meanRange) {

  /**
   * Mean moving range of two over standard deviation, d₂(2) as handbooks print it (2/√π is 1.1284):
   * so that limits agree with those of any printed example.
   */
  public static final double RANGE_PER_SIGMA = 1.128;

  /** Upper limit of the moving range over its mean, D₄(2), from the same tables. */
  public static final double RANGE_LIMIT = 3.267;

  /** Fewer points tell nothing of a scatter; a chart of fewer than twenty is a beginning. */
  public static final int POINTS_MIN = 8;

  /** From so many points on the limits are as good as they will get. Common practice. */
  public static final int POINTS_FULL = 20;

  private static final double LIMIT_SIGMAS = 3;

  /** The rules that stand for a gauge that is not what it was. */
  public static final Set<ChartRule> RULES =
      Set.of(
          ChartRule.FAR_POINT,
          ChartRule.TWO_OF_THREE,
          ChartRule.FOUR_OF_FIVE,
          ChartRule.ONE_SIDE,
          ChartRule.TREND,
          ChartRule.JUMP);

  /** A pattern found. */
  public record Signal(ChartRule rule, int point) {

    /** In words for a person; points are counted from 1. */
    public String words() {
      return rule.sees() + ", seen at point " + (point + 1);
    }
  }

  /**
   * @throws IllegalArgumentException if a figure is not a number, or the range not above zero
   */
  public IndividualsChart {
    // Negated comparison on purpose: it also rejects NaN.
    if (!Double.isFinite(centre) || !(meanRange > 0 && meanRange < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(
          "a chart needs points that scatter: centre " + centre + ", mean range " + meanRange);
    }
  }

  /**
   * Drawn up from readings of a gauge that was in order.
   *
   * @param points in the order they were taken, at least two
   * @throws IllegalArgumentException if there are fewer, or none differs from the one before
   */
  public static IndividualsChart of(List<Double> points) {
    if (points.size() < 2) {
      throw new IllegalArgumentException("a chart needs two points or more: " + points.size());
    }
    double ranges = 0;
    for (int at = 1; at < points.size(); at++) {
      ranges += Math.abs(points.get(at) - points.get(at - 1));
    }
    double mean = points.stream().mapToDouble(Double::doubleValue).average().orElseThrow();
    return new IndividualsChart(mean, ranges / (points.size() - 1));
  }

  /** The same scatter about another centre, such as a certificate's value. */
  public IndividualsChart about(double other) {
    return new IndividualsChart(other, meanRange);
  }

  /** Standard deviation of a point, from the moving ranges: a slow drift does not widen it. */
  public double sigma() {
    return meanRange / RANGE_PER_SIGMA;
  }

  /** Upper control limit. */
  public double upper() {
    return centre + LIMIT_SIGMAS * sigma();
  }

  /** Lower control limit. */
  public double lower() {
    return centre - LIMIT_SIGMAS * sigma();
  }

  /** Upper limit of a moving range; it has no lower one. */
  public double rangeUpper() {
    return RANGE_LIMIT * meanRange;
  }

  /**
   * Every pattern found, by its last point and then by rule.
   *
   * @param points in the order they were taken; may be empty
   * @param rules which to look for
   */
  public List<Signal> signals(List<Double> points, Set<ChartRule> rules) {
    double[] scores = points.stream().mapToDouble(point -> (point - centre) / sigma()).toArray();
    List<Signal> found = new ArrayList<>();
    for (int last = 0; last < scores.length; last++) {
      for (ChartRule rule : ChartRule.values()) {
        if (rules.contains(rule) && rule.endsAt(scores, last)) {
          found.add(new Signal(rule, last));
        }
      }
    }
    return List.copyOf(found);
  }
}
