package lodestep.measure;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import java.util.function.Function;
import lodestep.quantity.FluxDensity;
import org.hipparchus.distribution.continuous.TDistribution;

/**
 * The same magnets read in the nest and with a hand gauge, from which the relation of the two is
 * found, or that a ratio alone does not tell it. Any thread, immutable.
 *
 * <p>Both gauges err in proportion to the level (how far the element is from the face), so each
 * magnet's ratio counts alike. An offset shows as ratios that go with one over the level, a bend as
 * ratios that go with the level; each is a straight line through the ratios whose slope is tested
 * with Student's t (Montgomery, Peck, Vining, Introduction to Linear Regression Analysis, 2.3, from
 * memory). One magnet unlike the others is told by its studentised residual.
 *
 * @param pairs in the order they were taken
 */
public record PairedReadings(List<Pair> pairs) {

  /** Fewer magnets say nothing of how well the ratio is known. */
  public static final int MAGNETS_MIN = 3;

  /** From so many on, an offset and one magnet unlike the others can be told. */
  public static final int MAGNETS_TESTED = 5;

  /** Levels nearer to one another do not tell an offset from a ratio. */
  private static final double SPAN_MIN = 1.3;

  /** How often a good relation is refused by each of the two tests of its form. */
  private static final double TEST_PROBABILITY = 0.01;

  /** A ratio known no better is no relation; common practice, no source. */
  private static final double RELATIVE_UNCERTAINTY_MAX = 0.03;

  /** How far beyond the levels read the ratio is trusted; common practice, no source. */
  private static final double BEYOND = 0.1;

  /** One magnet read by both. */
  public record Pair(String magnet, FluxDensity nest, FluxDensity hand) {

    /**
     * @throws IllegalArgumentException with one sentence, if one of them reads nothing
     */
    public Pair {
      if (nest.tesla() == 0 || hand.tesla() == 0) {
        throw new IllegalArgumentException(magnet + " reads nothing; pair charged magnets");
      }
    }
  }

  /** What the pairs say. */
  public sealed interface Outcome {

    /** A relation; what could not be tested stands in {@code untested}, else it is empty. */
    record Found(HandGaugeRelation relation, String untested) implements Outcome {}

    /** None, and why, and what to do about it. */
    record None(String why) implements Outcome {}

    /** One arm for each variant. */
    default <R> R match(Function<Found, R> found, Function<None, R> none) {
      return this instanceof Found f ? found.apply(f) : none.apply((None) this);
    }
  }

  /** One magnet with the mean of its pairs, without sign. */
  public record Magnet(String name, double nestTesla, double handTesla) {

    /** Hand over nest. */
    public double ratio() {
      return handTesla / nestTesla;
    }
  }

  public PairedReadings {
    pairs = List.copyOf(pairs);
  }

  /** Each magnet once, in the order they were first read. */
  public List<Magnet> magnets() {
    Map<String, List<Pair>> found = new LinkedHashMap<>();
    pairs.forEach(
        pair -> found.computeIfAbsent(pair.magnet(), name -> new ArrayList<>()).add(pair));
    return found.entrySet().stream()
        .map(
            each ->
                new Magnet(
                    each.getKey(),
                    mean(each.getValue(), Pair::nest),
                    mean(each.getValue(), Pair::hand)))
        .toList();
  }

  private static double mean(List<Pair> pairs, Function<Pair, FluxDensity> which) {
    return pairs.stream()
        .mapToDouble(pair -> Math.abs(which.apply(pair).tesla()))
        .average()
        .orElseThrow();
  }

  /**
   * The relation, if there is one.
   *
   * @param handStep the hand gauge's last digit, &gt; 0
   */
  public Outcome relation(FluxDensity handStep) {
    List<Magnet> magnets = magnets();
    int count = magnets.size();
    if (count < MAGNETS_MIN) {
      return new Outcome.None(
          String.format(
              Locale.ROOT,
              "%d %s read by both gauges; pair %d or more of this shape, of different levels",
              count,
              count == 1 ? "magnet was" : "magnets were",
              MAGNETS_MIN));
    }
    return unfit(magnets).<Outcome>map(Outcome.None::new).orElseGet(() -> found(magnets, handStep));
  }

