package lodestep.panel;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;

/**
 * The newest of what is shown, handed to any number of readers. Nothing is queued: a reader that is
 * slow gets what is newest when it is done with the last one, and one that takes nothing holds its
 * own thread until the connection's time is over. Any thread.
 */
final class Newest {

  /** Open pages at one time; each holds a thread of the server. */
  static final int READERS_MAX = 32;

  /** Longer than the time from one look to the next. */
  private static final long WAIT_MS = 250;

  /**
   * What one look came to.
   *
   * @param count of the look, rising
   * @param now what changes with each look, as an event of the stream
   * @param bench what changes seldom
   * @param benchCount of the look with which that changed
   */
  private record Shown(long count, String now, String bench, long benchCount) {}

  private final ReentrantLock lock = new ReentrantLock();
  private final Condition changed = lock.newCondition();
  private final Semaphore readers = new Semaphore(READERS_MAX);
  private Shown shown = new Shown(0, "{}", "", 0);
  private boolean closed;

  /** Shows this to everyone. */
  void show(String now, String bench) {
    lock.lock();
    try {
      long count = shown.count() + 1;
      boolean same = bench.equals(shown.bench());
      shown = new Shown(count, now, bench, same ? shown.benchCount() : count);
      changed.signalAll();
    } finally {
      lock.unlock();
    }
  }

  /** Lets every reader go. */
  void close() {
    lock.lock();
    try {
      closed = true;
      changed.signalAll();
    } finally {
      lock.unlock();
    }
  }

  /** How many read now. */
  int open() {
    return READERS_MAX - readers.availablePermits();
  }

  /** What changes with each look. */
  String now() {
    return newest().now();
  }

  /** What changes seldom. */
  String bench() {
    return newest().bench();
  }

  private Shown newest() {
    lock.lock();
    try {
      return shown;
    } finally {
      lock.unlock();
    }
  }

  /**
   * Writes the stream of events (HTML standard, server-sent events) until the reader goes away or
   * everything is closed.
   *
   * @throws Refused when too many read already
   */
  void writeTo(OutputStream out) {
    if (!readers.tryAcquire()) {
      throw new Refused(503, "too many pages", "too many pages are open; close one");
    }
    try {
      Shown last = new Shown(0, "", "", 0);
      for (Shown next = after(last); next.count() > last.count(); next = after(last)) {
        StringBuilder text = new StringBuilder();
        if (next.benchCount() > last.benchCount()) {
          text.append("event: bench\ndata: ").append(next.bench()).append("\n\n");
        }
        text.append("event: now\ndata: ").append(next.now()).append("\n\n");
        out.write(text.toString().getBytes(StandardCharsets.UTF_8));
        out.flush();
        last = next;
      }
    } catch (IOException gone) {
      // The page was closed: nothing is lost by it.
      return;
    } catch (InterruptedException ending) {
      Thread.currentThread().interrupt();
    } finally {
      readers.release();
    }
  }

  /** The next one; the same one again when all is closed. */
  private Shown after(Shown last) throws InterruptedException {
    lock.lockInterruptibly();
    try {
      while (!closed && shown.count() <= last.count()) {
        boolean woken = changed.await(WAIT_MS, TimeUnit.MILLISECONDS);
        if (!woken && closed) {
          return last;
        }
      }
      return closed ? last : shown;
    } finally {
      lock.unlock();
    }
  }
}
