package lodestep.scenario;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.bench.PlanRow;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import lodestep.config.RigReading;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.Shape;
import lodestep.quantity.Length;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualLedger;

/** Virtual benches with a switched coil, of the shipped file, made in one place. */
final class SwitchedBenches {

  static final long SEED = 31;

  static final RigConfig RIG = rig();

  private static final Instant WALL = Instant.parse("2032-05-06T08:00:00Z");

  private SwitchedBenches() {}

  private static RigConfig rig() {
    Path file =
        Path.of(
            System.getProperty("lodestep.repository", "."),
            "firmware-host/board/rig-virtual-switched.toml");
    try {
      RigReading reading = RigFile.read(file.toString(), Files.readString(file));
      return ((RigReading.Rig) reading).config();
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    }
  }

  static PlanRow rod(String name, PoleUp pole, Task task) {
    return new PlanRow(
        1,
        name,
        Optional.empty(),
        AlloyBook.standard().find("alnico 5").orElseThrow(),
        new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5)),
        RIG.nest("rod nest"),
        pole,
        task,
        1);
  }

  static Batch batch(long number, List<Entry> entries) {
    return Benches.batch(PlannerMode.CURVE, number, entries);
  }

  static VirtualBench bench(FaultPlan faults, PlanRow... rows) {
    return new VirtualBench(
        new VirtualBench.Setup(RIG, SEED, faults, WALL),
        batch(0, Entry.planned(List.of(rows), RIG)),
        Benches.prologue(),
        new VirtualLedger(SEED));
  }
}
