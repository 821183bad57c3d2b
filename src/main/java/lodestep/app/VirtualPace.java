package lodestep.app;

import lodestep.config.Limits;
import lodestep.scan.CycleTimes;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualRig;

/**
 * Time for the control loop of a virtual rig that a person works at: the rig moves on with the
 * machine's time, or so many times as fast. What the machine is late by is never caught up with, so
 * that the rig does not rush. How late the machine was is kept, since the rig's own time does not
 * tell. Control thread only, but for {@link #nowNs} and {@link #times}.
 */
final class VirtualPace implements Pace {

  /** A machine that was held up longer than this has lost that time. */
  private static final long LATE_MAX_NS = 50_000_000L;

  /** As on a real rig, where nothing is fired in such a scan. */
  private static final long OVERRUN_NS = Limits.standard().scanLateFireWaitsNs();

  private final VirtualRig rig;
  private final VirtualLedger ledger;
  private final VirtualHands hands;
  private final Runnable step;
  private final Pace real;
  private final double speed;
  private long realFromNs;
  private long virtualFromNs;
  private volatile long nowNs;
  private volatile CycleTimes times = CycleTimes.NONE;

  /**
   * @param step moves the rig on by a millisecond
   * @param speed virtual seconds in a second, &gt; 0
   */
  VirtualPace(
      VirtualRig rig,
      VirtualLedger ledger,
      VirtualHands hands,
      Runnable step,
      Pace real,
      double speed) {
    this.rig = rig;
    this.ledger = ledger;
    this.hands = hands;
    this.step = step;
    this.real = real;
    this.speed = speed;
    this.realFromNs = real.nowNs();
    this.virtualFromNs = rig.clock().nowNs();
    this.nowNs = virtualFromNs;
  }

  /** How punctual the scans were by the machine's own clock. Any thread. */
  CycleTimes times() {
    return times;
  }

  @Override
  public long nowNs() {
    return nowNs;
  }

  @Override
  public void until(long atNs) {
    while (rig.clock().nowNs() - atNs < 0) {
      hands.step(rig.clock().nowNs());
      step.run();
    }
    ledger.advance(rig.clock().nowNs());
    nowNs = rig.clock().nowNs();
    long dueNs = realFromNs + (long) ((nowNs - virtualFromNs) / speed);
    boolean lost = real.nowNs() - dueNs > LATE_MAX_NS;
    real.until(dueNs);
    long lateNs = Math.max(0, real.nowNs() - dueNs);
    times = times.and(lateNs, lateNs > OVERRUN_NS);
    if (lost) {
      realFromNs = real.nowNs();
      virtualFromNs = nowNs;
    }
  }
}
