package lodestep.app;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.LongConsumer;

/**
 * Time that moves only when it is waited for; what else happens then, a test says. One thread
 * waits, any may look at the time.
 */
final class HandPace implements Pace {

  private final List<Long> waits = new ArrayList<>();
  private LongConsumer meanwhile = nowNs -> {};
  private final AtomicLong now;

  HandPace(long startNs) {
    this.now = new AtomicLong(startNs);
  }

  /** What happens at each waiting, once time has been moved. */
  HandPace meanwhile(LongConsumer act) {
    meanwhile = act;
    return this;
  }

  /** Lets time pass unseen, as when a scan takes long. */
  void pass(long forNs) {
    now.addAndGet(forNs);
  }

  /** Every time that was waited for. */
  List<Long> waits() {
    return List.copyOf(waits);
  }

  @Override
  public long nowNs() {
    return now.get();
  }

  @Override
  public void until(long atNs) {
    waits.add(atNs);
    now.accumulateAndGet(atNs, Math::max);
    meanwhile.accept(now.get());
  }
}
