package lodestep.adapter.clock;

import lodestep.port.MonotonicClock;

/** The machine's monotonic clock. Any thread. */
public final class SystemMonotonicClock implements MonotonicClock {
  @Override
  public long nowNs() {
    return System.nanoTime();
  }
}
