package lodestep.app;

import java.util.concurrent.locks.LockSupport;
import lodestep.port.MonotonicClock;

/** The machine's own time. Any thread. */
record RealPace(MonotonicClock clock) implements Pace {

  @Override
  public long nowNs() {
    return clock.nowNs();
  }

  /** An interrupt cannot shorten it: parking may return early, so it looks again. */
  @Override
  public void until(long atNs) {
    long leftNs = atNs - clock.nowNs();
    while (leftNs > 0) {
      LockSupport.parkNanos(this, leftNs);
      leftNs = atNs - clock.nowNs();
    }
  }
}
