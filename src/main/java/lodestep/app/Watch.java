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

  /** A pulse under way comes to its end, and its end on record, as on a real rig. */
  private void letGo(long begunNs) {
    long untilNs = bench.nowNs() + LoopRunner.LET_GO_WAIT_NS;
    if (!RealBench.isAtRest(bench.scan().snapshot())) {
      bench.scan().askStop();
      do {
        scan(begunNs);
      } while (!RealBench.isAtRest(bench.scan().snapshot()) && bench.nowNs() - untilNs < 0);
    }
  }

  private void scan(long begunNs) {
    bench.runScan();
    telling.look(bench.scan().snapshot(), (bench.nowNs() - begunNs) * 1e-9);
  }

  Program.Outcome toTheEnd(AtomicBoolean stop, DoubleSupplier wallSeconds) {
    long begunNs = bench.nowNs();
    while (!bench.done() && !bench.gaveUp() && !stop.get()) {
      scan(begunNs);
    }
    if (stop.get()) {
      letGo(begunNs);
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
