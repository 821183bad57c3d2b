package lodestep.adapter.serial;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;
import lodestep.protocol.HeadRequest;

/**
 * What waits to be written on one open port: a few lines, and past them the stop byte. Any thread;
 * the lock is held only for the moment of adding or taking, never while something is written.
 */
final class Outbox {

  /** A third of a second of heartbeats; a wire that is further behind is dead. */
  static final int LINES_MAX = 64;

  private final Deque<byte[]> lines = new ArrayDeque<>();
  private boolean stopAsked;
  private boolean closed;
  private boolean handedOut;

  /** Adds a line; when full or closed it is dropped, since a late line is worse than none. */
  synchronized void offer(byte[] line) {
    if (!closed && lines.size() < LINES_MAX) {
      lines.addLast(line);
      notifyAll();
    }
  }

  /** Lets the stop byte go next and drops every line that waits. */
  synchronized void stop() {
    lines.clear();
    stopAsked = true;
    notifyAll();
  }

  /** Takes nothing more, drops the lines; a stop that was asked still goes. */
  synchronized void close() {
    lines.clear();
    closed = true;
    notifyAll();
  }

  /** Waits for what goes next; empty once closed and nothing is left. Writer thread only. */
  synchronized Optional<byte[]> next() throws InterruptedException {
    while (lines.isEmpty() && !stopAsked && !closed) {
      wait();
    }
    handedOut = stopAsked || !lines.isEmpty();
    if (stopAsked) {
      stopAsked = false;
      return Optional.of(new byte[] {HeadRequest.STOP_BYTE});
    }
    return Optional.ofNullable(lines.pollFirst());
  }

  /** What was handed out last has been written, or never will be. Writer thread only. */
  synchronized void written() {
    handedOut = false;
  }

  /** Whether nothing waits and nothing is being written. */
  synchronized boolean idle() {
    return lines.isEmpty() && !stopAsked && !handedOut;
  }

  synchronized int waiting() {
    return lines.size();
  }
}
