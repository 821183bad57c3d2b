package lodestep.dial;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.ToDoubleFunction;

/**
 * Whether the magnets of a kind have wandered together: rig, gauge or lot are not what they were.
 * Pure.
 *
 * <p>Source: exponentially weighted moving average of standardised surprises with limits of three
 * standard deviations, as in the NIST/SEMATECH e-Handbook, 6.3.2.4.
 */
final class Drift {

  private static final double WEIGHT = 0.3;
  private static final double LIMIT = 3 * Math.sqrt(WEIGHT / (2 - WEIGHT));

  /** Before so many magnets the average says little. */
  private static final int MAGNETS_MIN = 6;

  /** One odd magnet makes no drift. */
  private static final double SURPRISE_MAX = 3;

  private Drift() {}

  /**
   * The remark, if there is one to make.
   *
   * @param surprises of the magnets of one kind, the newest last
   */
  static Optional<String> of(List<Surprise> surprises) {
    double full = average(surprises, Surprise::full);
    double field = average(surprises, Surprise::field);
    if (surprises.size() < MAGNETS_MIN || Math.max(Math.abs(full), Math.abs(field)) <= LIMIT) {
      return Optional.empty();
    }
    boolean byGauge = Math.abs(full) >= Math.abs(field);
    String how =
        byGauge
            ? full < 0 ? "read less and less fully charged" : "read more and more fully charged"
            : field < 0 ? "need less and less field" : "need more and more field";
    return Optional.of(
        String.format(
            Locale.ROOT,
            "the last magnets of its kind %s; %s",
            how,
            byGauge
                ? "read a reference magnet, and see that the nest is clean"
                : "see to the coil"));
  }

  private static double average(List<Surprise> surprises, ToDoubleFunction<Surprise> of) {
    double average = 0;
    for (Surprise surprise : surprises) {
      double bounded = Math.max(-SURPRISE_MAX, Math.min(SURPRISE_MAX, of.applyAsDouble(surprise)));
      average += WEIGHT * (bounded - average);
    }
    return average;
  }
}
