package lodestep.adapter.serial;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.Semaphore;
import lodestep.protocol.HeadRequest;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

/**
 * Goal: a wire that takes nothing is told in time. Method: a wire that takes what the test lets.
 */
class LineSenderTest {

  private static final byte[] FIRST = {'a', '\n'};
  private static final byte[] SECOND = {'b', '\n'};

  private final HandClock clock = new HandClock();
  private final BlockingQueue<byte[]> begun = new LinkedBlockingQueue<>();
  private final Semaphore let = new Semaphore(0);
  private final LineSender sender = new LineSender(this::take, clock, new Traffic());

  private boolean take(byte[] line) {
    begun.add(line);
    let.acquireUninterruptibly();
    return true;
  }

  @AfterEach
  void letTheThreadEnd() {
    sender.outbox().close();
    let.release(100);
  }

  @Test
  void isNotStuckWhileALineWaitsNoLongerThanTheLimit() throws Exception {
    beginFirst();

    clock.advanceMs(100);

    assertThat(sender.isStuck(clock.nowNs())).isFalse();
  }

  @Test
  void isStuckWhenALineWaitsLongerThanTheLimit() throws Exception {
    beginFirst();

    clock.advanceMs(101);

    assertThat(sender.isStuck(clock.nowNs())).isTrue();
  }

  @Test
  void staysStuckAndDropsTheRestWhenTheWireWakesUp() throws Exception {
    beginFirst();
    sender.outbox().offer(SECOND);
    clock.advanceMs(101);
    sender.isStuck(clock.nowNs());

    let.release(2);
    sender.finish(60_000);

    assertThat(sender.isAlive()).isFalse();
    assertThat(sender.isStuck(clock.nowNs())).isTrue();
    assertThat(begun).as("begun after the first line").isEmpty();
  }

  @Test
  void isNotStuckWhenNothingIsBeingWritten() throws Exception {
    let.release(1);
    beginFirst();
    sender.finish(60_000);

    clock.advanceMs(10_000);

    assertThat(sender.isStuck(clock.nowNs())).isFalse();
  }

  @Test
  void sendsTheStopAsTheNextThingAfterTheLineUnderWay() throws Exception {
    beginFirst();
    sender.outbox().offer(SECOND);
    sender.outbox().stop();

    let.release(1);

    assertThat(begun.take()).isEqualTo(new byte[] {HeadRequest.STOP_BYTE});
  }

  @Test
  void failsAndSendsNothingMoreWhenTheWireCutsALine() throws Exception {
    LineSender cut =
        new LineSender(
            line -> {
              begun.add(line);
              return false;
            },
            clock,
            new Traffic());
    cut.outbox().offer(FIRST);
    cut.outbox().offer(SECOND);

    cut.start();
    Polling.until("the sender to end", () -> !cut.isAlive());

    assertThat(cut.failed()).isTrue();
    assertThat(begun).hasSize(1);
  }

  private void beginFirst() throws InterruptedException {
    sender.outbox().offer(FIRST);
    sender.start();
    assertThat(begun.take()).isEqualTo(FIRST);
  }
}