  /** One magnet read wrongly looks like an offset, and an offset like a magnet read wrongly. */
  private static Optional<String> unfit(List<Magnet> magnets) {
    Optional<Magnet> unlike = unlike(magnets);
    Optional<String> form = notARatio(magnets);
    if (unlike.isEmpty()) {
      return form;
    }
    List<Magnet> others = without(magnets, unlike.get());
    return form.isPresent() && notARatio(others).isPresent()
        ? form
        : Optional.of(unlikeWords(unlike.get(), meanRatio(others)));
  }

  private static List<Magnet> without(List<Magnet> magnets, Magnet one) {
    return magnets.stream().filter(other -> !other.name().equals(one.name())).toList();
  }

  private static String unlikeWords(Magnet magnet, double others) {
    return String.format(
        Locale.ROOT,
        "%s does not go with the others: its ratio is %.4f and theirs %.4f; read it again with"
            + " both gauges, or leave it out and say so",
        magnet.name(),
        magnet.ratio(),
        others);
  }

  private static Outcome found(List<Magnet> magnets, FluxDensity handStep) {
    double ratio = meanRatio(magnets);
    int count = magnets.size();
    double deviation = Math.sqrt(squares(magnets, ratio) / (count - 1));
    double least = magnets.stream().mapToDouble(Magnet::handTesla).min().orElseThrow();
    double most = magnets.stream().mapToDouble(Magnet::handTesla).max().orElseThrow();
    double step = ratio * handStep.tesla() / least / Math.sqrt(12);
    StandardUncertainty uncertainty =
        StandardUncertainty.combined(
            List.of(
                new StandardUncertainty(deviation / Math.sqrt(count), count - 1),
                StandardUncertainty.known(step / Math.sqrt(count))));
    double relative = uncertainty.value() / ratio;
    if (relative > RELATIVE_UNCERTAINTY_MAX) {
      return new Outcome.None(
          String.format(
              Locale.ROOT,
              "the ratio is known to %.1f %% only, %.1f %% being the most allowed; hold the hand"
                  + " gauge in a rest that fixes its distance, and pair more magnets",
              100 * relative,
              100 * RELATIVE_UNCERTAINTY_MAX));
    }
    HandGaugeRelation relation =
        new HandGaugeRelation(
            ratio,
            uncertainty,
            deviation / ratio,
            new FluxDensity(least * (1 - BEYOND)),
            new FluxDensity(most * (1 + BEYOND)));
    return new Outcome.Found(relation, untested(magnets));
  }

  private static String untested(List<Magnet> magnets) {
    if (magnets.size() < MAGNETS_TESTED) {
      return "with fewer than "
          + MAGNETS_TESTED
          + " magnets it is not tested whether a ratio alone tells the relation";
    }
    return span(magnets) < SPAN_MIN
        ? "the magnets' levels are too near one another to test whether a ratio alone tells the"
            + " relation; pair a weaker or a stronger one too"
        : "";
  }

  private static double span(List<Magnet> magnets) {
    double least = magnets.stream().mapToDouble(Magnet::nestTesla).min().orElseThrow();
    return magnets.stream().mapToDouble(Magnet::nestTesla).max().orElseThrow() / least;
  }

  private static double meanRatio(List<Magnet> magnets) {
    return magnets.stream().mapToDouble(Magnet::ratio).average().orElseThrow();
  }

  /** The magnet that goes least with the others, judged by these; none if all go together. */
  private static Optional<Magnet> unlike(List<Magnet> magnets) {
    int count = magnets.size();
    if (count < MAGNETS_TESTED) {
      return Optional.empty();
    }
    // Each of them is tried, so that each must be so much less probable.
    double limit =
        new TDistribution(count - 2).inverseCumulativeProbability(1 - TEST_PROBABILITY / 2 / count);
    return magnets.stream()
        .filter(magnet -> apart(magnet, without(magnets, magnet)) > limit)
        .max(Comparator.comparingDouble(magnet -> apart(magnet, without(magnets, magnet))));
  }

