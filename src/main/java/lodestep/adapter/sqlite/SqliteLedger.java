package lodestep.adapter.sqlite;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.BooleanSupplier;
import lodestep.ledger.Chain;
import lodestep.port.EventDraft;
import lodestep.port.EventStore;
import lodestep.port.Ledger;
import lodestep.port.LedgerException;
import lodestep.port.LedgerState;

/**
 * The ledger in real time: the control thread hands events over and goes on, one thread of its own
 * writes them. All that waits when the disk is ready goes into one commit.
 *
 * <p>Any failure to write is final: the state names it, and nothing more is taken, since a record
 * with a hole is worse than one that ends. Only the control thread appends; any thread may read the
 * state.
 */
public final class SqliteLedger implements Ledger {

  /**
   * Events that may wait for the disk. A magnet makes some ten events in as many seconds, so this
   * is a disk that has stood still for a quarter of an hour.
   */
  private static final int WAITING_MAX = 1_000;

  /** How long closing waits for the disk, in seconds; a healthy one needs milliseconds. */
  private static final long CLOSE_WAIT_S = 10;

  private final EventStore store;
  private final ReentrantLock lock = new ReentrantLock();
  private final Condition changed = lock.newCondition();
  private final Deque<EventDraft> waiting = new ArrayDeque<>();
  private boolean closing;
  private boolean ended;
  private long nextNumber;
  private volatile LedgerState state;

  /** A ledger that goes on where the store ends; the store is its own from here on. */
  public SqliteLedger(EventStore store) {
    this.store = store;
    long newest = store.newest().number();
    this.nextNumber = newest + 1;
    this.state = new LedgerState(newest, Optional.empty());
    Thread writer = new Thread(this::write, "ledger");
    // A disk that never answers must not keep the program from ending.
    writer.setDaemon(true);
    writer.start();
  }

  @Override
  public long nextNumber() {
    return nextNumber;
  }

  @Override
  public void append(EventDraft draft) {
    append(List.of(draft));
  }

  @Override
  public void append(List<EventDraft> drafts) {
    nextNumber += drafts.size();
    lock.lock();
    try {
      if (closing || state.fault().isPresent()) {
        return;
      }
      if (waiting.size() + drafts.size() > WAITING_MAX) {
        fail("the ledger's disk does not keep up; check the disk and start again");
      } else {
        waiting.addAll(drafts);
      }
      changed.signalAll();
    } finally {
      lock.unlock();
    }
  }

  @Override
  public LedgerState state() {
    return state;
  }

  /**
   * Waits until this event is durable or the ledger has failed. For the start and the end of the
   * program; never called in a scan.
   *
   * @return whether the event is durable
   */
  public boolean awaitDurable(long number, long forSeconds) {
    lock.lock();
    try {
      await(() -> state.durableTo() >= number || state.fault().isPresent() || ended, forSeconds);
      return state.durableTo() >= number;
    } finally {
      lock.unlock();
    }
  }

  /** Waits with the lock held. An interrupt does not shorten it, and stays set. */
  private void await(BooleanSupplier done, long forSeconds) {
    long leftNs = TimeUnit.SECONDS.toNanos(forSeconds);
    boolean interrupted = false;
    while (!done.getAsBoolean() && leftNs > 0) {
      try {
        leftNs = changed.awaitNanos(leftNs);
      } catch (InterruptedException asked) {
        interrupted = true;
      }
    }
    if (interrupted) {
      Thread.currentThread().interrupt();
    }
  }

  private void write() {
    try {
      List<EventDraft> batch = take();
      while (!batch.isEmpty()) {
        commit(batch);
        batch = take();
      }
      store.close();
    } catch (LedgerException failed) {
      failLocked(failed.sentence());
      closeQuietly();
    } catch (RuntimeException | Error bug) {
      failLocked("the ledger cannot be written: the program found an error in itself: " + bug);
      closeQuietly();
      throw bug;
    } finally {
      end();
    }
  }

  /** All that waits, once something does; empty when the ledger is closing and nothing waits. */
  private List<EventDraft> take() {
    lock.lock();
    try {
      while (waiting.isEmpty() && !closing && state.fault().isEmpty()) {
        changed.awaitUninterruptibly();
      }
      List<EventDraft> batch = List.copyOf(waiting);
      waiting.clear();
      return batch;
    } finally {
      lock.unlock();
    }
  }

  private void commit(List<EventDraft> batch) {
    store.commit(Chain.link(store.newest(), batch));
    lock.lock();
    try {
      state = new LedgerState(store.newest().number(), state.fault());
      changed.signalAll();
    } finally {
      lock.unlock();
    }
  }

  private void failLocked(String why) {
    lock.lock();
    try {
      fail(why);
    } finally {
      lock.unlock();
    }
  }

  /** The first fault stays. Called with the lock held. */
  private void fail(String why) {
    if (state.fault().isEmpty()) {
      state = new LedgerState(state.durableTo(), Optional.of(why));
    }
  }

  private void closeQuietly() {
    try {
      store.close();
    } catch (LedgerException alsoFailed) {
      // The first fault is the one to show, and it is in the state already.
      return;
    }
  }

  private void end() {
    lock.lock();
    try {
      ended = true;
      changed.signalAll();
    } finally {
      lock.unlock();
    }
  }

  /**
   * Writes all that waits, and waits for that no longer than {@value #CLOSE_WAIT_S} s. What was not
   * written then is named in the state.
   */
  @Override
  public void close() {
    lock.lock();
    try {
      closing = true;
      changed.signalAll();
      await(() -> ended, CLOSE_WAIT_S);
      if (!ended) {
        fail("the ledger's disk did not answer in time; the newest events may be missing");
      }
    } finally {
      lock.unlock();
    }
  }
}
