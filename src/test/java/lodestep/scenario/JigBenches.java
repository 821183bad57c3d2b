package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.bench.LedgerStart;
import lodestep.bench.PlanRow;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.dial.RigMemory;
import lodestep.dial.Task;
import lodestep.ledger.Chain;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.MemoryStore;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.Shape;
import lodestep.measure.GaugeCalibration;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualLedger;

/** Virtual benches with a jig, of the rigs that are shipped. */
final class JigBenches {

  static final RigConfig JIG = shipped("rig-virtual-jig.toml");
  static final RigConfig BOTH = shipped("rig-virtual-coil-and-jig.toml");

  private static final GaugeCalibration CALIBRATION =
      new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001);
  private static final Instant WALL = Instant.parse("2031-03-04T08:00:00Z");

  private JigBenches() {}

  private static RigConfig shipped(String name) {
    Path file =
        Path.of(System.getProperty("lodestep.repository", "."), "firmware-host", "board", name);
    try {
      return RigFile.read(name, Files.readString(file))
          .match(
              rig -> rig,
              problems -> {
                throw new AssertionError(problems);
              });
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    }
  }

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
    return new Batch(
        "scenario",
        "0".repeat(64),
        "",
        number,
        entries,
        PlannerMode.SECANT,
        RigMemory.none(),
        Optional.empty(),
        CALIBRATION,
        0);
  }

  static MemoryStore emptyLedger(RigConfig rig) {
    MemoryStore store = new MemoryStore();
    LedgerEvent created = new LedgerBinding(rig.name(), rig.kind()).created();
    store.commit(Chain.link(ChainEnd.EMPTY, List.of(new EventDraft(created, 0, WALL))));
    return store;
  }

  static VirtualBench started(
      RigConfig rig, MemoryStore store, Batch batch, long seed, FaultPlan faults) {
    LedgerStart.Program program =
        new LedgerStart.Program("test", Long.toString(seed), false, CALIBRATION, "nominal");
    return new VirtualBench(
        new VirtualBench.Setup(rig, seed, faults, WALL),
        batch,
        LedgerStart.of(store, rig, program),
        new VirtualLedger(seed, store));
  }

  /** Runs to the end and gives what is on record. */
  static List<LedgerEvent> run(RigConfig rig, long seed, PlanRow... rows) {
    MemoryStore store = emptyLedger(rig);
    try (VirtualBench bench = started(rig, store, batch(rig, rows), seed, FaultPlan.NONE)) {
      toTheEnd(bench);
      bench.end("done");
    }
    return events(store);
  }

  static void toTheEnd(VirtualBench bench) {
    long untilNs = bench.rig().clock().nowNs() + Benches.LONG_NS;
    while (!bench.done() && !bench.gaveUp() && bench.rig().clock().nowNs() < untilNs) {
      bench.runScan();
    }
    assertThat(bench.done()).as(bench.job().sentence()).isTrue();
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
