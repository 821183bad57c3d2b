package lodestep.panel;

import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;

/**
 * Work that takes a core for seconds, one piece at a time: the other core is the rig's. Whoever
 * asks meanwhile waits for the one in work, so that a second press gets its answer. Any thread.
 */
final class InTurn {

  /** Each one that waits holds one of the dozen places that {@link Guard} gives. */
  static final int WAITING_MAX = 3;

  private final Semaphore places = new Semaphore(1 + WAITING_MAX);
  private final Semaphore turn = new Semaphore(1, true);
  private final long patienceMs;

  /**
   * @param patienceMs after so long a wait for its turn an asking is refused
   */
  InTurn(long patienceMs) {
    this.patienceMs = patienceMs;
  }

  /**
   * What comes of this work, done in its turn.
   *
   * @throws Refused if too many wait already, or its turn does not come
   */
  <T> T of(Supplier<T> work) {
    if (!places.tryAcquire()) {
      throw new Refused(
          503, "busy", WAITING_MAX + " others wait for an answer already; ask again in a minute");
    }
    try {
      if (!turn.tryAcquire(patienceMs, TimeUnit.MILLISECONDS)) {
        throw new Refused(
            503,
            "busy",
            "the answer that was asked before is not worked out yet; ask again in a minute");
      }
      try {
        return work.get();
      } finally {
        turn.release();
      }
    } catch (InterruptedException ended) {
      Thread.currentThread().interrupt();
      throw new Refused(503, "busy", "the program is ending; ask again when it runs");
    } finally {
      places.release();
    }
  }

  /** How many wait for their turn. */
  int waiting() {
    return turn.getQueueLength();
  }
}
