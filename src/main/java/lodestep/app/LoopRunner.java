package lodestep.app;

import java.util.Optional;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Predicate;
import lodestep.scan.Cycle;
import lodestep.scan.Snapshot;

/**
 * Runs the scans in real time, on the thread that runs it, to the end of the work. The scans are
 * due at fixed distances from the first one; those missed are left out and never caught up with. A
 * stop is handed to the scan, and the scans go on until the rig has let go, so that no relay is
 * switched under current. However it ends, the outputs are low when {@link #run} returns.
 */
final class LoopRunner implements Runnable {

  /**
   * A bank bleeds to its low mark within five seconds; a rig that has not let go by then will not.
   */
  static final long LET_GO_WAIT_NS = 8_000_000_000L;

  /**
   * When the loop may end.
   *
   * @param done the work is over
   * @param atRest after a stop: nothing is energised and nothing waits to be recorded
   */
  record Ending(Predicate<Snapshot> done, Predicate<Snapshot> atRest) {}

  private final Cycle scan;
  private final Pace pace;
  private final long periodNs;
  private final Ending ending;
  private final AtomicBoolean stopHandedOver = new AtomicBoolean();
  private volatile boolean stopAsked;
  private volatile Optional<Throwable> failure = Optional.empty();

  LoopRunner(Cycle scan, Pace pace, long periodNs, Ending ending) {
    this.scan = scan;
    this.pace = pace;
    this.periodNs = periodNs;
    this.ending = ending;
  }

  /**
   * Asks for the end, and for a stop before it unless the rig rests: nobody has stopped what was
   * not at work. Any thread.
   */
  void askStop() {
    stopAsked = true;
    stopWhatWorks();
  }

  /** Once; also of what was begun while the end was asked for. */
  private void stopWhatWorks() {
    Snapshot snapshot = scan.snapshot();
    boolean rests = snapshot.job().rests() && ending.atRest().test(snapshot);
    if (!rests && stopHandedOver.compareAndSet(false, true)) {
      scan.askStop();
    }
  }

  /** Whether {@link #askStop} was called. Any thread. */
  boolean stopAsked() {
    return stopAsked;
  }

  /** What ended the loop before its time: a line that failed, or an error in the program. */
  Optional<Throwable> failure() {
    return failure;
  }

  @Override
  public void run() {
    try {
      loop();
    } catch (Throwable thrown) {
      // The top of this thread: whatever it is, it must be kept for a person to see.
      failure = Optional.of(thrown);
    }
    try {
      scan.close();
    } catch (Throwable thrown) {
      failure.ifPresentOrElse(
          first -> suppress(first, thrown), () -> failure = Optional.of(thrown));
    }
  }

  private static void suppress(Throwable first, Throwable more) {
    if (first != more) {
      first.addSuppressed(more);
    }
  }

  private void loop() {
    long dueNs = pace.nowNs();
    Optional<Long> endByNs = Optional.empty();
    while (true) {
      pace.until(dueNs);
      long nowNs = pace.nowNs();
      if (stopAsked && endByNs.isEmpty()) {
        endByNs = Optional.of(nowNs + LET_GO_WAIT_NS);
      }
      if (stopAsked) {
        stopWhatWorks();
      }
      scan.run(nowNs);
      if (mayEnd(endByNs, nowNs)) {
        return;
      }
      dueNs = next(dueNs, nowNs);
    }
  }

  private boolean mayEnd(Optional<Long> endByNs, long nowNs) {
    Snapshot snapshot = scan.snapshot();
    if (ending.done().test(snapshot)) {
      return true;
    }
    return endByNs.isPresent() && (ending.atRest().test(snapshot) || nowNs - endByNs.get() >= 0);
  }

  /** The first time of the schedule that is still to come. */
  private long next(long dueNs, long nowNs) {
    long lateNs = Math.max(0, nowNs - dueNs);
    return dueNs + (lateNs / periodNs + 1) * periodNs;
  }
}
