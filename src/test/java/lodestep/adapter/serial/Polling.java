package lodestep.adapter.serial;

import java.util.concurrent.locks.LockSupport;
import java.util.function.BooleanSupplier;

/** Waits for what other threads and processes do: looks until it is so, within a bound. */
public final class Polling {

  private static final int LOOKS_MAX = 30_000;
  private static final long BETWEEN_NS = 2_000_000L;

  private Polling() {}

  /**
   * Returns as soon as the condition holds. The bound of a minute and more is for a hung program
   * only; no test depends on how soon it is.
   *
   * @param what completes the sentence "waited in vain for ..."
   */
  public static void until(String what, BooleanSupplier condition) {
    for (int look = 0; look < LOOKS_MAX; look++) {
      if (condition.getAsBoolean()) {
        return;
      }
      LockSupport.parkNanos(BETWEEN_NS);
    }
    throw new AssertionError("waited in vain for " + what);
  }
}
