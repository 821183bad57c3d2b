package lodestep.paper;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * Whether a pickup that came back has changed: each pole's reading now against the one on record,
 * at equal temperature, with both uncertainties, the placement and what time alone takes counted.
 * Any thread, immutable.
 *
 * <p>The relative change of a pole is normally distributed about what was read, with nothing known
 * beforehand. Its standard uncertainty is the root of the sum of squares of both readings', the
 * placement's twice, the temperature coefficient's and what is common to all poles (JCGM 100:2008,
 * 5.1.2). Time takes between nothing and twice what is expected, evenly (4.3.7 there).
 *
 * @param poles in the order of the strings, at least one
 * @param doubts how well each part is known
 * @param ageing relative loss that time alone is expected to have taken, &ge; 0
 * @param counts the smallest relative change that counts as one, &gt; 0
 */
public record ReturnCheck(List<Pole> poles, Doubts doubts, double ageing, double counts) {

  /** What a verdict must be at least as probable as; below it the answer is "cannot tell". */
  static final double SURE = 0.95;

  private static final double REFERENCE_DEG_C = 20;

  /**
   * A reading.
   *
   * @param tesla signed
   * @param u standard uncertainty in tesla, placement not counted
   * @param degC of the gauge beside the magnet
   */
  public record Reading(double tesla, double u, double degC) {}

  /** A pole, then and now. */
  public record Pole(long pole, Reading then, Reading now) {}

  /**
   * What is doubtful beside the readings, relative.
   *
   * @param placement standard uncertainty of one placing
   * @param common standard uncertainty common to all poles: the gauge between then and now
   * @param perKelvin change of a reading with temperature
   * @param perKelvinU standard uncertainty of that
   */
  public record Doubts(double placement, double common, double perKelvin, double perKelvinU) {}

  /** How probable each answer is; together one. */
  public record Odds(double unchanged, double lost, double gained) {}

  /**
   * A relative change at equal temperature.
   *
   * @param pole which; 0 for the mean of all
   * @param change for example −0.04 when 4 per cent were lost
   * @param u its standard uncertainty
   * @param odds of what it means, ageing counted
   */
  public record Change(long pole, double change, double u, Odds odds) {}

  /** What it comes to. */
  public enum Verdict {
    UNCHANGED("unchanged"),
    LOST("lost"),
    GAINED("gained"),
    CANNOT_TELL("cannot tell");

    private final String word;

    Verdict(String word) {
      this.word = word;
    }

    /** As it stands on record. */
    public String word() {
      return word;
    }
  }

  /**
   * The answer.
   *
   * @param poles each pole's change
   * @param mean of all poles
   * @param decided the change that decided: the mean, or one pole
   * @param probability of the verdict; of the likeliest answer when it cannot be told
   */
  public record Result(
      List<Change> poles, Change mean, Change decided, Verdict verdict, double probability) {
    public Result {
      poles = List.copyOf(poles);
    }
  }

  /**
   * @throws IllegalArgumentException if a figure is out of range, or a reading then was nought
   */
  public ReturnCheck {
    poles = List.copyOf(poles);
    // Negated comparisons on purpose: they also reject NaN.
    if (poles.isEmpty() || !(ageing >= 0 && ageing < 1) || !(counts > 0 && counts < 1)) {
      throw new IllegalArgumentException(
          "a return check needs a pole, an ageing and a change that counts");
    }
    for (Pole pole : poles) {
      if (!(Math.abs(pole.then().tesla()) > 0) || !Double.isFinite(pole.now().tesla())) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "pole %d read nothing then: a relative change has no meaning",
                pole.pole()));
      }
    }
  }

  /** The answer; pure. */
  public Result result() {
    List<Change> changes = new ArrayList<>();
    double sum = 0;
    double own = 0;
    for (Pole pole : poles) {
      double change = change(pole);
      double u = own(pole);
      sum += change;
      own += u * u;
      changes.add(judged(pole.pole(), change, Math.hypot(u, doubts.common())));
    }
    int count = poles.size();
    Change mean = judged(0, sum / count, Math.hypot(Math.sqrt(own) / count, doubts.common()));
    return verdict(changes, mean);
  }

  private Result verdict(List<Change> changes, Change mean) {
    // One pole of several is that far out by chance the oftener, the more there are (Bonferroni).
    double sure = 1 - (1 - SURE) / changes.size();
    List<Change> asked = new ArrayList<>(List.of(mean));
    asked.addAll(changes);
    for (Change change : asked) {
      double least = change.pole() == 0 ? SURE : sure;
      if (change.odds().lost() >= least) {
        return new Result(changes, mean, change, Verdict.LOST, change.odds().lost());
      }
      if (change.odds().gained() >= least) {
        return new Result(changes, mean, change, Verdict.GAINED, change.odds().gained());
      }
    }
    boolean none = changes.stream().allMatch(change -> change.odds().unchanged() >= 0.5);
    double unchanged = mean.odds().unchanged();
    if (none && unchanged >= SURE) {
      return new Result(changes, mean, mean, Verdict.UNCHANGED, unchanged);
    }
    double likeliest = Math.max(unchanged, Math.max(mean.odds().lost(), mean.odds().gained()));
    return new Result(changes, mean, mean, Verdict.CANNOT_TELL, likeliest);
  }

  private double change(Pole pole) {
    return at20(pole.now()) / at20(pole.then()) - 1;
  }

  private double at20(Reading reading) {
    return reading.tesla() / (1 + doubts.perKelvin() * (reading.degC() - REFERENCE_DEG_C));
  }

  /** Of one pole, without what is common to all. */
  private double own(Pole pole) {
    double ratio = at20(pole.now()) / at20(pole.then());
    double then = pole.then().u() / Math.abs(pole.then().tesla());
    double now = pole.now().u() / Math.abs(pole.then().tesla());
    double warmth = doubts.perKelvinU() * (pole.now().degC() - pole.then().degC());
    double placed = doubts.placement() * Math.hypot(1, ratio);
    return Math.sqrt(ratio * ratio * then * then + now * now + warmth * warmth + placed * placed);
  }

  private Change judged(long pole, double change, double u) {
    double spread = Math.hypot(u, ageing / Math.sqrt(3));
    // What is left when the expected ageing is taken away.
    double left = change + ageing;
    double lost;
    double gained;
    if (spread > 0) {
      NormalDistribution normal = new NormalDistribution(left, spread);
      lost = normal.cumulativeProbability(-counts);
      gained = 1 - normal.cumulativeProbability(counts);
    } else {
      lost = left < -counts ? 1 : 0;
      gained = left > counts ? 1 : 0;
    }
    return new Change(pole, change, u, new Odds(1 - lost - gained, lost, gained));
  }
}