  /** How many standard deviations a ratio lies from where the others would have it. */
  private static double apart(Magnet magnet, List<Magnet> others) {
    double mean = meanRatio(others);
    double squares = squares(others, mean);
    int count = others.size();
    double deviation = Math.sqrt(squares / (count - 1) * (count + 1) / count);
    double distance = Math.abs(magnet.ratio() - mean);
    return distance == 0 ? 0 : distance / deviation;
  }

  private static double squares(List<Magnet> magnets, double about) {
    return magnets.stream().mapToDouble(m -> (m.ratio() - about) * (m.ratio() - about)).sum();
  }

  /** An offset or a bend, whichever shows more clearly. */
  private static Optional<String> notARatio(List<Magnet> magnets) {
    if (!untested(magnets).isEmpty()) {
      return Optional.empty();
    }
    Slope offset = Slope.of(magnets, nest -> 1 / nest);
    Slope bend = Slope.of(magnets, nest -> nest);
    if (Math.min(offset.probability(), bend.probability()) > TEST_PROBABILITY) {
      return Optional.empty();
    }
    return Optional.of(
        offset.probability() <= bend.probability()
            ? String.format(
                Locale.ROOT,
                "a ratio alone does not tell it: the hand gauge also reads %+.1f G ± %.1f G too"
                    + " much at every level; zero it away from all magnets and pair them again",
                new FluxDensity(offset.value()).gauss(),
                new FluxDensity(offset.limit()).gauss())
            : String.format(
                Locale.ROOT,
                "a ratio alone does not tell it: the ratio goes from %.4f at %.0f G to %.4f at"
                    + " %.0f G; have the hand gauge calibrated over its range, or pair magnets of"
                    + " one level only",
                bend.ratioAt(magnets, true),
                bend.levelGauss(magnets, true),
                bend.ratioAt(magnets, false),
                bend.levelGauss(magnets, false)));
  }

  /** How the ratios go with something: their straight line. */
  private record Slope(double value, double uncertainty, int freedom, double ratioAtNone) {

    private static Slope of(List<Magnet> magnets, DoubleUnaryOperator against) {
      int count = magnets.size();
      double meanX =
          magnets.stream()
              .mapToDouble(m -> against.applyAsDouble(m.nestTesla()))
              .average()
              .orElseThrow();
      double meanY = meanRatio(magnets);
      double sxx = 0;
      double sxy = 0;
      for (Magnet magnet : magnets) {
        double x = against.applyAsDouble(magnet.nestTesla()) - meanX;
        sxx += x * x;
        sxy += x * (magnet.ratio() - meanY);
      }
      double slope = sxy / sxx;
      double squares = 0;
      for (Magnet magnet : magnets) {
        double x = against.applyAsDouble(magnet.nestTesla()) - meanX;
        double rest = magnet.ratio() - meanY - slope * x;
        squares += rest * rest;
      }
      int freedom = count - 2;
      return new Slope(slope, Math.sqrt(squares / freedom / sxx), freedom, meanY - slope * meanX);
    }

    /** How probable so steep a slope is where there is none. */
    double probability() {
      if (uncertainty == 0) {
        return value == 0 ? 1 : 0;
      }
      return 2 * new TDistribution(freedom).cumulativeProbability(-Math.abs(value / uncertainty));
    }

    /** Half width that covers it with 95 per cent. */
    double limit() {
      return UncertaintyBudget.coverage(0.95, freedom) * uncertainty;
    }

    double ratioAt(List<Magnet> magnets, boolean least) {
      return ratioAtNone + value * level(magnets, least);
    }

    double levelGauss(List<Magnet> magnets, boolean least) {
      return new FluxDensity(level(magnets, least)).gauss();
    }

    private static double level(List<Magnet> magnets, boolean least) {
      return least
          ? magnets.stream().mapToDouble(Magnet::nestTesla).min().orElseThrow()
          : magnets.stream().mapToDouble(Magnet::nestTesla).max().orElseThrow();
    }
  }
}
