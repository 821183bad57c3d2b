package lodestep.measure;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;
import org.hipparchus.distribution.continuous.FDistribution;

/**
 * A crossed gauge study: every appraiser reads every part equally often. It tells what of the
 * scatter is the gauge's own, what the person's, and what the parts'. Any thread, immutable.
 *
 * <p>Source: the average-and-range method and the analysis of variance as the measurement systems
 * manual of the automotive trade (4th ed.) works them; Montgomery, Design and Analysis of
 * Experiments, 13.3, for the model with random effects.
 *
 * @param parts their names, at least two
 * @param appraisers their names, at least one
 * @param trials readings of each part by each appraiser, at least two
 * @param cells readings of each part (outer list) by each appraiser, in the order of the names
 */
public record CrossedStudy(
    List<String> parts, List<String> appraisers, int trials, List<List<List<Double>>> cells) {

  /** More levels of either kind than anyone reads; a slip of the file. */
  public static final int LEVELS_MAX = 1000;

  /** One reading of one part by one appraiser. */
  public record Measured(String part, String appraiser, double value) {}

  public CrossedStudy {
    parts = List.copyOf(parts);
    appraisers = List.copyOf(appraisers);
    cells = cells.stream().<List<List<Double>>>map(CrossedStudy::copied).toList();
  }

  private static List<List<Double>> copied(List<List<Double>> part) {
    return part.stream().<List<Double>>map(List::copyOf).toList();
  }

  /**
   * From readings in any order.
   *
   * @throws IllegalArgumentException with one sentence, if they are not crossed and balanced
   */
  public static CrossedStudy of(List<Measured> readings) {
    Map<String, Map<String, List<Double>>> found = new LinkedHashMap<>();
    Map<String, Boolean> people = new LinkedHashMap<>();
    for (Measured reading : readings) {
      people.put(reading.appraiser(), true);
      found
          .computeIfAbsent(reading.part(), part -> new LinkedHashMap<>())
          .computeIfAbsent(reading.appraiser(), person -> new ArrayList<>())
          .add(reading.value());
    }
    List<String> parts = List.copyOf(found.keySet());
    List<String> appraisers = List.copyOf(people.keySet());
    if (parts.size() < 2 || parts.size() > LEVELS_MAX || appraisers.size() > LEVELS_MAX) {
      throw new IllegalArgumentException(
          "a crossed study needs 2 to "
              + LEVELS_MAX
              + " magnets and no more persons than that; it has "
              + counted(parts.size(), "magnet")
              + " and "
              + counted(appraisers.size(), "person"));
    }
    int trials = found.values().iterator().next().values().iterator().next().size();
    List<List<List<Double>>> cells = new ArrayList<>();
    for (Map.Entry<String, Map<String, List<Double>>> part : found.entrySet()) {
      List<List<Double>> row = new ArrayList<>();
      for (String person : appraisers) {
        List<Double> cell = part.getValue().getOrDefault(person, List.of());
        if (cell.size() != trials || trials < 2) {
          throw new IllegalArgumentException(uneven(part.getKey(), person, cell.size(), trials));
        }
        row.add(cell);
      }
      cells.add(row);
    }
    return new CrossedStudy(parts, appraisers, trials, cells);
  }

  private static String counted(int count, String what) {
    return count + " " + what + (count == 1 ? "" : "s");
  }

  private static String uneven(String part, String person, int count, int trials) {
    return String.format(
        Locale.ROOT,
        "%s has read %s %d times, where %d are asked of everyone; read each part equally often, at"
            + " least twice",
        person,
        part,
        count,
        Math.max(2, trials));
  }

  /**
   * Standard deviations that the scatter is made of, in the unit of the readings.
   *
   * @param repeatability the gauge alone: one person, one part, again
   * @param reproducibility what differs from person to person
   * @param gauge both together
   * @param parts what differs from part to part
   */
  public record Scatter(double repeatability, double reproducibility, double gauge, double parts) {

    /** Per cent of tolerance or of all scatter that a good gauge stays under. Trade practice. */
    public static final double GOOD_FRACTION = 0.10;

    /** Above this a gauge is not fit for its use. Trade practice. */
    public static final double FIT_FRACTION = 0.30;

    /** Parts told apart with 97 per cent confidence: 1.41 times the ratio of the scatters. */
    private static final double CATEGORIES = 1.41;

    /** In how many standard deviations all readings are taken to lie. */
    private static final double WIDTH = 6;

    private static Scatter of(double repeatability, double reproducibility, double parts) {
      return new Scatter(
          repeatability, reproducibility, Math.hypot(repeatability, reproducibility), parts);
    }

    /** All scatter together. */
    public double total() {
      return Math.hypot(gauge, parts);
    }

    /** A standard deviation as a fraction of all scatter. */
    public double ofTotal(double deviation) {
      return total() == 0 ? 0 : deviation / total();
    }

    /**
     * Six standard deviations as a fraction of the tolerance.
     *
     * @param halfWidth of the tolerance, &gt; 0
     */
    public static double ofTolerance(double deviation, double halfWidth) {
      return WIDTH * deviation / (2 * halfWidth);
    }

    /** How many kinds of parts the gauge can tell apart, rounded down. */
    public int categories() {
      return (int) Math.floor(CATEGORIES * parts / gauge);
    }

    /** Whether the fraction is that of a good gauge, one of limited use, or one that is not fit. */
    public static String verdict(double fraction) {
      if (fraction < GOOD_FRACTION) {
        return "good";
      }
      return fraction <= FIT_FRACTION ? "of limited use" : "not fit";
    }
  }

  /** Scatter by averages and ranges: for a hand and a pencil, and to compare with old studies. */
  public Scatter averageAndRange() {
    double range =
        cells.stream().flatMap(List::stream).mapToDouble(CrossedStudy::range).average().orElse(0);
    double repeatability = range * factor(RangeConstants.of(trials).mean());
    double people = ofRange(columnMeans());
    double own = repeatability * repeatability / (parts.size() * trials);
    double reproducibility = Math.sqrt(Math.max(0, people * people - own));
    return Scatter.of(repeatability, reproducibility, ofRange(rowMeans()));
  }

  private static double ofRange(List<Double> means) {
    return means.size() < 2
        ? 0
        : range(means) * factor(RangeConstants.of(means.size()).ofOneSample());
  }

  /** To four digits, as tables print it, so that studies worked by hand agree to their last. */
  private static double factor(double rangePerSigma) {
    return Math.round(1e4 / rangePerSigma) / 1e4;
  }

  private static double range(List<Double> values) {
    double least = values.stream().mapToDouble(Double::doubleValue).min().orElse(0);
    return values.stream().mapToDouble(Double::doubleValue).max().orElse(0) - least;
  }

  private static double mean(Stream<Double> values) {
    return values.mapToDouble(Double::doubleValue).average().orElse(0);
  }

  private List<Double> rowMeans() {
    return cells.stream().map(part -> mean(part.stream().flatMap(List::stream))).toList();
  }

  private List<Double> columnMeans() {
    List<Double> means = new ArrayList<>();
    for (int person = 0; person < appraisers.size(); person++) {
      int at = person;
      means.add(mean(cells.stream().flatMap(part -> part.get(at).stream())));
    }
    return means;
  }

  /**
   * One row of an analysis of variance.
   *
   * @param squares sum of squares
   * @param freedom degrees of freedom
   */
  public record Source(double squares, int freedom) {

    /** Mean square; zero where there is no freedom. */
    public double mean() {
      return freedom == 0 ? 0 : squares / freedom;
    }

    private Source and(Source other) {
      return new Source(squares + other.squares, freedom + other.freedom);
    }

    /** This mean square over another's. */
    public double over(Source other) {
      return mean() / other.mean();
    }

    /** How probable so large a ratio is when this source adds nothing; 0 to 1. */
    public double probability(Source other) {
      return freedom == 0 || other.squares == 0
          ? 1
          : 1 - new FDistribution(freedom, other.freedom).cumulativeProbability(over(other));
    }
  }

  /**
   * Scatter by analysis of variance.
   *
   * @param interaction whether some persons read some parts differently
   * @param error readings of one part by one person
   * @param pooled whether interaction does not show and was counted to the error
   * @param yardstick what persons and parts are tested against: interaction, or the pooled error
   */
  public record Analysis(
      Source people,
      Source parts,
      Source interaction,
      Source error,
      boolean pooled,
      Source yardstick,
      Scatter scatter) {

    /** All together. */
    public Source total() {
      return people.and(parts).and(interaction).and(error);
    }
  }

  /** An interaction less probable by chance than this is kept. Usual in such studies. */
  public static final double POOL_PROBABILITY = 0.25;

  /** Scatter by analysis of variance, the interaction pooled with the error where it is none. */
  public Analysis analysis() {
    double grand = mean(cells.stream().flatMap(List::stream).flatMap(List::stream));
    int p = parts.size();
    int a = appraisers.size();
    List<Double> rows = rowMeans();
    List<Double> columns = columnMeans();
    Source people = new Source(p * trials * squares(columns, grand), a - 1);
    Source part = new Source(a * trials * squares(rows, grand), p - 1);
    double within = 0;
    double crossed = 0;
    for (int row = 0; row < p; row++) {
      for (int column = 0; column < a; column++) {
        List<Double> cell = cells.get(row).get(column);
        double middle = mean(cell.stream());
        double own = middle - rows.get(row) - columns.get(column) + grand;
        within += squares(cell, middle);
        crossed += trials * own * own;
      }
    }
    Source interaction = new Source(crossed, (p - 1) * (a - 1));
    Source error = new Source(within, p * a * (trials - 1));
    boolean pooled = interaction.probability(error) > POOL_PROBABILITY;
    Source floor = pooled ? interaction.and(error) : error;
    Source yardstick = pooled ? floor : interaction;
    double both = pooled ? 0 : component(interaction, error, trials);
    double persons = a < 2 ? 0 : component(people, yardstick, p * trials);
    Scatter scatter =
        Scatter.of(
            Math.sqrt(floor.mean()),
            Math.sqrt(persons + both),
            Math.sqrt(component(part, yardstick, a * trials)));
    return new Analysis(people, part, interaction, error, pooled, yardstick, scatter);
  }

  /** A variance cannot be less than none. */
  private static double component(Source source, Source yardstick, int readings) {
    return Math.max(0, (source.mean() - yardstick.mean()) / readings);
  }

  private static double squares(List<Double> values, double about) {
    return values.stream().mapToDouble(value -> (value - about) * (value - about)).sum();
  }
}
