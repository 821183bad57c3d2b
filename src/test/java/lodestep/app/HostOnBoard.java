package lodestep.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.BiFunction;
import java.util.function.LongConsumer;
import java.util.function.UnaryOperator;
import lodestep.adapter.gpio.MockBoard;
import lodestep.adapter.serial.Polling;
import lodestep.app.remote.RemoteRig;
import lodestep.app.remote.RigOrder;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.Entry;
import lodestep.bench.LedgerStart;
import lodestep.bench.NestSeatings;
import lodestep.bench.PlanRow;
import lodestep.config.HeadConfig;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import lodestep.config.RigReading;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.dial.RigMemory;
import lodestep.dial.Task;
import lodestep.ledger.Chain;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.MemoryStore;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.Shape;
import lodestep.measure.GaugeCalibration;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.HeadLink;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.scan.ScanPorts;
import lodestep.scan.Snapshot;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualPlanDesk;
import lodestep.sim.VirtualRig;
import lodestep.sim.VirtualWallClock;

/**
 * The host as it runs on a real rig, its loop and a board's lines included, with the virtual plant
 * behind the board's pins, and its head on a cable inside the program or on a serial line. Time
 * moves when the loop waits: the pins drive the plant, and its contacts stand at the pins when the
 * scan comes. One thread, but for those of a serial line.
 *
 * <p>A rig that names pins has those and no others. Lamps it has no pin for are seen on the screen
 * by whoever stands at the rig.
 */
final class HostOnBoard implements AutoCloseable {

  static final RigConfig RIG = ReferenceRig.virtual();
  static final Instant WALL = Instant.parse("2031-03-04T08:00:00Z");

  private static final Outputs LAMPS =
      Outputs.high(
          OutputLine.LAMP_READY,
          OutputLine.LAMP_BUSY,
          OutputLine.LAMP_ACCEPT,
          OutputLine.LAMP_REFUSE,
          OutputLine.BUZZER);

  final MockBoard board = new MockBoard();
  final MemoryStore store;
  final VirtualLedger ledger;
  final VirtualWallClock wall;
  final RealBench bench;
  private final Behind behind;
  private final HandPace pace;
  private final Outputs onScreen;
  private final RigConfig config;
  private LongConsumer eachScan = nowNs -> {};

  /** A batch, and what the ledger left. */
  private record Work(Batch batch, RigConfig config, LedgerStart start) {
    static Work fresh(Batch batch, RigConfig config) {
      return new Work(batch, config, new LedgerStart(prologue(), Optional.empty()));
    }
  }

  private HostOnBoard(Work work, long seed, MemoryStore store, Behind behind) {
    this.store = store;
    this.ledger = new VirtualLedger(seed, store);
    this.behind = behind;
    this.wall = new VirtualWallClock(behind.clock(), WALL);
    this.config = work.config();
    this.onScreen = config.pins().isEmpty() ? Outputs.ALL_LOW : lampsWithout(config.pins());
    ScanPorts ports =
        new ScanPorts(
            board.open(config.pins().isEmpty() ? MockBoard.allPins() : config.pins()),
            behind.head(),
            ledger,
            new VirtualPlanDesk(behind.clock(), VirtualPlanDesk.USUAL_DELAY_NS),
            wall);
    this.pace = new HandPace(behind.clock().nowNs() + config.limits().scanPeriodNs());
    pace.meanwhile(this::meanwhile);
    this.bench = new RealBench(config, ports, pace, work.batch(), work.start());
  }

  private static Outputs lampsWithout(Map<String, Integer> pins) {
    Outputs without = LAMPS;
    for (OutputLine line : LAMPS.lines()) {
      without = without.with(line, !pins.containsKey(line.name().toLowerCase(Locale.ROOT)));
    }
    return without;
  }

  /** A ledger of this rig with nothing in it but its creation. */
  static MemoryStore newLedger(RigConfig config) {
    MemoryStore store = new MemoryStore();
    LedgerEvent created = new LedgerBinding(config.name(), config.kind()).created();
    store.commit(Chain.link(ChainEnd.EMPTY, List.of(new EventDraft(created, 0, WALL))));
    return store;
  }

  /** A rig of those shipped for a board. */
  static RigConfig shipped(String name) {
    Path folder = Path.of(System.getProperty("lodestep.repository"), "firmware-host", "board");
    try {
      return ((RigReading.Rig) RigFile.read(name, Files.readString(folder.resolve(name)))).config();
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    }
  }

  /** With everything in this program. */
  static HostOnBoard inside(Batch batch, long seed) {
    return inside(batch, seed, RIG, FaultPlan.NONE);
  }

  /** With everything in this program, whatever line the head of this rig is on. */
  static HostOnBoard inside(Batch batch, long seed, RigConfig config, FaultPlan faults) {
    return inside(batch, seed, config, faults, (rig, link) -> link);
  }

  /**
   * @param between what is done to the rig's link before the host has it
   */
  static HostOnBoard inside(
      Batch batch,
      long seed,
      RigConfig config,
      FaultPlan faults,
      BiFunction<VirtualRig, HeadLink, HeadLink> between) {
    MemoryStore store = newLedger(config);
    Stock stock = new Stock(seed, store);
    VirtualRig rig = new VirtualRig(config, ReferenceRig.ROD_NEST, seed, faults);
    HeadLink link = between.apply(rig, rig.headLink());
    return new HostOnBoard(
        Work.fresh(batch, config),
        seed,
        store,
        Behind.Inside.of(rig, Behind.kept(link), batch, stock));
  }

