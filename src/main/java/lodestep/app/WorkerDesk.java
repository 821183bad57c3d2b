package lodestep.app;

import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.atomic.AtomicReference;
import lodestep.port.PlanAnswer;
import lodestep.port.PlanDesk;
import lodestep.port.PlanQuestion;

/**
 * Works questions out on a thread of its own, so that no scan waits for one. The newest question
 * replaces one that waits, and an answer to an older one is never handed out.
 */
final class WorkerDesk implements PlanDesk {

  private record Solved(
      PlanQuestion question, Optional<PlanAnswer> answer, Optional<Throwable> error) {}

  private final BlockingQueue<PlanQuestion> waiting = new ArrayBlockingQueue<>(1);
  private final AtomicReference<Optional<Solved>> solved = new AtomicReference<>(Optional.empty());
  private final Thread worker = new Thread(this::work, "planner");

  /** Control thread only. */
  private Optional<PlanQuestion> newest = Optional.empty();

  WorkerDesk() {
    // A question that is never solved must not keep the program from ending.
    worker.setDaemon(true);
    worker.start();
  }

  @Override
  public void ask(PlanQuestion question) {
    newest = Optional.of(question);
    while (!waiting.offer(question)) {
      waiting.clear();
    }
  }

  /**
   * {@inheritDoc}
   *
   * @throws IllegalStateException when working the newest question out has thrown: an error in the
   *     program
   */
  @Override
  public Optional<PlanAnswer> take(long nowNs) {
    Optional<Solved> done = solved.getAndSet(Optional.empty());
    if (done.isEmpty() || newest.isEmpty() || done.get().question() != newest.get()) {
      return Optional.empty();
    }
    newest = Optional.empty();
    done.get()
        .error()
        .ifPresent(
            error -> {
              throw new IllegalStateException("the planner found an error in itself", error);
            });
    return done.get().answer();
  }

  @Override
  public void close() {
    worker.interrupt();
  }

  private void work() {
    try {
      while (!Thread.currentThread().isInterrupted()) {
        solved.set(Optional.of(solve(waiting.take())));
      }
    } catch (InterruptedException closed) {
      Thread.currentThread().interrupt();
    }
  }

  private static Solved solve(PlanQuestion question) {
    try {
      return new Solved(question, Optional.of(question.solve()), Optional.empty());
    } catch (Throwable thrown) {
      // Kept for the control thread, which ends the run with it.
      return new Solved(question, Optional.empty(), Optional.of(thrown));
    }
  }
}
