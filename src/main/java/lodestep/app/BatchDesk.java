package lodestep.app;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Queue;
import java.util.function.Consumer;
import java.util.function.Function;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.clock.SystemWallClock;
import lodestep.adapter.sqlite.SqliteLedger;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.bench.LedgerStart;
import lodestep.bench.NestSeatings;
import lodestep.bench.Plan;
import lodestep.bench.Rereads;
import lodestep.cli.KeepingWork;
import lodestep.cli.Program;
import lodestep.cli.Refusal;
import lodestep.config.HeadConfig;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.dial.PlannerMode;
import lodestep.dial.RigMemory;
import lodestep.ledger.GaugeRecord;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.MagnetHistory;
import lodestep.measure.GaugeCalibration;
import lodestep.port.EventStore;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import lodestep.scan.ScanPorts;
import lodestep.sim.VirtualLedger;

/** Opens a rig, real or virtual, and runs a batch on it to its end. */
final class BatchDesk {

  private final Wiring wiring;
  private final SystemMonotonicClock monotonic;
  private final SystemWallClock wall;
  private final Outside outside;

  BatchDesk(Wiring wiring, SystemMonotonicClock monotonic, SystemWallClock wall, Outside outside) {
    this.wiring = wiring;
    this.monotonic = monotonic;
    this.wall = wall;
    this.outside = outside;
  }

  /**
   * What is to be run where.
   *
   * @param begun the batch, once the ledger is open
   */
  private record Order(RigConfig rig, Path ledgerFile, Function<EventStore, Begun> begun) {}

  /**
   * A batch to run or to go on with.
   *
   * @param seed of the stock: a batch that goes on has the stock it was begun with
   * @param wallStart what a virtual wall clock says at the start
   */
  private record Begun(Batch batch, long seed, Instant wallStart) {}

  Program.Outcome run(Program.Run run, Program.Watcher watcher) {
    if (run.continued()) {
      LedgerFiles.require(run.ledgerFile());
    }
    return run(new Order(run.rig(), run.ledgerFile(), store -> begun(store, run)), watcher);
  }

  Program.Outcome reread(KeepingWork.RereadRun run, Program.Watcher watcher) {
    LedgerFiles.require(run.ledgerFile());
    return run(new Order(run.rig(), run.ledgerFile(), store -> readAgain(store, run)), watcher);
  }

  private Program.Outcome run(Order order, Program.Watcher watcher) {
    RigConfig rig = order.rig();
    if (rig.headAlone()) {
      throw new Refusal(
          "the rig '"
              + rig.name()
              + "' is a head alone and drives nothing; work by hand with: lodestep hand");
    }
    if (rig.kind() == RigKind.REAL) {
      return runReal(order, watcher);
    }
    LedgerBinding binding = new LedgerBinding(rig.name(), rig.kind());
    try (EventStore store =
        SqliteStore.open(order.ledgerFile(), binding, monotonic.nowNs(), wall.now())) {
      return runOn(store, order, watcher);
    } catch (LedgerException refused) {
      throw new Refusal(String.valueOf(refused.getMessage()));
    }
  }

  /** Devices first: a rig that is not there leaves no ledger behind. */
  private Program.Outcome runReal(Order order, Program.Watcher watcher) {
    RigConfig rig = order.rig();
    Pace pace = new RealPace(monotonic);
    LedgerBinding binding = new LedgerBinding(rig.name(), rig.kind());
    try (RealDevices devices = RealDevices.open(rig, pace, outside.board());
        EventStore store =
            SqliteStore.open(order.ledgerFile(), binding, monotonic.nowNs(), wall.now())) {
      Batch batch = order.begun().apply(store).batch();
      LedgerStart start =
          LedgerStart.of(store, rig, wiring.program(rig, "", Calibrated.of(rig, store)));
      ScanPorts ports =
          new ScanPorts(
              devices.lines(), devices.head(), new SqliteLedger(store), new WorkerDesk(), wall);
      RealBench bench = new RealBench(rig, ports, pace, batch, start);
      System.err.println(Typed.WORDS);
      new Typed(bench::offer, System.err::println)
          .listenTo(
              new BufferedReader(new InputStreamReader(outside.typedIn(), StandardCharsets.UTF_8)));
      return bench.toTheEnd(watcher);
    } catch (LedgerException refused) {
      throw new Refusal(String.valueOf(refused.getMessage()));
    }
  }

