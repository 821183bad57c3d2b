package lodestep.port;

import java.util.Optional;

/**
 * Works out questions that may take longer than a scan: on a worker in real time, inline after a
 * fixed delay in virtual time. Control thread only; never blocks.
 */
public interface PlanDesk extends AutoCloseable {

  /** Takes a question on; the newest replaces one not yet answered. */
  void ask(PlanQuestion question);

  /** The newest answer not yet taken, if there is one at this monotonic time. */
  Optional<PlanAnswer> take(long nowNs);

  @Override
  void close();
}
