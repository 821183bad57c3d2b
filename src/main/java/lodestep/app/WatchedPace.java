package lodestep.app;

/**
 * The machine's time, with a note of how late each waiting ended. The loop's thread waits; any
 * thread may look.
 */
final class WatchedPace implements Pace {

  private final Pace pace;
  private final long[] lateNs;
  private volatile int count;

  /**
   * @param room how many wakes are kept; later ones are not
   */
  WatchedPace(Pace pace, int room) {
    this.pace = pace;
    this.lateNs = new long[room];
  }

  @Override
  public long nowNs() {
    return pace.nowNs();
  }

  @Override
  public void until(long atNs) {
    pace.until(atNs);
    int next = count;
    if (next < lateNs.length) {
      lateNs[next] = Math.max(0, pace.nowNs() - atNs);
      // The ordered write makes the sample visible with its count; one thread writes.
      count = next + 1;
    }
  }

  /** How many wakes have been kept. */
  int count() {
    return count;
  }

  /** The wakes from one count to another. */
  long[] between(int from, int to) {
    return java.util.Arrays.copyOfRange(lateNs, from, to);
  }
}
