package lodestep.app;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.clock.SystemWallClock;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.adapter.sqlite.SqliteLedger;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.bench.Batch;
import lodestep.bench.Continuation;
import lodestep.bench.Entry;
import lodestep.bench.Plan;
import lodestep.bench.PlanReader;
import lodestep.bench.PlanReading;
import lodestep.bench.PlanRules;
import lodestep.bench.TightestTolerance;
import lodestep.cli.Program;
import lodestep.cli.Refusal;
import lodestep.config.HeadConfig;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.config.RigReading;
import lodestep.dial.RigMemory;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.OpenWork;
import lodestep.measure.GaugeCalibration;
import lodestep.port.EventStore;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import lodestep.quantity.Temperature;
import lodestep.scan.ScanPorts;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualLedger;

/** Wires the program together; the one place that chooses real or virtual. */
final class Wiring implements Program {

  /** Until a calibration is on record: the gauge's nominal gain, good to a tenth of a per cent. */
  private static final double NOMINAL_GAIN_UNCERTAINTY = 0.001;

  private static final long SHUTDOWN_SECONDS = 5;

  private final SystemMonotonicClock monotonic = new SystemMonotonicClock();
  private final SystemWallClock wall = new SystemWallClock();

  @Override
  public RigConfig rig(Optional<Path> rigFile) {
    return rigReading(rigFile)
        .match(
            rig -> rig,
            problems -> {
              throw new Refusal(problems);
            });
  }

  private static RigReading rigReading(Optional<Path> rigFile) {
    try {
      return RigSource.read(rigFile);
    } catch (IOException damaged) {
      throw new UncheckedIOException(damaged);
    }
  }

  @Override
  public Plan plan(Path planFile, RigConfig rig) {
    String name = Optional.ofNullable(planFile.getFileName()).map(Path::toString).orElse("plan");
    try {
      return understood(reader(rig).read(name, Files.readAllBytes(planFile)));
    } catch (IOException unreadable) {
      throw new Refusal("cannot read the plan " + planFile + "; see that the file is there");
    }
  }

  @Override
  public Plan suppliedPlan(String name, RigConfig rig) {
    return planText(name, resource("/lodestep/plans/" + name), rig);
  }

  @Override
  public Plan planText(String name, String text, RigConfig rig) {
    return understood(reader(rig).read(name, text));
  }

  private static PlanReader reader(RigConfig rig) {
    return new PlanReader(PlanRules.of(rig, TightestTolerance.of(calibration(rig))));
  }

  private static Plan understood(PlanReading reading) {
    if (reading instanceof PlanReading.Refused refused) {
      throw new Refusal(refused.written());
    }
    return (Plan) reading;
  }

  @Override
  public LedgerArchive archive(Path ledgerFile) {
    if (!Files.exists(ledgerFile)) {
      throw new Refusal(
          "there is no ledger "
              + ledgerFile
              + "; run a batch first, or name another with --ledger");
    }
    try {
      return SqliteArchive.open(ledgerFile);
    } catch (LedgerException refused) {
      throw new Refusal(String.valueOf(refused.getMessage()));
    }
  }

  @Override
  public Path usualLedger(RigConfig rig) {
    String data = System.getenv("XDG_DATA_HOME");
    Path base =
        data == null || data.isBlank()
            ? Path.of(System.getProperty("user.home", "."), ".local", "share")
            : Path.of(data);
    String name = rig.name().replaceAll("[^A-Za-z0-9-]+", "-");
    return base.resolve("lodestep").resolve(name + "-" + rig.kind().word() + ".ledger");
  }

  @Override
  public String version() {
    return Main.version();
  }

  @Override
  public Outcome run(Run run, Watcher watcher) {
    if (run.rig().kind() == RigKind.REAL) {
      return runReal(run, watcher);
    }
    if (!(run.rig().head() instanceof HeadConfig.VirtualHead)) {
      throw new Refusal(
          "this version drives a virtual rig only with its built-in head; remove [head] from the"
              + " rig.toml");
    }
    LedgerBinding binding = new LedgerBinding(run.rig().name(), run.rig().kind());
    try (EventStore store =
        SqliteStore.open(run.ledgerFile(), binding, monotonic.nowNs(), wall.now())) {
      return runOn(store, run, watcher);
    } catch (LedgerException refused) {
      throw new Refusal(String.valueOf(refused.getMessage()));
    }
  }

