package lodestep.sim;

import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import lodestep.ledger.Chain;
import lodestep.ledger.MemoryStore;
import lodestep.port.Bytes;
import lodestep.port.EventDraft;
import lodestep.port.EventStore;
import lodestep.port.Ledger;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerException;
import lodestep.port.LedgerState;

/**
 * The ledger in virtual time: what is appended becomes durable a seeded delay later, as with a disk
 * that syncs, and all that came meanwhile goes into the next commit. One thread; the runner calls
 * {@link #advance} before each scan.
 *
 * <p>Behind it stands memory, or any store, to which each commit is made inline at the moment it
 * becomes durable: so a virtual run can leave a real file.
 *
 * <p>Fault model: a commit fails, by a full disk or an error, and the record is over; a disk stalls
 * for a time; power is cut, and what was not durable is gone. Out of scope: bytes that change on
 * the disk, which a proof of the ledger finds, and a disk that claims to have synced and has not.
 */
public final class VirtualLedger implements Ledger {

  /**
   * Quantiles of the delay from append to durable, in nanoseconds: median 3.8 ms, 99th percentile
   * 15.9 ms, worst 110 ms, as measured for SQLite with full synchronisation in a small virtual
   * machine; linear in between. The lowest is a guess.
   */
  private static final double[] QUANTILES = {0.0, 0.5, 0.99, 1.0};

  private static final double[] DELAYS_NS = {1.0e6, 3.8e6, 15.9e6, 110.0e6};

  private final EventStore store;
  private final SplittableRandom random;
  private final List<EventDraft> waiting = new ArrayList<>();
  private List<EventDraft> flying = List.of();
  private long landsAtNs;
  private long stallForNs;
  private long nextNumber;
  private LedgerState state;
  private Optional<String> nextCommitFails = Optional.empty();
  private boolean closed;

  /** A ledger in memory, empty. */
  public VirtualLedger(long seed) {
    this(seed, new MemoryStore());
  }

  /** A ledger that goes on where the store ends, and closes it when closed. */
  public VirtualLedger(long seed, EventStore store) {
    this.store = store;
    this.random = new SplittableRandom(seed);
    long newest = store.newest().number();
    this.nextNumber = newest + 1;
    this.state = new LedgerState(newest, Optional.empty());
  }

  @Override
  public long nextNumber() {
    return nextNumber;
  }

  @Override
  public void append(EventDraft draft) {
    nextNumber++;
    if (!closed && state.fault().isEmpty()) {
      waiting.add(draft);
    }
  }

  @Override
  public LedgerState state() {
    return state;
  }

  /** Lets time pass: what is due becomes durable, and the next commit begins. Cheap when idle. */
  public void advance(long nowNs) {
    if (!flying.isEmpty() && nowNs - landsAtNs >= 0) {
      land();
    }
    if (flying.isEmpty() && !waiting.isEmpty()) {
      flying = List.copyOf(waiting);
      waiting.clear();
      landsAtNs = nowNs + stallForNs + drawDelayNs();
      stallForNs = 0;
    }
  }

  private long drawDelayNs() {
    double drawn = random.nextDouble();
    int i = 1;
    while (drawn > QUANTILES[i]) {
      i++;
    }
    double part = (drawn - QUANTILES[i - 1]) / (QUANTILES[i] - QUANTILES[i - 1]);
    return (long) (DELAYS_NS[i - 1] + part * (DELAYS_NS[i] - DELAYS_NS[i - 1]));
  }

  private void land() {
    List<EventDraft> landing = flying;
    flying = List.of();
    try {
      nextCommitFails.ifPresent(
          why -> {
            throw new LedgerException(why);
          });
      commit(landing);
    } catch (LedgerException failed) {
      fail(failed.sentence());
    }
  }

  private void commit(List<EventDraft> drafts) {
    store.commit(Chain.link(store.newest(), drafts));
    state = new LedgerState(store.newest().number(), Optional.empty());
  }

  private void fail(String why) {
    waiting.clear();
    flying = List.of();
    state = new LedgerState(state.durableTo(), Optional.of(why));
  }

  /** Fault: from now on the disk is full; the next commit fails, and with it the record. */
  public void fillDisk() {
    nextCommitFails =
        Optional.of("the ledger cannot be written: the disk is full; make room on it and restart");
  }

  /** Fault: the next commit fails with an error of the disk, and with it the record. */
  public void breakDisk() {
    nextCommitFails =
        Optional.of(
            "the ledger cannot be written: the disk reports an error; repair it and restart");
  }

  /** The disk has room again and works; what has failed until now stays failed. */
  public void repairDisk() {
    nextCommitFails = Optional.empty();
  }

  /** Fault: the next commit to begin takes this much longer. */
  public void stallNext(long forNs) {
    stallForNs = forNs;
  }

  /**
   * Fault: power is cut. What was not durable is gone, nothing more is taken, and the store stays
   * as it is for a new ledger to go on from.
   */
  public void cutPower() {
    fail("the power was cut");
    closed = true;
  }

  /**
   * Fault: power is cut while a commit is under way, of which a part has reached the disk.
   *
   * @param part of the events under way that are found there later, the oldest first; 0 to 1
   */
  public void cutPower(double part) {
    int kept = (int) Math.round(part * flying.size());
    if (kept > 0 && state.fault().isEmpty()) {
      commit(flying.subList(0, kept));
    }
    cutPower();
  }

  /** The durable record, for reading; it is this ledger's own store and must not be closed. */
  public LedgerArchive archive() {
    return store;
  }

  /**
   * The canonical bytes of all durable events, each followed by a line feed: two runs are the same
   * exactly when these are.
   */
  public Bytes canonicalBytes() {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    store.forEach(
        1,
        store.newest().number(),
        event -> {
          out.writeBytes(event.payload().toArray());
          out.write('\n');
        });
    return Bytes.copyOf(out.toByteArray());
  }

  /** Makes all that was appended durable now, unless the record has failed, and lets it go. */
  @Override
  public void close() {
    if (closed) {
      return;
    }
    if (!flying.isEmpty()) {
      land();
    }
    if (!waiting.isEmpty()) {
      flying = List.copyOf(waiting);
      waiting.clear();
      land();
    }
    closed = true;
    try {
      store.close();
    } catch (LedgerException failed) {
      // A record that has failed before cannot be expected to close well; that fault is the one
      // to show.
      if (state.fault().isEmpty()) {
        throw failed;
      }
    }
  }
}
