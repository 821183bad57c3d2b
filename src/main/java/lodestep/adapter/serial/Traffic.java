package lodestep.adapter.serial;

import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.Lock;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.BooleanSupplier;

/**
 * Counts the bytes that have gone over one link, and lets a thread wait for them. Any thread.
 *
 * <p>It serves a run in virtual time, whose clock must stand while bytes are under way. The control
 * thread of a real rig never waits here.
 */
final class Traffic {

  private final Lock lock = new ReentrantLock();
  private final Condition moved = lock.newCondition();
  private long received;
  private long sent;

  void received(int bytes) {
    lock.lock();
    try {
      received += bytes;
      moved.signalAll();
    } finally {
      lock.unlock();
    }
  }

  void sent(int bytes) {
    lock.lock();
    try {
      sent += bytes;
      moved.signalAll();
    } finally {
      lock.unlock();
    }
  }

  /** Something else that is waited for has changed: the port was opened, lost or closed. */
  void standingChanged() {
    received(0);
  }

  long receivedBytes() {
    lock.lock();
    try {
      return received;
    } finally {
      lock.unlock();
    }
  }

  long sentBytes() {
    lock.lock();
    try {
      return sent;
    } finally {
      lock.unlock();
    }
  }

  /**
   * Waits until the condition holds, which is looked at again whenever anything has moved.
   *
   * @return whether it held within this time
   */
  boolean await(BooleanSupplier condition, long waitMs) throws InterruptedException {
    long leftNs = TimeUnit.MILLISECONDS.toNanos(waitMs);
    lock.lock();
    try {
      while (!condition.getAsBoolean()) {
        if (leftNs <= 0) {
          return false;
        }
        leftNs = moved.awaitNanos(leftNs);
      }
      return true;
    } finally {
      lock.unlock();
    }
  }
}
