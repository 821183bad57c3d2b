package lodestep.adapter.serial;

import java.util.OptionalLong;
import java.util.concurrent.TimeUnit;
import java.util.function.Predicate;
import lodestep.port.MonotonicClock;

/**
 * The thread that writes to one open port. When the port is lost, thread and waiting lines go with
 * it; the next opening starts with a sender of its own, so nothing from before is ever sent.
 */
final class LineSender {

  /**
   * A line takes 9 ms at most; a wire that has not taken it by then has stopped taking anything.
   */
  static final long WRITE_MAX_NS = 100_000_000L;

  private final Predicate<byte[]> wire;
  private final MonotonicClock clock;
  private final Traffic traffic;
  private final Outbox outbox = new Outbox();
  private final Thread thread;
  private volatile OptionalLong writingSinceNs = OptionalLong.empty();
  private volatile boolean condemned;
  private volatile boolean failed;

  /**
   * A sender that has not started yet.
   *
   * @param wire writes all bytes, however long that takes, and tells whether they were taken
   * @param traffic is told of each line when it has been taken
   */
  LineSender(Predicate<byte[]> wire, MonotonicClock clock, Traffic traffic) {
    this.wire = wire;
    this.clock = clock;
    this.traffic = traffic;
    this.thread = new Thread(this::send, "head-writer");
    this.thread.setDaemon(true);
  }

  void start() {
    thread.start();
  }

  Outbox outbox() {
    return outbox;
  }

  /** Whether a write was cut short: the port is gone, which the reader is about to learn too. */
  boolean failed() {
    return failed;
  }

  /**
   * Whether the wire takes nothing more. Once it is said it stays so: a peer that wakes up late
   * would get a burst of old lines.
   */
  boolean isStuck(long nowNs) {
    OptionalLong sinceNs = writingSinceNs;
    if (sinceNs.isPresent() && nowNs - sinceNs.getAsLong() > WRITE_MAX_NS) {
      condemned = true;
      outbox.close();
    }
    return condemned;
  }

  /** Lets a stop that was asked go out and ends the thread; waits for that at most this long. */
  void finish(long waitMs) throws InterruptedException {
    outbox.close();
    TimeUnit.MILLISECONDS.timedJoin(thread, waitMs);
  }

  /** Whether the thread is still there, perhaps hanging in the system. */
  boolean isAlive() {
    return thread.isAlive();
  }

  private void send() {
    try {
      for (var line = outbox.next(); line.isPresent(); line = outbox.next()) {
        writingSinceNs = OptionalLong.of(clock.nowNs());
        boolean taken = wire.test(line.get());
        writingSinceNs = OptionalLong.empty();
        if (!taken) {
          failed = true;
          outbox.close();
        }
        outbox.written();
        traffic.sent(taken ? line.get().length : 0);
      }
    } catch (InterruptedException e) {
      // Nobody interrupts this thread; should it happen, nothing more is sent and the port is lost.
      failed = true;
      Thread.currentThread().interrupt();
    }
  }
}
