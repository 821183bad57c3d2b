package lodestep.interlock;

import lodestep.port.TripCause;

/**
 * Whether the head's clock goes with the computer's: tokens, windows and the permit's time-out are
 * timed by it. A head whose clock goes slow looks like lines that come ever later, and is told so;
 * one that goes fast shows in lines that come ever sooner after the time that stands in them.
 *
 * @param bootId the head's run that the figures are of, {@link #NO_BOOT} before any
 * @param beganNs when the present window began
 * @param soonestNs our time less the head's, for the line of this window that came soonest
 * @param beforeNs the same of the window before
 * @param compared whether there was a window before
 * @param off whether the last window was so much sooner than the one before
 */
record ClockWatch(
    int bootId, long beganNs, long soonestNs, long beforeNs, boolean compared, boolean off) {

  private static final int NO_BOOT = -1;
  private static final long NS_PER_MS = 1_000_000L;

  static final ClockWatch POWER_ON = new ClockWatch(NO_BOOT, 0, 0, 0, false, false);

  static final long WINDOW_NS = 10_000_000_000L;

  /** Two per cent of a window: no quartz, and no resonator, is off by so much. */
  static final long FAST_NS = WINDOW_NS / 50;

  ClockWatch step(Seen seen) {
    if (!seen.news()) {
      return this;
    }
    long receivedAtNs = seen.nowNs() - seen.headAgeNs();
    // Both may have any beginning, and may overflow; differences do not.
    long differenceNs = receivedAtNs - seen.head().clockMs() * NS_PER_MS;
    if (seen.head().bootId() != bootId) {
      return new ClockWatch(
          seen.head().bootId(), receivedAtNs, differenceNs, differenceNs, false, false);
    }
    long soonest = differenceNs - soonestNs < 0 ? differenceNs : soonestNs;
    if (receivedAtNs - beganNs < WINDOW_NS) {
      return soonest == soonestNs
          ? this
          : new ClockWatch(bootId, beganNs, soonest, beforeNs, compared, off);
    }
    boolean fast = compared && beforeNs - soonest > FAST_NS;
    return new ClockWatch(bootId, receivedAtNs, differenceNs, soonest, true, fast);
  }

  long causes() {
    return Causes.when(off, TripCause.HEAD_CLOCK_FAST);
  }
}