  /**
   * The program started anew at the same rig, whose head has gone on, with what the dead one's
   * ledger holds; its board's lines have been low since.
   */
  static HostOnBoard after(HostOnBoard dead, Batch batch, long seed) {
    LedgerStart.Program program =
        new LedgerStart.Program("test", "", false, batch.calibration(), "nominal");
    LedgerStart start = LedgerStart.of(dead.store, dead.config, program);
    // What has piled up at a port that nobody read is dropped when it is opened.
    dead.behind.head().take();
    return new HostOnBoard(new Work(batch, dead.config, start), seed, dead.store, dead.behind);
  }

  /**
   * With the rig in a process of its own, and its head on a pseudo-terminal at the port it names.
   *
   * @param faults of the rig, in its own time
   */
  static HostOnBoard onALine(Batch batch, long seed, RigConfig config, FaultPlan faults)
      throws IOException {
    return onALine(batch, seed, config, faults, link -> link);
  }

  /**
   * @param between what is done to the link before the host has it
   */
  static HostOnBoard onALine(
      Batch batch, long seed, RigConfig config, FaultPlan faults, UnaryOperator<HeadLink> between)
      throws IOException {
    MemoryStore store = newLedger(config);
    Stock stock = new Stock(seed, store);
    RigOrder order =
        new RigOrder(
            config,
            Stock.firstNest(batch, config),
            stock.rigSeed(batch),
            stock.operatorSeed(batch),
            stock.pieces(batch));
    RemoteRig rig = RemoteRig.start(order.with(faults));
    return new HostOnBoard(
        Work.fresh(batch, config),
        seed,
        store,
        new Behind.OnALine(rig, Behind.kept(between.apply(rig.head()))));
  }

  /** Ends what holds the line, and waits until the host has seen it go. */
  void pullCable() {
    remote().process().descendants().forEach(ProcessHandle::destroyForcibly);
    Polling.until("the host to see the cable pulled", () -> !remote().head().state(nowNs()).open());
  }

  /** Lays the line again. */
  void plugIn() {
    try {
      remote().plugIn();
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }

  /** The rig with its head on a line at this port. */
  static RigConfig at(Path port, RigConfig rig) {
    return rig.with(new HeadConfig.SerialHead(port.toString(), "LINE-07"));
  }

  /** What a test does before each scan. */
  HostOnBoard eachScan(LongConsumer act) {
    eachScan = act;
    return this;
  }

  private void meanwhile(long nowNs) {
    runPlant(nowNs);
    ledger.advance(nowNs);
    board.contacts(behind.lines().read(nowNs));
    eachScan.accept(nowNs);
  }

  /** Moves the plant on to this time, driven by whatever stands at the pins. */
  void runPlant(long untilNs) {
    Snapshot snapshot = bench.snapshot();
    int screen = snapshot.driven().only(onScreen).highBits();
    behind.lines().drive(new Outputs(board.standing().highBits() | screen));
    HandCue cue = snapshot.job() instanceof BatchJob job ? job.cue() : HandCue.of(HandAsk.WAIT);
    behind.runTo(untilNs, cue, bench::offer);
  }

  /**
   * Holds the host up before its next scan, as when its process is stopped; the rig goes on.
   *
   * @param each is told each millisecond of it
   */
  void pause(long forNs, LongConsumer each) {
    long untilNs = nowNs() + forNs;
    pace.pass(forNs);
    while (nowNs() - untilNs < 0) {
      runPlant(nowNs() + VirtualRig.STEP_NS);
      each.accept(nowNs());
    }
    ledger.advance(nowNs());
    board.contacts(behind.lines().read(nowNs()));
  }

  long nowNs() {
    return behind.clock().nowNs();
  }

  /** The rig, where it is in this program. */
  VirtualRig rig() {
    return ((Behind.Inside) behind).rig();
  }

  /** The rig, where its head is on a line. */
  RemoteRig remote() {
    return ((Behind.OnALine) behind).rig();
  }

  @Override
  public void close() {
    behind.close();
  }

  static Batch oneRod() {
    return oneRod(RIG);
  }

  static Batch oneRod(RigConfig rig) {
    PlanRow row =
        new PlanRow(
            1,
            "rod",
            Optional.empty(),
            AlloyBook.standard().find("alnico 5").orElseThrow(),
            new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5)),
            rig.nest(ReferenceRig.ROD_NEST),
            PoleUp.NORTH,
            new Task.ToLevel(FluxDensity.ofGauss(640), FluxDensity.ofGauss(12)),
            1);
    return new Batch(
        "board",
        "0".repeat(64),
        "",
        0,
        Entry.planned(List.of(row), rig),
        PlannerMode.CURVE,
        RigMemory.none(),
        Optional.empty(),
        new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001),
        0,
        NestSeatings.USUAL);
  }

  static List<LedgerEvent> prologue() {
    return List.of(
        new LedgerEvent.ProgramStarted("test", "", "", false),
        new LedgerEvent.CalibrationSet(500_000, 0, 2000, 1000, "nominal"));
  }
}
