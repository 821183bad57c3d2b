package lodestep.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.clock.SystemWallClock;
import lodestep.bench.HandGauges;
import lodestep.bench.LedgerStart;
import lodestep.bench.NestSeatings;
import lodestep.bench.Plan;
import lodestep.bench.PlanReader;
import lodestep.bench.PlanReading;
import lodestep.bench.PlanRules;
import lodestep.bench.TightestTolerance;
import lodestep.cli.ExportWork;
import lodestep.cli.GaugeWork;
import lodestep.cli.KeepWork;
import lodestep.cli.KeepingWork;
import lodestep.cli.PaperWork;
import lodestep.cli.Program;
import lodestep.cli.Refusal;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.config.RigReading;
import lodestep.ledger.MagnetNames;
import lodestep.measure.GaugeCalibration;
import lodestep.port.LedgerArchive;
import lodestep.port.Plot;
import lodestep.port.Tone;

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
    desk()
        .read(
            run, Calibrated.of(run.rig(), run.ledgerFile(), this).calibration(), Diary.of(watcher));
    Diary.ends("read");
  }

  @Override
  public HandOutcome byHand(HandRun run, HandWatcher watcher) {
    boolean real = run.rig().kind() == RigKind.REAL;
    String seed = real ? "" : Long.toString(run.seed());
    Diary.begins("hand", run.rig(), Optional.of(run.ledgerFile()));
    HandOutcome outcome =
        desk().byHand(run, program(run.rig(), seed, run.ledgerFile()), Diary.of(watcher));
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
    return PlanSource.read(planFile, reader(rig, ledgerFile));
  }

  @Override
  public PlanReading setsPlan(Path planFile, RigConfig rig, Path ledgerFile) {
    HandGauges known = HandGauges.of(gauge().gaugeRecord(ledgerFile), Long.MAX_VALUE);
    return PlanSource.read(
        planFile, new PlanReader(PlanRules.of(rig, TightestTolerance.NONE, known)));
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
  public PlanReading planText(String name, String text, RigConfig rig, Path ledgerFile) {
    return reader(rig, ledgerFile).read(name, text);
  }

  @Override
  public PlanReading recordedPlan(String name, String text, RigConfig rig, Path ledgerFile) {
    HandGauges known = HandGauges.of(gauge().gaugeRecord(ledgerFile), Long.MAX_VALUE);
    return LeftOpen.asItStood(rig, known, name, text);
  }

  /** A plan of our own, which no hand gauge tells. */
  PlanReading planText(String name, String text, RigConfig rig) {
    return reader(rig, HandGauges.NONE, Calibrated.nominal(rig), NestSeatings.USUAL)
        .read(name, text);
  }

  private PlanReader reader(RigConfig rig, Path ledgerFile) {
    HandGauges known = HandGauges.of(gauge().gaugeRecord(ledgerFile), Long.MAX_VALUE);
    return reader(
        rig,
        known,
        Calibrated.of(rig, ledgerFile, this).calibration(),
        NestSeatings.of(gauge().studies(ledgerFile)));
  }

  static PlanReader reader(
      RigConfig rig, HandGauges known, GaugeCalibration gauge, NestSeatings seatings) {
    return new PlanReader(PlanRules.of(rig, TightestTolerance.of(gauge, seatings), known));
  }

  @Override
  public KeepingWork keeping() {
    return new KeepingDesk(this, monotonic, wall, outside);
  }

  @Override
  public GaugeWork gauge() {
    return new GaugeDesk(this, desk());
  }

  /** What day and hour the computer has. */
  Instant now() {
    return wall.now();
  }

  @Override
  public PaperWork papers() {
    return new PaperDesk(this, desk());
  }

  @Override
  public LedgerArchive archive(Path ledgerFile) {
    return LedgerFiles.open(ledgerFile);
  }

  @Override
  public boolean isLedger(Path ledgerFile) {
    return Files.exists(ledgerFile);
  }

  @Override
  public MagnetNames namesOnRecord(Path ledgerFile) {
    return LedgerFiles.names(ledgerFile);
  }

  @Override
  public Path usualLedger(RigConfig rig) {
    return LedgerFiles.usual(rig.name(), rig.kind().word());
  }

  @Override
  public KeepWork keep() {
    return new KeepDesk(monotonic, wall);
  }

  @Override
  public ExportWork exports() {
    return new ExportDesk(wall.now());
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
  public List<Figure> recordFigures(long largest, Consumer<String> progress) {
    return new RecordFigures(monotonic, largest, progress).all();
  }

  @Override
  public SoakFigures soak(SoakOrder order, SoakWatcher watcher) {
    return new SoakDesk(monotonic, Calibrated::nominal).soak(order, watcher);
  }

  @Override
  public RigConfig soakRig(String kind) {
    return SoakDesk.rig(kind);
  }

  @Override
  public SoakReplay replay(Optional<RigConfig> rig, Path savedRun) {
    return new SoakDesk(monotonic, Calibrated::nominal)
        .replay(rig, savedRun, (text, of) -> understood(planText("soak", text, of)));
  }

  static Plan understood(PlanReading reading) {
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
  public void serve(Serve serve, Consumer<String> say) {
    Diary.begins("run", serve.rig(), Optional.of(serve.ledgerFile()));
    new RunDesk(this, outside).serve(serve, say);
    Diary.ends("run");
  }

  @Override
  public Outcome run(Run run, Watcher watcher) {
    Diary.begins("batch", run.rig(), Optional.of(run.ledgerFile()));
    Outcome outcome = new BatchDesk(this, monotonic, wall, outside).run(run, Diary.of(watcher));
    Diary.ends(
        "batch"
            + (outcome.stopped() ? ", stopped" : "")
            + (outcome.tripped() ? ", tripped on the way" : ""));
    return outcome;
  }

  /**
   * The program as it says on record. In virtual time the wall clock is made up, so it is not
   * synchronised, whatever the machine.
   */
  LedgerStart.Program program(RigConfig rig, String virtualSeed, Calibrated gauge) {
    boolean synchronised = rig.kind() == RigKind.REAL && wall.synchronised();
    return new LedgerStart.Program(
        version(), virtualSeed, synchronised, gauge.calibration(), gauge.source());
  }

  LedgerStart.Program program(RigConfig rig, String virtualSeed, Path ledgerFile) {
    return program(rig, virtualSeed, Calibrated.of(rig, ledgerFile, this));
  }
}
