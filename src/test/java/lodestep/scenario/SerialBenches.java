package lodestep.scenario;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Optional;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.app.SerialBench;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.LedgerStart;
import lodestep.config.HeadConfig;
import lodestep.config.RigConfig;
import lodestep.ledger.LedgerBinding;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualLedger;

/** Benches whose head is on a serial line, for scenario tests, made in one place. */
final class SerialBenches {

  private static final long SEED = 23;
  private static final Instant WALL = Instant.parse("2031-03-04T08:00:00Z");

  private SerialBenches() {}

  /** The rig of the other scenarios with its head on a line at this path. */
  static RigConfig rig(Path port) {
    return Benches.RIG.with(new HeadConfig.SerialHead(port.toString(), "LINE-07"));
  }

  static SerialBench onALine(Path port, Batch batch, Path ledger) throws IOException {
    return SerialBench.start(
        setup(port), batch, new LedgerStart(Benches.prologue(), Optional.empty()), onDisk(ledger));
  }

  /** The same rig, head and stock, with everything inside the program. */
  static VirtualBench inside(Path port, Batch batch, Path ledger) {
    return new VirtualBench(setup(port), batch, Benches.prologue(), onDisk(ledger));
  }

  private static VirtualLedger onDisk(Path file) {
    LedgerBinding binding = new LedgerBinding(Benches.RIG.name(), Benches.RIG.kind());
    return new VirtualLedger(SEED, SqliteStore.open(file, binding, 0, WALL));
  }

  private static VirtualBench.Setup setup(Path port) {
    return new VirtualBench.Setup(rig(port), SEED, FaultPlan.NONE, WALL);
  }
}
