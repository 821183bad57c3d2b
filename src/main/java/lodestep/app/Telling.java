package lodestep.app;

import java.util.Queue;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.Entry;
import lodestep.cli.Program;
import lodestep.port.LedgerEvent;
import lodestep.port.Trip;
import lodestep.scan.Snapshot;

/** Tells a watcher what has changed since it was last told. Confined to one thread. */
final class Telling {

  private final Program.Watcher watcher;
  private final Queue<LedgerEvent> events;
  private int told;
  private boolean tripTold;
  private boolean waitTold;
  private boolean tripped;

  /**
   * @param events what the ledger was handed, oldest first; taken out as it is told
   */
  Telling(Program.Watcher watcher, Queue<LedgerEvent> events, Batch batch) {
    this.watcher = watcher;
    this.events = events;
    this.told = done(batch);
  }

  /** Looks at what the newest scan came to. */
  void look(Snapshot snapshot, double rigSeconds) {
    for (LedgerEvent event = events.poll(); event != null; event = events.poll()) {
      watcher.event(event, rigSeconds);
    }
    Batch batch = ((BatchJob) snapshot.job()).batch();
    int done = done(batch);
    if (done > told) {
      told = done;
      watcher.verdict(batch, done, rigSeconds);
    }
    boolean waits = snapshot.job() instanceof BatchJob.Attention;
    if (waits && !waitTold) {
      watcher.waits(((BatchJob) snapshot.job()).sentence());
    }
    waitTold = waits;
    boolean now = snapshot.trip().isPresent();
    if (now && !tripTold) {
      Trip trip = snapshot.trip().orElseThrow();
      trip(
          String.format(
              "trip %d: %s (%s); %s",
              trip.cause().code(), trip.cause().what(), trip.cause().why(), trip.cause().remedy()));
    }
    tripTold = now;
  }

  /** Tells of a trip. */
  void trip(String sentence) {
    tripped = true;
    watcher.trip(sentence);
  }

  /** Whether there was a trip. */
  boolean tripped() {
    return tripped;
  }

  private static int done(Batch batch) {
    int done = 0;
    for (Entry entry : batch.entries()) {
      done += entry.done() ? 1 : 0;
    }
    return done;
  }
}
