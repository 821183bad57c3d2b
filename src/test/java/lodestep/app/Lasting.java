package lodestep.app;

import java.time.Duration;
import java.util.concurrent.locks.LockSupport;

/** Lets a measurement last; for figures alone, where nothing is waited for. */
final class Lasting {

  private Lasting() {}

  static void forSeconds(int seconds) {
    long untilNs = System.nanoTime() + Duration.ofSeconds(seconds).toNanos();
    for (long left = seconds; left > 0; left = untilNs - System.nanoTime()) {
      LockSupport.parkNanos(Math.max(1, left));
    }
  }
}
