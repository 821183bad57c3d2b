package lodestep.port;

import java.util.List;
import java.util.stream.LongStream;

/**
 * An axis that begins and ends at round numbers, with ticks a round step apart: one, two or five
 * times a power of ten. Pure; any thread, immutable.
 *
 * @param step between ticks, &gt; 0
 * @param first of the first tick, in steps
 * @param last of the last tick, in steps; above the first
 */
public record RoundScale(double step, long first, long last) {

  /**
   * The tightest such axis over this range.
   *
   * @param low lowest value
   * @param high highest value; where it is the lowest too, the axis is one step long
   * @param stepsMax how many steps at most, &ge; 2
   * @throws IllegalArgumentException if the range is none
   */
  public static RoundScale over(double low, double high, int stepsMax) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(high >= low && Double.isFinite(high - low)) || stepsMax < 2) {
      throw new IllegalArgumentException("no axis from " + low + " to " + high);
    }
    double least = high > low ? (high - low) / stepsMax : Math.max(1e-9, Math.abs(high));
    double decade = Math.pow(10, Math.floor(Math.log10(least)));
    for (double each : new double[] {1, 2, 5, 10, 20, 50}) {
      double step = each * decade;
      // What is a hair beyond a tick belongs to it.
      long first = (long) Math.floor(low / step + 1e-9);
      long last = Math.max(first + 1, (long) Math.ceil(high / step - 1e-9));
      if (last - first <= stepsMax) {
        return new RoundScale(step, first, last);
      }
    }
    throw new IllegalStateException("no round axis from " + low + " to " + high);
  }

  /** Where it begins. */
  public double low() {
    return value(first);
  }

  /** Where it ends. */
  public double high() {
    return value(last);
  }

  /** Every tick, from the lowest to the highest. */
  public List<Double> ticks() {
    return LongStream.rangeClosed(first, last).mapToObj(this::value).toList();
  }

  /** Of so many steps; what a binary fraction leaves over is rounded away. */
  private double value(long steps) {
    return step >= 1 ? steps * step : steps / Math.rint(1 / step);
  }
}
