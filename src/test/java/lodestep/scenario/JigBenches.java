package lodestep.scenario;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.bench.PlanRow;
import lodestep.config.RigConfig;
import lodestep.config.ShippedRig;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;
import lodestep.ledger.EventCodec;
import lodestep.ledger.MemoryStore;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.Shape;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.quantity.Length;
import lodestep.sim.FaultPlan;

/** Virtual benches with a jig, of the rigs that are shipped. */
final class JigBenches {

  static final RigConfig JIG = ShippedRig.read("rig-virtual-jig.toml");
  static final RigConfig BOTH = ShippedRig.read("rig-virtual-coil-and-jig.toml");

  private JigBenches() {}

  static PlanRow rods(Task task, int count) {
    return new PlanRow(
        1,
        "rod",
        Optional.empty(),
        AlloyBook.standard().find("alnico 5").orElseThrow(),
        new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5)),
        JIG.nest("rod nest"),
        PoleUp.NORTH,
        task,
        count);
  }

  static PlanRow rods(RigConfig rig, Task task, int count) {
    PlanRow row = rods(task, count);
    return new PlanRow(
        1,
        row.name(),
        row.set(),
        row.alloy(),
        row.shape(),
        rig.nest("rod nest"),
        row.poleUp(),
        task,
        count);
  }

  static Batch batch(RigConfig rig, PlanRow... rows) {
    return batch(0, Entry.planned(List.of(rows), rig));
  }

  static Batch batch(long number, List<Entry> entries) {
    return Benches.batch(PlannerMode.CURVE, number, entries);
  }

  /** Runs to the end and gives what is on record. */
  static List<LedgerEvent> run(RigConfig rig, long seed, PlanRow... rows) {
    MemoryStore store = Benches.emptyLedger(rig);
    try (VirtualBench bench = Benches.started(rig, store, batch(rig, rows), seed, FaultPlan.NONE)) {
      Benches.toTheEnd(bench);
      bench.end("done");
    }
    return events(store);
  }

  static List<LedgerEvent> events(LedgerArchive archive) {
    List<LedgerEvent> events = new ArrayList<>();
    archive.forEach(
        1, archive.newest().number(), stored -> events.add(EventCodec.decode(stored).event()));
    return events;
  }

  static <E extends LedgerEvent> List<E> all(List<LedgerEvent> events, Class<E> kind) {
    return events.stream().filter(kind::isInstance).map(kind::cast).toList();
  }
}
