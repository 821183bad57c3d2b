package lodestep.app;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;

/**
 * Ctrl-C and the system's request to end: asks the run to stop, and holds the program's end until
 * everything is low and the ledger closed. A program that is killed outright does none of this; the
 * head lets go by itself then.
 */
final class Shutdown implements AutoCloseable {

  /** Longer than the loop's own patience with a rig that will not let go. */
  private static final long WAIT_SECONDS = 15;

  private final CountDownLatch closed = new CountDownLatch(1);
  private final Runnable askStop;
  private final Runnable lastResort;
  private final Consumer<String> say;
  private final Thread hook = new Thread(this::letGo, "stop");

  /**
   * Stands by until closed.
   *
   * @param lastResort lowers the outputs from another thread, should the control thread hang
   */
  static Shutdown standingBy(Runnable askStop, Runnable lastResort, Consumer<String> say) {
    Shutdown shutdown = new Shutdown(askStop, lastResort, say);
    Runtime.getRuntime().addShutdownHook(shutdown.hook);
    return shutdown;
  }

  Shutdown(Runnable askStop, Runnable lastResort, Consumer<String> say) {
    this.askStop = askStop;
    this.lastResort = lastResort;
    this.say = say;
  }

  /** What the end of the program waits for. */
  void letGo() {
    askStop.run();
    if (!awaitClosed(WAIT_SECONDS)) {
      say.accept(
          "lodestep: the control loop does not answer; the outputs are lowered from outside it."
              + " Switch the rig's supply off");
      lastResort.run();
    }
  }

  private boolean awaitClosed(long seconds) {
    try {
      return closed.await(seconds, TimeUnit.SECONDS);
    } catch (InterruptedException interrupted) {
      Thread.currentThread().interrupt();
      return false;
    }
  }

  /** All is low and the ledger closed: the program may end, and nothing stands by any more. */
  @Override
  public void close() {
    closed.countDown();
    try {
      Runtime.getRuntime().removeShutdownHook(hook);
    } catch (IllegalStateException ending) {
      // The program is ending already, and this is what it waited for.
      return;
    }
  }
}
