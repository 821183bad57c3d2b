package lodestep.app.remote;

import lodestep.port.MonotonicClock;

/** Virtual time that one thread moves and the threads of a serial link read. */
final class SteppedClock implements MonotonicClock {

  private volatile long nowNs;

  SteppedClock(long startNs) {
    this.nowNs = startNs;
  }

  @Override
  public long nowNs() {
    return nowNs;
  }

  /** The moving thread only; never backwards. */
  void moveTo(long timeNs) {
    if (timeNs - nowNs < 0) {
      throw new IllegalArgumentException(
          "time does not go backwards: " + timeNs + " after " + nowNs);
    }
    nowNs = timeNs;
  }
}