  private Program.Outcome runOn(EventStore store, Order order, Program.Watcher watcher) {
    Begun begun = order.begun().apply(store);
    VirtualLedger ledger = new VirtualLedger(begun.seed(), store);
    Queue<LedgerEvent> told = new ArrayDeque<>();
    RunningBatch bench = bench(begun, order.rig(), ledger, told::add);
    long fromNs = monotonic.nowNs();
    try (StopAsked asked = StopAsked.standingBy();
        bench) {
      Program.Outcome outcome =
          new Watch(bench, told, watcher)
              .toTheEnd(asked.stop(), () -> (monotonic.nowNs() - fromNs) * 1e-9);
      bench.end(outcome.stopped() ? "stopped before the batch was over" : "the batch is over");
      return recorded(outcome, ledger);
    }
  }

  /** The virtual rig: inside the program, or in a process of its own behind a serial line. */
  private RunningBatch bench(
      Begun begun, RigConfig rig, VirtualLedger ledger, Consumer<LedgerEvent> told) {
    VirtualBench.Setup setup =
        new VirtualBench.Setup(rig, begun.seed(), outside.broken(), begun.wallStart(), told);
    LedgerStart start =
        LedgerStart.of(
            ledger.archive(),
            rig,
            wiring.program(rig, Long.toString(begun.seed()), Calibrated.of(rig, ledger.archive())));
    if (rig.head() instanceof HeadConfig.VirtualHead) {
      return new VirtualBench(setup, begun.batch(), start, ledger);
    }
    try {
      return SerialBench.start(setup, begun.batch(), start, ledger);
    } catch (IOException refused) {
      throw new Refusal(String.valueOf(refused.getMessage()));
    }
  }

  /** An end whose last entries did not reach the disk is not done, unless a trip said so before. */
  private static Program.Outcome recorded(Program.Outcome outcome, VirtualLedger ledger) {
    if (!outcome.tripped()) {
      ledger
          .state()
          .fault()
          .ifPresent(
              fault -> {
                throw new Refusal(fault);
              });
    }
    return outcome;
  }

  private Begun begun(EventStore store, Program.Run run) {
    NestSeatings seatings = NestSeatings.of(store);
    GaugeCalibration by = Calibrated.of(run.rig(), store).calibration();
    if (run.continued()) {
      LeftOpen going =
          LeftOpen.of(store, run.rig(), by)
              .orElseThrow(
                  () ->
                      new Refusal(
                          "the ledger "
                              + run.ledgerFile()
                              + " has no batch left open to go on with"));
      return new Begun(
          PlanSource.batch(going.plan(), going.number(), going.entries(), run.mode(), by, seatings)
              .with(LearnedBefore.forBatch(store, run.rig())),
          going.virtualSeed().orElse(run.seed()),
          wall.now());
    }
    Plan plan = run.plan().orElseThrow(() -> new Refusal("name a plan, or say --continue"));
    GaugeDesk.requireInControl(GaugeRecord.of(store), plan);
    return new Begun(
        PlanSource.batch(plan, 0, Entry.planned(plan.rows(), run.rig()), run.mode(), by, seatings)
            .with(LearnedBefore.forBatch(store, run.rig())),
        run.seed(),
        wall.now());
  }

  private Begun readAgain(EventStore store, KeepingWork.RereadRun run) {
    boolean real = run.rig().kind() == RigKind.REAL;
    Instant now = real ? wall.now() : KeepingDesk.notBefore(store, wall.now());
    Instant then = run.later().map(span -> now.plusSeconds((long) span.seconds())).orElse(now);
    GaugeCalibration by = Calibrated.of(run.rig(), store).calibration();
    NestSeatings seatings = NestSeatings.of(store);
    List<Entry> entries = new ArrayList<>();
    for (long magnet : run.magnets()) {
      MagnetHistory history =
          MagnetHistory.of(store, magnet)
              .orElseThrow(() -> new Refusal("no magnet " + magnet + " is on record"));
      try {
        entries.add(Rereads.again(store, history, run.rig(), by, seatings, then).entry(run.rig()));
      } catch (IllegalArgumentException cannot) {
        throw new Refusal(String.valueOf(cannot.getMessage()));
      }
    }
    GaugeDesk.requireInControl(
        GaugeRecord.of(store),
        entries.stream().map(entry -> entry.prepared().row().nest()).distinct().toList());
    Batch batch =
        new Batch(
            "read again",
            "",
            "",
            0,
            entries,
            PlannerMode.CURVE,
            RigMemory.none(),
            Optional.empty(),
            by,
            0,
            seatings);
    return new Begun(batch.with(LearnedBefore.of(store, run.rig())), run.seed(), then);
  }
}
