package lodestep.scan;

import lodestep.protocol.HeadFrame;

/**
 * How late the head's lines come, told by its clock against ours: lines that pile up on the way
 * look fresh when they arrive, but the head wrote them long ago. Any thread, immutable.
 *
 * <p>The line of a boot that has come soonest sets the measure; what another comes later than that
 * is its delay. The measure follows a head whose clock runs slow by up to half a per cent, so that
 * a ceramic resonator is no delay (its tolerance is common practice, no source). A delay that has
 * been there from the first line on, or grows more slowly than that, is not seen.
 *
 * @param bootId the head's run that the figures belong to, {@link #NO_BOOT} before any
 * @param soonestNs our time less the head's, for the line that came soonest; only differences count
 * @param asOfNs when the newest line came
 * @param delayNs how much later the newest line came than the soonest would have, &ge; 0
 */
record HeadTime(int bootId, long soonestNs, long asOfNs, long delayNs) {

  private static final int NO_BOOT = -1;

  /** One part in two hundred. */
  private static final long SLOW_CLOCK_PARTS = 200;

  private static final long NS_PER_MS = 1_000_000L;

  static final HeadTime UNKNOWN = new HeadTime(NO_BOOT, 0, 0, 0);

  /** What holds after this line, which came at this monotonic time. */
  HeadTime after(HeadFrame.Status line, long receivedAtNs) {
    // A head's clock in nanoseconds may overflow; differences of it do not.
    long differenceNs = receivedAtNs - line.clockMs() * NS_PER_MS;
    if (line.bootId() != bootId) {
      return new HeadTime(line.bootId(), differenceNs, receivedAtNs, 0);
    }
    long allowedNs = soonestNs + (receivedAtNs - asOfNs) / SLOW_CLOCK_PARTS;
    boolean sooner = differenceNs - allowedNs < 0;
    long nextNs = sooner ? differenceNs : allowedNs;
    return new HeadTime(bootId, nextNs, receivedAtNs, differenceNs - nextNs);
  }
}
