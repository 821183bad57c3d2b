package lodestep.sim;

import java.util.function.BooleanSupplier;
import java.util.function.LongConsumer;

/**
 * Runs rig and host in virtual time, in one thread: the rig moves on a millisecond at a time; when
 * a scan is due, what stands beside the rig (the ledger twin) is brought to the same time first,
 * then the scan runs. A scan that a fault has kept from running is not made up for.
 *
 * <p>What throws ends the run and is thrown on; nothing is swallowed.
 */
public final class VirtualRunner {

  private final VirtualRig rig;
  private final long scanPeriodNs;
  private LongConsumer hand = nowNs -> {};
  private LongConsumer beside = nowNs -> {};
  private LongConsumer scan = nowNs -> {};
  private long scanDueAtNs;

  /**
   * A runner whose first scan is due one period from now.
   *
   * @param scanPeriodNs a whole number of rig steps, &gt; 0
   */
  public VirtualRunner(VirtualRig rig, long scanPeriodNs) {
    if (scanPeriodNs <= 0 || scanPeriodNs % VirtualRig.STEP_NS != 0) {
      throw new IllegalArgumentException(
          "scan period must be whole milliseconds, not " + scanPeriodNs + " ns");
    }
    this.rig = rig;
    this.scanPeriodNs = scanPeriodNs;
    this.scanDueAtNs = rig.clock().nowNs() + scanPeriodNs;
  }

  /** Who acts at the bench each millisecond, before the rig moves: the virtual operator. */
  public VirtualRunner eachMillisecond(LongConsumer handAtNs) {
    hand = handAtNs;
    return this;
  }

  /** What is brought to the scan's time before each scan: the ledger twin. */
  public VirtualRunner beforeEachScan(LongConsumer besideAtNs) {
    beside = besideAtNs;
    return this;
  }

  /** The scan cycle. */
  public VirtualRunner eachScan(LongConsumer scanAtNs) {
    scan = scanAtNs;
    return this;
  }

  /** Runs one scan period: five milliseconds of the rig for a scan of 5 ms, then the scan. */
  public void runScan() {
    do {
      hand.accept(rig.clock().nowNs());
      rig.step();
    } while (rig.clock().nowNs() - scanDueAtNs < 0);
    scanDueAtNs += scanPeriodNs;
    long nowNs = rig.clock().nowNs();
    beside.accept(nowNs);
    if (!rig.hostPaused()) {
      scan.accept(nowNs);
    }
  }

  /** Runs for at least this long, to the end of a scan. */
  public void runFor(long forNs) {
    long untilNs = rig.clock().nowNs() + forNs;
    while (rig.clock().nowNs() - untilNs < 0) {
      runScan();
    }
  }

  /**
   * Runs until the condition holds after a scan.
   *
   * @return false if it does not within this much virtual time
   */
  public boolean runUntil(BooleanSupplier condition, long limitForNs) {
    long untilNs = rig.clock().nowNs() + limitForNs;
    while (!condition.getAsBoolean()) {
      if (rig.clock().nowNs() - untilNs >= 0) {
        return false;
      }
      runScan();
    }
    return true;
  }
}
