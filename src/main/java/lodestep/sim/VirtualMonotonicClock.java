package lodestep.sim;

import lodestep.port.MonotonicClock;

/** Virtual time: it stands still until it is moved. Confined to the rig's thread. */
public final class VirtualMonotonicClock implements MonotonicClock {

  private long nowNs;

  /** A clock that stands at this time. */
  public VirtualMonotonicClock(long startNs) {
    this.nowNs = startNs;
  }

  @Override
  public long nowNs() {
    return nowNs;
  }

  /**
   * Moves time forward.
   *
   * @throws IllegalArgumentException if that would be backwards
   */
  public void advance(long forNs) {
    if (forNs < 0) {
      throw new IllegalArgumentException("time does not go backwards: " + forNs + " ns");
    }
    nowNs += forNs;
  }
}
