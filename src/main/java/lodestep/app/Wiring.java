package lodestep.app;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.List;
import java.util.Optional;
import java.util.Queue;
import java.util.function.Consumer;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.clock.SystemWallClock;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.adapter.sqlite.SqliteLedger;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.bench.Batch;
import lodestep.bench.Continuation;
import lodestep.bench.Entry;
import lodestep.bench.HandGauges;
import lodestep.bench.LedgerStart;
import lodestep.bench.Plan;
import lodestep.bench.PlanReader;
import lodestep.bench.PlanReading;
import lodestep.bench.PlanRules;
import lodestep.bench.TightestTolerance;
import lodestep.cli.GaugeWork;
import lodestep.cli.PaperWork;
import lodestep.cli.Program;
import lodestep.cli.Refusal;
import lodestep.config.HeadConfig;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.config.RigReading;
import lodestep.dial.PlannerMode;
import lodestep.dial.RigMemory;
import lodestep.ledger.GaugeRecord;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.MagnetNames;
import lodestep.port.EventStore;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import lodestep.port.Plot;
import lodestep.port.Tone;
import lodestep.scan.ScanPorts;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualLedger;

/** Wires the program together; the one place that chooses real or virtual. */
final class Wiring implements Program {

  private final SystemMonotonicClock monotonic = new SystemMonotonicClock();
  private final SystemWallClock wall = new SystemWallClock();
  private final Outside outside;

  Wiring(Outside outside) {
    this.outside = outside;
  }

  @Override
  public void draw(Plot plot, Path file) {
    Drawing.write(plot, file);
  }

  @Override
  public void write(String text, Path file) {
    PaperDesk.write(text.getBytes(StandardCharsets.UTF_8), file);
  }

  @Override
  public boolean terminal() {
    return outside.terminal();
  }

  @Override
  public Tone.Opening tone() {
    return outside.tones().get();
  }

  @Override
  public void read(ReadRun run, LiveWatcher watcher) {
    Diary.begins("read", run.rig(), Optional.empty());
    desk().read(run, GaugeDesk.calibration(run.rig()), Diary.of(watcher));
    Diary.ends("read");
  }

  @Override
  public HandOutcome byHand(HandRun run, HandWatcher watcher) {
    boolean real = run.rig().kind() == RigKind.REAL;
    String seed = real ? "" : Long.toString(run.seed());
    Diary.begins("hand", run.rig(), Optional.of(run.ledgerFile()));
    HandOutcome outcome =
        desk()
            .byHand(
                run, GaugeDesk.calibration(run.rig()), program(run.rig(), seed), Diary.of(watcher));
    Diary.ends("hand, " + outcome.verdict().word());
    return outcome;
  }

  private HeadDesk desk() {
    return new HeadDesk(monotonic, wall, outside);
  }

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
  public PlanReading plan(Path planFile, RigConfig rig, Path ledgerFile) {
    HandGauges known = HandGauges.of(gauge().gaugeRecord(ledgerFile), Long.MAX_VALUE);
    String name = Optional.ofNullable(planFile.getFileName()).map(Path::toString).orElse("plan");
    // One byte over what a plan may have is enough to refuse it, however much there is.
    try (InputStream stream = Files.newInputStream(planFile)) {
      return reader(rig, known).read(name, stream.readNBytes(PlanReader.BYTES_MAX + 1));
    } catch (IOException unreadable) {
      throw new Refusal("cannot read the plan " + planFile + "; see that the file is there");
    }
  }

  @Override
  public PlanReading suppliedPlan(String name, RigConfig rig) {
    try {
      return planText(name, RigSource.builtInText("/lodestep/plans/" + name), rig);
    } catch (IOException damaged) {
      throw new UncheckedIOException(damaged);
    }
  }

  @Override
  public PlanReading planText(String name, String text, RigConfig rig) {
    return reader(rig, HandGauges.NONE).read(name, text);
  }

  private static PlanReader reader(RigConfig rig, HandGauges known) {
    return new PlanReader(
        PlanRules.of(rig, TightestTolerance.of(GaugeDesk.calibration(rig)), known));
  }

  @Override
  public GaugeWork gauge() {
    return new GaugeDesk(this, desk());
  }

  @Override
  public PaperWork papers() {
    return new PaperDesk(this, desk(), monotonic, wall);
  }

  @Override
  public LedgerArchive archive(Path ledgerFile) {
    if (!Files.exists(ledgerFile)) {
      throw new Refusal(noLedger(ledgerFile));
    }
    try {
      return SqliteArchive.open(ledgerFile);
    } catch (LedgerException refused) {
      throw new Refusal(String.valueOf(refused.getMessage()));
    }
  }

  @Override
  public boolean isLedger(Path ledgerFile) {
    return Files.exists(ledgerFile);
  }

  @Override
  public MagnetNames namesOnRecord(Path ledgerFile) {
    if (!Files.exists(ledgerFile)) {
      return new MagnetNames(List.of());
    }
    try (LedgerArchive archive = archive(ledgerFile)) {
      return MagnetNames.of(archive);
    }
  }

  private static String noLedger(Path file) {
    return "there is no ledger " + file + "; run a batch first, or name another with --ledger";
  }

  @Override
  public Path usualLedger(RigConfig rig) {
    String name = rig.name().replaceAll("[^A-Za-z0-9-]+", "-");
    return UserFolder.of(System.getenv(), "XDG_DATA_HOME", ".local/share")
        .resolve(name + "-" + rig.kind().word() + ".ledger");
  }

  @Override
  public String version() {
    return Main.version();
  }

  @Override
  public List<Figure> figures(Consumer<String> progress) {
    return new Figures(this, monotonic, rig(Optional.empty()), progress).all();
  }

