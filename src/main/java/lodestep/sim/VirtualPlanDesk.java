package lodestep.sim;

import java.util.Optional;
import lodestep.port.MonotonicClock;
import lodestep.port.PlanAnswer;
import lodestep.port.PlanDesk;
import lodestep.port.PlanQuestion;

/**
 * Works a question out at once and hands the answer out after a fixed virtual delay, as a worker
 * would. Confined to the rig's thread.
 */
public final class VirtualPlanDesk implements PlanDesk {

  /** As long as a worker on a small computer would take; several scans. */
  public static final long USUAL_DELAY_NS = 20_000_000L;

  private final MonotonicClock clock;
  private final long delayNs;
  private Optional<PlanAnswer> answer = Optional.empty();
  private long readyAtNs;

  /** A desk whose answers come {@code delayNs} after the question. */
  public VirtualPlanDesk(MonotonicClock clock, long delayNs) {
    this.clock = clock;
    this.delayNs = delayNs;
  }

  @Override
  public void ask(PlanQuestion question) {
    readyAtNs = clock.nowNs() + delayNs;
    answer = Optional.of(question.solve());
  }

  @Override
  public Optional<PlanAnswer> take(long nowNs) {
    if (answer.isEmpty() || nowNs - readyAtNs < 0) {
      return Optional.empty();
    }
    Optional<PlanAnswer> taken = answer;
    answer = Optional.empty();
    return taken;
  }

  @Override
  public void close() {
    answer = Optional.empty();
  }
}
