package lodestep.app;

import java.util.Queue;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.DoubleSupplier;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.cli.Program;
import lodestep.port.LedgerEvent;
import lodestep.port.Trip;

/** Runs a batch to its end and tells a watcher what changes. Confined to one thread. */
final class Watch {

  private final RunningBatch bench;
  private final Queue<LedgerEvent> events;
  private final Program.Watcher watcher;
  private int told;
  private boolean tripTold;
  private boolean tripped;

  /**
   * @param events what the ledger was handed, oldest first; taken out as it is told
   */
  Watch(RunningBatch bench, Queue<LedgerEvent> events, Program.Watcher watcher) {
    this.bench = bench;
    this.events = events;
    this.watcher = watcher;
    this.told = done(bench.job().batch());
  }

  Program.Outcome toTheEnd(AtomicBoolean stop, DoubleSupplier wallSeconds) {
    long begunNs = bench.nowNs();
    while (!bench.done() && !bench.gaveUp() && !stop.get()) {
      bench.runScan();
      tell((bench.nowNs() - begunNs) * 1e-9);
    }
    bench.gone().ifPresent(watcher::trip);
    return new Program.Outcome(
        bench.job().batch(),
        tripped,
        stop.get() || bench.gaveUp(),
        (bench.nowNs() - begunNs) * 1e-9,
        wallSeconds.getAsDouble());
  }

  private void tell(double rigSeconds) {
    for (LedgerEvent event = events.poll(); event != null; event = events.poll()) {
      watcher.event(event, rigSeconds);
    }
    Batch batch = bench.job().batch();
    int done = done(batch);
    if (done > told) {
      told = done;
      watcher.verdict(batch, done, rigSeconds);
    }
    boolean now = bench.scan().snapshot().trip().isPresent();
    if (now && !tripTold) {
      tripped = true;
      Trip trip = bench.scan().snapshot().trip().orElseThrow();
      watcher.trip(
          String.format(
              "trip %d: %s (%s); %s",
              trip.cause().code(), trip.cause().what(), trip.cause().why(), trip.cause().remedy()));
    }
    tripTold = now;
  }

  private static int done(Batch batch) {
    int done = 0;
    for (Entry entry : batch.entries()) {
      done += entry.done() ? 1 : 0;
    }
    return done;
  }
}