  /** Devices first: a rig that is not there leaves no ledger behind. */
  private Outcome runReal(Run run, Watcher watcher) {
    Pace pace = new RealPace(monotonic);
    LedgerBinding binding = new LedgerBinding(run.rig().name(), run.rig().kind());
    try (RealDevices devices = RealDevices.open(run.rig(), pace);
        EventStore store =
            SqliteStore.open(run.ledgerFile(), binding, monotonic.nowNs(), wall.now())) {
      Batch batch = batch(store, run);
      List<LedgerEvent> prologue = prologue(store, run.rig());
      ScanPorts ports =
          new ScanPorts(
              devices.lines(), devices.head(), new SqliteLedger(store), new WorkerDesk(), wall);
      return new RealBench(run.rig(), ports, pace, batch, prologue).toTheEnd(watcher);
    } catch (LedgerException refused) {
      throw new Refusal(String.valueOf(refused.getMessage()));
    }
  }

  private Outcome runOn(EventStore store, Run run, Watcher watcher) {
    Batch batch = batch(store, run);
    VirtualBench bench =
        new VirtualBench(
            new VirtualBench.Setup(run.rig(), run.seed(), FaultPlan.NONE, wall.now()),
            batch,
            prologue(store, run.rig()),
            new VirtualLedger(run.seed(), store));
    AtomicBoolean stop = new AtomicBoolean();
    CountDownLatch closed = new CountDownLatch(1);
    Thread hook = new Thread(() -> letGo(stop, closed), "stop");
    Runtime.getRuntime().addShutdownHook(hook);
    long begun = monotonic.nowNs();
    try {
      return new Watch(bench, watcher).toTheEnd(stop, () -> (monotonic.nowNs() - begun) * 1e-9);
    } finally {
      bench.close();
      closed.countDown();
      if (!stop.get()) {
        Runtime.getRuntime().removeShutdownHook(hook);
      }
    }
  }

  private static void letGo(AtomicBoolean stop, CountDownLatch closed) {
    stop.set(true);
    try {
      boolean inTime = closed.await(SHUTDOWN_SECONDS, TimeUnit.SECONDS);
      if (!inTime) {
        System.err.println("lodestep: the ledger was not closed in time; it repairs itself");
      }
    } catch (InterruptedException interrupted) {
      Thread.currentThread().interrupt();
    }
  }

  private Batch batch(EventStore store, Run run) {
    if (run.continued()) {
      Continuation going =
          Continuation.of(store)
              .orElseThrow(
                  () ->
                      new Refusal(
                          "the ledger "
                              + run.ledgerFile()
                              + " has no batch left open to go on with"));
      String name = going.started().name();
      Plan plan = planText(name, going.started().planText(), run.rig());
      return made(plan, going.number(), going.entries(Entry.planned(plan.rows(), run.rig())), run);
    }
    Plan plan = run.plan().orElseThrow(() -> new Refusal("name a plan, or say --continue"));
    return made(plan, 0, Entry.planned(plan.rows(), run.rig()), run);
  }

  private static Batch made(Plan plan, long number, List<Entry> entries, Run run) {
    return new Batch(
        plan.name(),
        plan.sha256(),
        plan.text(),
        number,
        entries,
        run.mode(),
        RigMemory.none(),
        Optional.empty(),
        calibration(run.rig()),
        0);
  }

  /** What comes before a batch: the crash's leavings closed, the program's start, calibration. */
  private List<LedgerEvent> prologue(EventStore store, RigConfig rig) {
    List<LedgerEvent> events =
        new ArrayList<>(OpenWork.of(store).closings("the program ended in the middle of it"));
    events.add(new LedgerEvent.ProgramStarted(version(), "", false));
    events.add(
        new LedgerEvent.CalibrationSet(
            Math.round(rig.gauge().countsPerTesla()), 0, 2000, 1000, "nominal, not calibrated"));
    return events;
  }

  private static GaugeCalibration calibration(RigConfig rig) {
    return new GaugeCalibration(
        rig.gauge().countsPerTesla(), 0, Temperature.ofDegC(20), NOMINAL_GAIN_UNCERTAINTY);
  }

  private static String resource(String name) {
    try (InputStream stream = Wiring.class.getResourceAsStream(name)) {
      if (stream == null) {
        throw new IllegalStateException("the program's own file " + name + " is missing");
      }
      return new String(stream.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    }
  }
}
