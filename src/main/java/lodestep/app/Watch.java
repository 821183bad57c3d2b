package lodestep.app;

import java.util.Queue;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.DoubleSupplier;
import lodestep.cli.Program;
import lodestep.port.LedgerEvent;

/** Runs a batch to its end and tells a watcher what changes. Confined to one thread. */
final class Watch {

  private final RunningBatch bench;
  private final Program.Watcher watcher;
  private final Telling telling;

  /**
   * @param events what the ledger was handed, oldest first; taken out as it is told
   */
  Watch(RunningBatch bench, Queue<LedgerEvent> events, Program.Watcher watcher) {
    this.bench = bench;
    this.watcher = watcher;
    this.telling = new Telling(watcher, events, bench.job().batch());
  }

  Program.Outcome toTheEnd(AtomicBoolean stop, DoubleSupplier wallSeconds) {
    long begunNs = bench.nowNs();
    while (!bench.done() && !bench.gaveUp() && !stop.get()) {
      bench.runScan();
      telling.look(bench.scan().snapshot(), (bench.nowNs() - begunNs) * 1e-9);
    }
    bench.gone().ifPresent(watcher::trip);
    return new Program.Outcome(
        bench.job().batch(),
        telling.tripped(),
        stop.get() || bench.gaveUp(),
        (bench.nowNs() - begunNs) * 1e-9,
        wallSeconds.getAsDouble());
  }
}
