package lodestep.dial;

import java.util.List;
import java.util.Optional;

/**
 * What one magnet teaches of a source whose field nothing measures: how much of the field that is
 * reckoned acts on magnets of this kind. It takes up what rig.toml and gauge leave open of the
 * source, and the lot's own coercivity. Pure.
 */
public final class Lessons {

  /** Where less is lost, or more, a point says little. */
  private static final double LOST_MIN = 0.03;

  private static final double LOST_MAX = 0.9;

  /** A ratio outside this is a fault and nothing to learn. */
  private static final double RATIO_MAX = 1.6;

  /** What a later magnet counts against those before it. */
  private static final double NEWEST_WEIGHT = 0.5;

  private Lessons() {}

  /**
   * What stands after an attempt.
   *
   * @param of what is learned of
   * @param ratio field that acts over field reckoned, by all magnets so far
   */
  public record Learned(String of, double ratio) {}

  /** What this attempt teaches; empty if its source keeps nothing or no point tells. */
  public static Optional<Learned> of(Dial dial) {
    Optional<String> of = dial.work().knockDown().lesson();
    List<Progress.Point> points = dial.progress().points();
    if (of.isEmpty() || points.size() < 2) {
      return Optional.empty();
    }
    double full = points.get(0).levelTesla();
    double sum = 0;
    int telling = 0;
    for (Progress.Point point : points.subList(1, points.size())) {
      double lost = 1 - point.levelTesla() / full;
      if (lost > LOST_MIN && lost < LOST_MAX && point.fieldAperM() > 0) {
        double nominal = dial.work().curve().fieldFor(point.levelTesla() / full);
        sum += Math.log(nominal / point.fieldAperM());
        telling++;
      }
    }
    if (telling == 0) {
      return Optional.empty();
    }
    boolean taught = dial.work().knockDown().taught(dial.memory());
    double factor = Math.exp(sum / telling * (taught ? NEWEST_WEIGHT : 1));
    double ratio = dial.memory().ratio(of.get()) * factor;
    return ratio < RATIO_MAX && ratio > 1 / RATIO_MAX
        ? Optional.of(new Learned(of.get(), ratio))
        : Optional.empty();
  }
}
