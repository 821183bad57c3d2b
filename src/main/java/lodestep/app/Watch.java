package lodestep.app;

import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.DoubleSupplier;
import lodestep.cli.Program;

/** Runs a virtual bench to its end and tells a watcher what changes. Confined to one thread. */
final class Watch {

  private final VirtualBench bench;
  private final Telling telling;

  Watch(VirtualBench bench, Program.Watcher watcher) {
    this.bench = bench;
    this.telling = new Telling(watcher, bench.job().batch());
  }

  Program.Outcome toTheEnd(AtomicBoolean stop, DoubleSupplier wallSeconds) {
    long begunNs = bench.rig().clock().nowNs();
    while (!bench.done() && !bench.gaveUp() && !stop.get()) {
      bench.runScan();
      telling.look(bench.scan().snapshot(), (bench.rig().clock().nowNs() - begunNs) * 1e-9);
    }
    return new Program.Outcome(
        bench.job().batch(),
        telling.tripped(),
        stop.get() || bench.gaveUp(),
        (bench.rig().clock().nowNs() - begunNs) * 1e-9,
        wallSeconds.getAsDouble());
  }
}
