package lodestep.scan;

/**
 * How punctual the scans were. Any thread, immutable.
 *
 * @param scans how many there were
 * @param lastLateNs how much later than due the last one came, in nanoseconds, &ge; 0
 * @param worstLateNs the same of the worst one
 * @param overruns how many came too late to fire in
 */
public record CycleTimes(long scans, long lastLateNs, long worstLateNs, long overruns) {

  /** Before the first scan. */
  public static final CycleTimes NONE = new CycleTimes(0, 0, 0, 0);

  /**
   * With one scan more.
   *
   * @param lateNs how much later than due it came, in nanoseconds, &ge; 0
   * @param overrun whether that was too late to fire in
   */
  public CycleTimes and(long lateNs, boolean overrun) {
    return new CycleTimes(
        scans + 1, lateNs, Math.max(worstLateNs, lateNs), overrun ? overruns + 1 : overruns);
  }
}
