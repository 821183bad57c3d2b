package lodestep.measure;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.hipparchus.distribution.continuous.ChiSquaredDistribution;

/**
 * What taking a magnet out and putting it back does to its reading. Any thread, immutable. Figures
 * are relative to each magnet's own mean, since a nest moves every reading in proportion.
 *
 * @param magnets each magnet's readings, in the order they were taken
 */
public record PlacementStudy(List<Seated> magnets) {

  /** Fewer re-seatings of one magnet leave the scatter unknown within a factor of two. */
  public static final int SEATINGS_MIN = 5;

  private static final double CONFIDENCE = 0.95;

  /** One magnet's readings, freshly seated before each. */
  public record Seated(String magnet, List<Double> readings) {

    /**
     * @throws IllegalArgumentException with one sentence, if there are fewer than {@value
     *     #SEATINGS_MIN} or their mean is zero
     */
    public Seated {
      readings = List.copyOf(readings);
      if (readings.size() < SEATINGS_MIN) {
        throw new IllegalArgumentException(
            magnet
                + " was seated "
                + readings.size()
                + " times; seat each magnet "
                + SEATINGS_MIN
                + " times or more");
      }
      if (mean(readings) == 0) {
        throw new IllegalArgumentException(
            magnet + " reads zero on the mean; take a charged magnet for the study");
      }
    }

    /** Mean reading, signed. */
    public double mean() {
      return mean(readings);
    }

    /** From the least to the greatest reading, &ge; 0. */
    public double range() {
      double least = readings.stream().mapToDouble(Double::doubleValue).min().orElse(0);
      return readings.stream().mapToDouble(Double::doubleValue).max().orElse(0) - least;
    }

    /** Standard deviation of one reading, &ge; 0. */
    public double deviation() {
      double mean = mean();
      double squares =
          readings.stream().mapToDouble(value -> (value - mean) * (value - mean)).sum();
      return Math.sqrt(squares / (readings.size() - 1));
    }

    /** Patterns that chance seating does not show; a magnet that warms or works loose does. */
    public List<IndividualsChart.Signal> patterns() {
      return range() == 0
          ? List.of()
          : IndividualsChart.of(readings).signals(readings, IndividualsChart.RULES);
    }

    private static double mean(List<Double> values) {
      return values.stream().mapToDouble(Double::doubleValue).average().orElse(0);
    }
  }

  /**
   * @throws IllegalArgumentException if there is no magnet
   */
  public PlacementStudy {
    magnets = List.copyOf(magnets);
    if (magnets.isEmpty()) {
      throw new IllegalArgumentException("a placement study needs a magnet's readings");
    }
  }

  /**
   * From readings in the order they were taken; whoever seated the magnet does not count.
   *
   * @throws IllegalArgumentException with one sentence, if a magnet was seated too few times
   */
  public static PlacementStudy of(List<CrossedStudy.Measured> readings) {
    Map<String, List<Double>> found = new LinkedHashMap<>();
    readings.forEach(
        reading ->
            found
                .computeIfAbsent(reading.part(), magnet -> new ArrayList<>())
                .add(reading.value()));
    return new PlacementStudy(
        found.entrySet().stream().map(each -> new Seated(each.getKey(), each.getValue())).toList());
  }

  /** Relative standard uncertainty of one seating with its degrees of freedom, all magnets. */
  public StandardUncertainty seating() {
    double squares = 0;
    int freedom = 0;
    for (Seated seated : magnets) {
      double relative = seated.deviation() / seated.mean();
      squares += (seated.readings().size() - 1) * relative * relative;
      freedom += seated.readings().size() - 1;
    }
    return new StandardUncertainty(Math.sqrt(squares / freedom), freedom);
  }

  /** What the relative uncertainty of one seating is below with 95 per cent confidence. */
  public double seatingAtMost() {
    StandardUncertainty seating = seating();
    double freedom = seating.degreesOfFreedom();
    return seating.value()
        * Math.sqrt(
            freedom
                / new ChiSquaredDistribution(freedom).inverseCumulativeProbability(1 - CONFIDENCE));
  }
}
