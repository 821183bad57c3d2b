package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.Test;

/** Goal: the end of the program waits for the rig to let go, and does not wait for ever. */
class ShutdownTest {

  private final List<String> log = Collections.synchronizedList(new ArrayList<>());

  @Test
  void asksForTheStopAndHoldsTheEndUntilAllIsClosed() {
    CountDownLatch asked = new CountDownLatch(1);
    Shutdown shutdown =
        new Shutdown(
            () -> {
              log.add("asked");
              asked.countDown();
            },
            () -> log.add("last resort"),
            log::add);
    CompletableFuture<Void> end =
        CompletableFuture.runAsync(
            () -> {
              shutdown.letGo();
              log.add("ended");
            });
    try {
      asked.await();
    } catch (InterruptedException interrupted) {
      Thread.currentThread().interrupt();
    }
    log.add("closed");
    shutdown.close();
    end.join();

    assertThat(log).containsExactly("asked", "closed", "ended");
  }

  @Test
  void lowersFromOutsideWhenTheLoopDoesNotAnswer() {
    Shutdown shutdown =
        new Shutdown(() -> log.add("asked"), () -> log.add("last resort"), log::add);

    // Whoever interrupts the waiting takes its time away: as if it had run out.
    Thread.currentThread().interrupt();
    shutdown.letGo();

    assertThat(Thread.interrupted()).isTrue();
    assertThat(log).hasSize(3).startsWith("asked").endsWith("last resort");
    assertThat(log.get(1)).contains("does not answer");
  }

  @Test
  void standsByNoMoreOnceClosed() {
    Shutdown shutdown = Shutdown.standingBy(() -> log.add("asked"), () -> {}, log::add);

    shutdown.close();
    shutdown.close();

    assertThat(log).isEmpty();
  }
}
