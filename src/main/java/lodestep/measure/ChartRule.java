package lodestep.measure;

/**
 * What a control chart looks for, each named after what it sees. Zones are counted in standard
 * deviations from the centre line.
 *
 * <p>Source: NIST/SEMATECH e-Handbook, 6.3.2 (the Western Electric rules and the trend rules); ISO
 * 7870-2 tells of the same patterns.
 */
public enum ChartRule {
  /** One point beyond three standard deviations. */
  FAR_POINT("one point beyond the limits", 1),
  /** Two of three in a row beyond two standard deviations, on one side. */
  TWO_OF_THREE("two of three points near one limit", 3),
  /** Four of five in a row beyond one standard deviation, on one side. */
  FOUR_OF_FIVE("four of five points away from the centre on one side", 5),
  /** Eight in a row on one side of the centre line. */
  ONE_SIDE("eight points in a row on one side of the centre", 8),
  /** Six in a row, each above the one before, or each below. */
  TREND("six points in a row that rise or fall", 6),
  /** Fourteen in a row, up and down by turns. */
  ZIGZAG("fourteen points in a row up and down by turns", 14),
  /** A step from one point to the next that is beyond the limit of the moving range. */
  JUMP("a step from one point to the next beyond its limit", 2);

  private static final double NEAR_LIMIT = 2;
  private static final double AWAY = 1;
  private static final double LIMIT = 3;

  private final String sees;
  private final int points;

  ChartRule(String sees, int points) {
    this.sees = sees;
    this.points = points;
  }

  /** In words for a person. */
  public String sees() {
    return sees;
  }

  /** How many points in a row it looks at. */
  public int points() {
    return points;
  }

  /**
   * Whether the pattern ends with this point.
   *
   * @param scores points in standard deviations from the centre, oldest first
   * @param last from 0; false where there are too few points before it
   */
  boolean endsAt(double[] scores, int last) {
    int from = last + 1 - points;
    if (from < 0) {
      return false;
    }
    return switch (this) {
      case FAR_POINT -> count(scores, from, last, LIMIT) >= 1;
      case TWO_OF_THREE -> count(scores, from, last, NEAR_LIMIT) >= 2;
      case FOUR_OF_FIVE -> count(scores, from, last, AWAY) >= 4;
      case ONE_SIDE -> count(scores, from, last, 0) >= points;
      case TREND -> steps(scores, from, last) == points - 1;
      case ZIGZAG -> turns(scores, from, last) == points - 2;
      case JUMP ->
          Math.abs(scores[last] - scores[from])
              > IndividualsChart.RANGE_LIMIT * IndividualsChart.RANGE_PER_SIGMA;
    };
  }

  /** How many lie beyond the zone on the side of the last one; that one must be among them. */
  private static int count(double[] scores, int from, int last, double zone) {
    double side = Math.signum(scores[last]);
    if (side * scores[last] <= zone) {
      return 0;
    }
    int beyond = 0;
    for (int at = from; at <= last; at++) {
      beyond += side * scores[at] > zone ? 1 : 0;
    }
    return beyond;
  }

  /** How many steps go the way the last one goes. */
  private static int steps(double[] scores, int from, int last) {
    double way = Math.signum(scores[last] - scores[last - 1]);
    int same = 0;
    for (int at = from + 1; at <= last; at++) {
      same += way != 0 && way * (scores[at] - scores[at - 1]) > 0 ? 1 : 0;
    }
    return same;
  }

  private static int turns(double[] scores, int from, int last) {
    int turns = 0;
    for (int at = from + 2; at <= last; at++) {
      double before = scores[at - 1] - scores[at - 2];
      double after = scores[at] - scores[at - 1];
      turns += before * after < 0 ? 1 : 0;
    }
    return turns;
  }
}