  @Override
  public List<Figure> realTimeFigures(Consumer<String> progress) {
    return new RealTimeFigures(this, monotonic, rig(Optional.empty()), progress).all();
  }

  @Override
  public SoakFigures soak(SoakOrder order, SoakWatcher watcher) {
    return new SoakDesk(monotonic, GaugeDesk::calibration).soak(order, watcher);
  }

  @Override
  public RigConfig soakRig(String kind) {
    return SoakDesk.rig(kind);
  }

  @Override
  public SoakReplay replay(Optional<RigConfig> rig, Path savedRun) {
    return new SoakDesk(monotonic, GaugeDesk::calibration)
        .replay(rig, savedRun, (text, of) -> understood(planText("soak", text, of)));
  }

  private static Plan understood(PlanReading reading) {
    return reading.match(
        plan -> plan,
        refused -> {
          throw new Refusal(refused.written());
        });
  }

  @Override
  public void note(Throwable thrown) {
    Diary.note(thrown);
  }

  @Override
  public Outcome run(Run run, Watcher watcher) {
    Diary.begins("batch", run.rig(), Optional.of(run.ledgerFile()));
    Outcome outcome = ran(run, Diary.of(watcher));
    Diary.ends(
        "batch"
            + (outcome.stopped() ? ", stopped" : "")
            + (outcome.tripped() ? ", tripped on the way" : ""));
    return outcome;
  }

  private Outcome ran(Run run, Watcher watcher) {
    if (run.rig().headAlone()) {
      throw new Refusal(
          "the rig '"
              + run.rig().name()
              + "' is a head alone and drives nothing; work by hand with: lodestep hand");
    }
    if (run.continued() && !Files.exists(run.ledgerFile())) {
      throw new Refusal(noLedger(run.ledgerFile()));
    }
    if (run.rig().kind() == RigKind.REAL) {
      return runReal(run, watcher);
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
    try (RealDevices devices = RealDevices.open(run.rig(), pace, outside.board());
        EventStore store =
            SqliteStore.open(run.ledgerFile(), binding, monotonic.nowNs(), wall.now())) {
      Batch batch = begun(store, run).batch();
      LedgerStart start = LedgerStart.of(store, run.rig(), program(run.rig(), ""));
      ScanPorts ports =
          new ScanPorts(
              devices.lines(), devices.head(), new SqliteLedger(store), new WorkerDesk(), wall);
      RealBench bench = new RealBench(run.rig(), ports, pace, batch, start);
      System.err.println(Typed.WORDS);
      new Typed(bench::offer, System.err::println)
          .listenTo(
              new BufferedReader(new InputStreamReader(outside.typedIn(), StandardCharsets.UTF_8)));
      return bench.toTheEnd(watcher);
    } catch (LedgerException refused) {
      throw new Refusal(String.valueOf(refused.getMessage()));
    }
  }

  private Outcome runOn(EventStore store, Run run, Watcher watcher) {
    Begun begun = begun(store, run);
    VirtualLedger ledger = new VirtualLedger(begun.seed(), store);
    Queue<LedgerEvent> told = new ArrayDeque<>();
    RunningBatch bench = bench(begun, run.rig(), ledger, told::add);
    long fromNs = monotonic.nowNs();
    try (StopAsked asked = StopAsked.standingBy();
        bench) {
      Outcome outcome =
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
        new VirtualBench.Setup(rig, begun.seed(), FaultPlan.NONE, wall.now(), told);
    LedgerStart start =
        LedgerStart.of(ledger.archive(), rig, program(rig, Long.toString(begun.seed())));
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
  private static Outcome recorded(Outcome outcome, VirtualLedger ledger) {
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

  /**
   * The program as it says on record. In virtual time the wall clock is made up, so it is not
   * synchronised, whatever the machine.
   */
  LedgerStart.Program program(RigConfig rig, String virtualSeed) {
    boolean synchronised = rig.kind() == RigKind.REAL && wall.synchronised();
    return new LedgerStart.Program(
        version(),
        virtualSeed,
        synchronised,
        GaugeDesk.calibration(rig),
        "nominal, not calibrated");
  }

  /**
   * A batch to run or to go on with.
   *
   * @param seed of the stock: a batch that goes on has the stock it was begun with
   */
  private record Begun(Batch batch, long seed) {}

  private Begun begun(EventStore store, Run run) {
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
      GaugeRecord gauge = GaugeRecord.of(store);
      HandGauges known = HandGauges.of(gauge, going.number());
      Plan plan = understood(reader(run.rig(), known).read(name, going.started().planText()));
      GaugeDesk.requireInControl(gauge, plan);
      List<Entry> entries = going.entries(Entry.planned(plan.rows(), run.rig()));
      return new Begun(
          batch(plan, going.number(), entries, run.mode(), run.rig()).with(LearnedBefore.of(store)),
          going.virtualSeed().orElse(run.seed()));
    }
    Plan plan = run.plan().orElseThrow(() -> new Refusal("name a plan, or say --continue"));
    GaugeDesk.requireInControl(GaugeRecord.of(store), plan);
    return new Begun(
        batch(plan, 0, Entry.planned(plan.rows(), run.rig()), run.mode(), run.rig())
            .with(LearnedBefore.of(store)),
        run.seed());
  }

  /** A batch of this plan, with the number it has in the ledger; 0 when it has not begun. */
  static Batch batch(Plan plan, long number, List<Entry> entries, PlannerMode mode, RigConfig rig) {
    return new Batch(
        plan.name(),
        plan.sha256(),
        plan.text(),
        number,
        entries,
        mode,
        RigMemory.none(),
        Optional.empty(),
        GaugeDesk.calibration(rig),
        0);
  }
}
