package lodestep.dial;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import lodestep.measure.EwmaChart;

/**
 * Whether the magnets of a kind have wandered together: rig, gauge or lot are not what they were.
 * Pure.
 *
 * <p>By {@link EwmaChart} of the surprises.
 */
final class Drift {

  /** Of surprises, which are told in standard deviations. */
  private static final EwmaChart CHART = new EwmaChart(0, 1, EwmaChart.WEIGHT);

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
    if (surprises.size() < MAGNETS_MIN) {
      return Optional.empty();
    }
    double full = average(surprises, Surprise::full);
    double field = average(surprises, Surprise::field);
    if (Math.max(Math.abs(full), Math.abs(field)) <= CHART.upper()) {
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
    List<Double> means =
        CHART.means(
            surprises.stream()
                .map(of::applyAsDouble)
                .map(sigmas -> Math.max(-SURPRISE_MAX, Math.min(SURPRISE_MAX, sigmas)))
                .toList());
    return means.get(means.size() - 1);
  }
}
