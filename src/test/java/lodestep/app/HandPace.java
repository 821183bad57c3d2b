package lodestep.app;

import java.util.ArrayList;
import java.util.List;
import java.util.function.LongConsumer;

/** Time that moves only when it is waited for; what else happens then, a test says. */
final class HandPace implements Pace {

  private final List<Long> waits = new ArrayList<>();
  private LongConsumer meanwhile = nowNs -> {};
  private long nowNs;

  HandPace(long startNs) {
    this.nowNs = startNs;
  }

  /** What happens at each waiting, once time has been moved. */
  HandPace meanwhile(LongConsumer act) {
    meanwhile = act;
    return this;
  }

  /** Lets time pass unseen, as when a scan takes long. */
  void pass(long forNs) {
    nowNs += forNs;
  }

  /** Every time that was waited for. */
  List<Long> waits() {
    return List.copyOf(waits);
  }

  @Override
  public long nowNs() {
    return nowNs;
  }

  @Override
  public void until(long atNs) {
    waits.add(atNs);
    nowNs = Math.max(nowNs, atNs);
    meanwhile.accept(nowNs);
  }
}
