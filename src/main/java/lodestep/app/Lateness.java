package lodestep.app;

import java.util.Arrays;
import java.util.Locale;

/**
 * How late a loop woke, in nanoseconds. Immutable.
 *
 * @param p50Ns half of the wakes were no later
 * @param p99Ns 99 of 100
 * @param p999Ns 999 of 1000
 */
record Lateness(long p50Ns, long p99Ns, long p999Ns, long worstNs) {

  private static final double NS_PER_MS = 1e6;

  /**
   * Of these wakes, in any order.
   *
   * @throws IllegalArgumentException if there are none
   */
  static Lateness of(long[] lateNs) {
    if (lateNs.length == 0) {
      throw new IllegalArgumentException("the loop has not woken once");
    }
    long[] sorted = lateNs.clone();
    Arrays.sort(sorted);
    int count = sorted.length;
    return new Lateness(
        sorted[(int) (count * 50L / 100)],
        sorted[(int) (count * 99L / 100)],
        sorted[(int) (count * 999L / 1000)],
        sorted[count - 1]);
  }

  /** The three quantiles in milliseconds. */
  String written() {
    return String.format(
        Locale.ROOT,
        "%.2f / %.2f / %.2f ms",
        p50Ns / NS_PER_MS,
        p99Ns / NS_PER_MS,
        p999Ns / NS_PER_MS);
  }

  /** The worst in milliseconds. */
  String worstWritten() {
    return String.format(Locale.ROOT, "worst %.2f ms", worstNs / NS_PER_MS);
  }
}
