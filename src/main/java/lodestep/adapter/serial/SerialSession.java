package lodestep.adapter.serial;

import java.util.OptionalLong;
import java.util.concurrent.TimeUnit;
import lodestep.port.MonotonicClock;

/**
 * An open port with the thread that writes to it. When the port is lost, thread and waiting lines
 * go with it; the next opening starts with a session of its own, so nothing from before is ever
 * sent.
 */
final class SerialSession {

  /**
   * A line takes 9 ms at most; a wire that has not taken it by then has stopped taking anything.
   */
  static final long WRITE_MAX_NS = 100_000_000L;

  private final OpenPort port;
  private final MonotonicClock clock;
  private final Outbox outbox = new Outbox();
  private final Thread writer;
  private volatile OptionalLong writingSinceNs = OptionalLong.empty();
  private volatile boolean condemned;
  private volatile boolean failed;

  SerialSession(OpenPort port, MonotonicClock clock) {
    this.port = port;
    this.clock = clock;
    this.writer = new Thread(this::write, "head-writer");
    this.writer.setDaemon(true);
  }

  void start() {
    writer.start();
  }

  OpenPort port() {
    return port;
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

  /** Lets a stop that was asked go out and ends the writer; waits for it at most this long. */
  void finish(long waitMs) throws InterruptedException {
    outbox.close();
    TimeUnit.MILLISECONDS.timedJoin(writer, waitMs);
  }

  /** Closes the port, which frees a writer that waits in it, and lets the writer end. */
  void abandon() {
    port.close();
    outbox.close();
  }

  boolean writerLives() {
    return writer.isAlive();
  }

  private void write() {
    try {
      for (var line = outbox.next(); line.isPresent(); line = outbox.next()) {
        writingSinceNs = OptionalLong.of(clock.nowNs());
        boolean taken = port.write(line.get());
        writingSinceNs = OptionalLong.empty();
        if (!taken) {
          failed = true;
          outbox.close();
        }
      }
    } catch (InterruptedException e) {
      // Nobody interrupts this thread; should it happen, the session counts as failed.
      failed = true;
      Thread.currentThread().interrupt();
    }
  }
}
