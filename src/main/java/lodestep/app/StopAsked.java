package lodestep.app;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;

/**
 * Ctrl-C while a batch runs in virtual time: asks for a stop, holds the program's end until the
 * ledger is closed, and says how to go on.
 */
final class StopAsked implements AutoCloseable {

  /** As long as a real rig is waited for; virtual time passes slowly on a computer that is busy. */
  private static final long WAIT_SECONDS = 15;

  private final AtomicBoolean stop = new AtomicBoolean();
  private final CountDownLatch closed = new CountDownLatch(1);
  private final Thread hook = new Thread(this::letGo, "stop");

  /** Stands by until closed. */
  static StopAsked standingBy() {
    StopAsked asked = new StopAsked();
    Runtime.getRuntime().addShutdownHook(asked.hook);
    return asked;
  }

  /** Whether it was asked. */
  AtomicBoolean stop() {
    return stop;
  }

  private void letGo() {
    stop.set(true);
    try {
      boolean inTime = closed.await(WAIT_SECONDS, TimeUnit.SECONDS);
      System.err.println(
          inTime
              ? "lodestep: stopped, and on record; on the same rig and ledger"
                  + " go on with: lodestep batch --continue"
              : "lodestep: the ledger was not closed in time; it repairs itself");
    } catch (InterruptedException interrupted) {
      Thread.currentThread().interrupt();
    }
  }

  /** The ledger is closed. */
  @Override
  public void close() {
    closed.countDown();
    if (!stop.get()) {
      Runtime.getRuntime().removeShutdownHook(hook);
    }
  }
}
