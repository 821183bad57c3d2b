package lodestep.scan;

import java.util.concurrent.atomic.AtomicLongArray;

/**
 * How often scans were late by how much, in classes that double. One thread adds, any thread reads.
 *
 * <p>Class 0 holds scans late by less than a microsecond, class n those late by 2<sup>n-1</sup> to
 * 2<sup>n</sup> microseconds, the last class everything beyond.
 */
public final class LatenessHistogram {

  /** The last class begins at about four seconds. */
  public static final int CLASSES = 24;

  private static final long NS_PER_MICRO = 1_000L;

  private final AtomicLongArray counts = new AtomicLongArray(CLASSES);

  void add(long lateNs) {
    int index = Math.min(CLASSES - 1, Long.SIZE - Long.numberOfLeadingZeros(lateNs / NS_PER_MICRO));
    // One writer, so a plain read and an ordered write lose nothing and need no locked cycle.
    counts.lazySet(index, counts.get(index) + 1);
  }

  /** How many scans fell into the class. */
  public long count(int index) {
    return counts.get(index);
  }

  /** Lateness below which the scans of this class lie, in nanoseconds. */
  public static long belowNs(int index) {
    return index == CLASSES - 1 ? Long.MAX_VALUE : NS_PER_MICRO << index;
  }
}
