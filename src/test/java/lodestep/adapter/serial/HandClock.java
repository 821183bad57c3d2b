package lodestep.adapter.serial;

import java.util.concurrent.atomic.AtomicLong;
import lodestep.port.MonotonicClock;

/** A clock that stands until the test moves it. Any thread. */
final class HandClock implements MonotonicClock {

  private final AtomicLong now = new AtomicLong(5_000_000_000L);

  @Override
  public long nowNs() {
    return now.get();
  }

  void advanceMs(long forMs) {
    now.addAndGet(forMs * 1_000_000L);
  }
}
