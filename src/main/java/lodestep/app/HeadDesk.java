package lodestep.app;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.BiFunction;
import java.util.function.LongConsumer;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.clock.SystemWallClock;
import lodestep.adapter.sqlite.SqliteLedger;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.app.remote.HandOrder;
import lodestep.bench.Guided;
import lodestep.bench.HandWork;
import lodestep.bench.LedgerStart;
import lodestep.bench.NestSeatings;
import lodestep.bench.PlanRow;
import lodestep.cli.HeadWork;
import lodestep.cli.Refusal;
import lodestep.config.HeadConfig;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.dial.PoleUp;
import lodestep.ledger.Chain;
import lodestep.ledger.GaugeRecord;
import lodestep.ledger.LedgerBinding;
import lodestep.magnet.Shape;
import lodestep.measure.GaugeCalibration;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.EventStore;
import lodestep.port.Ledger;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import lodestep.port.StoredEvent;
import lodestep.quantity.Length;
import lodestep.sim.StockPiece;
import lodestep.sim.VirtualLedger;
import org.tinylog.Logger;

/** Opens a head with nothing driven, real or virtual, and runs what is done with it. */
final class HeadDesk {

  /** A person types no further ahead; what writes lines without end has to wait. */
  private static final int TYPED_AHEAD = 64;

  /** Jaws of strong magnets a hand's breadth wide; common practice, no source. */
  private static final double JAW_AMPERES_PER_METRE = 420e3;

  private final SystemMonotonicClock monotonic;
  private final SystemWallClock wall;
  private final Outside outside;

  HeadDesk(SystemMonotonicClock monotonic, SystemWallClock wall, Outside outside) {
    this.monotonic = monotonic;
    this.wall = wall;
    this.outside = outside;
  }

  void read(HeadWork.ReadRun run, GaugeCalibration calibration, HeadWork.LiveWatcher watcher) {
    HandOrder order = showing(run);
    AtomicBoolean stop = new AtomicBoolean();
    Shutdown shutdown = standingBy(stop);
    try (HeadSource source = source(run.rig(), order)) {
      new LiveRun(source, run, calibration, watcher, typed(), stop::get).toTheEnd();
      source
          .gone()
          .ifPresent(
              why -> {
                throw new Refusal(why);
              });
    } finally {
      shutdown.close();
    }
  }

  HeadWork.HandOutcome byHand(
      HeadWork.HandRun run, LedgerStart.Program program, HeadWork.HandWatcher watcher) {
    LedgerBinding binding = new LedgerBinding(run.rig().name(), run.rig().kind());
    AtomicBoolean stop = new AtomicBoolean();
    Shutdown shutdown = standingBy(stop);
    // The head first: one that is not there leaves no ledger behind.
    try (HeadSource source = source(run.rig(), working(run));
        EventStore store =
            SqliteStore.open(run.ledgerFile(), binding, monotonic.nowNs(), wall.now())) {
      GaugeDesk.requireInControl(GaugeRecord.of(store), List.of(run.row().nest()));
      LedgerStart start = LedgerStart.of(store, run.rig(), program);
      HandWork work =
          HandWork.of(
              run.row(), run.rig(), program.calibration(), NestSeatings.of(store), run.typed());
      boolean real = run.rig().kind() == RigKind.REAL;
      VirtualLedger twin = new VirtualLedger(run.seed(), store);
      Ledger ledger = real ? new SqliteLedger(store) : twin;
      LongConsumer beside = real ? nowNs -> {} : twin::advance;
      return new HandBench(source, work, start, ledger, beside, run.usualGauge())
          .toTheEnd(watcher, typed(), stop::get);
    } catch (LedgerException refused) {
      throw new Refusal(String.valueOf(refused.getMessage()));
    } finally {
      shutdown.close();
    }
  }

  /**
   * Guided work with its record.
   *
   * @param order who is beside a virtual head, with what
   * @param seed of a virtual rig
   */
  record GuidedRun(RigConfig rig, Path ledgerFile, HandOrder order, long seed, String words) {}

  /**
   * Runs it to its end.
   *
   * @param first the job, from what is on record and what this start makes of it
   */
  Guided guided(
      GuidedRun run,
      LedgerStart.Program program,
      BiFunction<EventStore, LedgerStart, Guided> first,
      HeadWork.HandWatcher watcher) {
    RigConfig rig = run.rig();
    LedgerBinding binding = new LedgerBinding(rig.name(), rig.kind());
    boolean real = rig.kind() == RigKind.REAL;
    AtomicBoolean stop = new AtomicBoolean();
    Shutdown shutdown = standingBy(stop);
    // The head first: one that is not there leaves no ledger behind.
    try (HeadSource source = source(rig, run.order());
        EventStore store =
            SqliteStore.open(run.ledgerFile(), binding, monotonic.nowNs(), wall.now())) {
      Guided job = first.apply(store, LedgerStart.of(store, rig, program));
      VirtualLedger twin = new VirtualLedger(run.seed(), store);
      Ledger ledger = real ? new SqliteLedger(store) : twin;
      LongConsumer beside = real ? nowNs -> {} : twin::advance;
      GuidedBench bench =
          new GuidedBench(
              source,
              new GuidedBench.Gauge(program.calibration(), rig.limits()),
              job,
              ledger,
              beside,
              new GuidedBench.Words(run.words(), "", false));
      return bench.toTheEnd(watcher, typed(), stop::get);
    } catch (LedgerException refused) {
      throw new Refusal(String.valueOf(refused.getMessage()));
    } finally {
      shutdown.close();
    }
  }

  /** Puts entries on record in one commit, as a run of the program; where the last one stands. */
  ChainEnd keep(
      RigConfig rig,
      Path ledgerFile,
      LedgerStart.Program program,
      List<LedgerEvent> kept,
      String why) {
    LedgerBinding binding = new LedgerBinding(rig.name(), rig.kind());
    try (EventStore store = SqliteStore.open(ledgerFile, binding, monotonic.nowNs(), wall.now())) {
      List<LedgerEvent> events = new ArrayList<>(LedgerStart.of(store, rig, program).prologue());
      events.addAll(kept);
      events.add(new LedgerEvent.ProgramStopped(why));
      List<StoredEvent> stored =
          Chain.link(
              store.newest(),
              events.stream()
                  .map(each -> new EventDraft(each, monotonic.nowNs(), wall.now()))
                  .toList());
      store.commit(stored);
      return stored.get(stored.size() - 2).end();
    } catch (LedgerException refused) {
      throw new Refusal(String.valueOf(refused.getMessage()));
    }
  }

  private static Shutdown standingBy(AtomicBoolean stop) {
    return Shutdown.standingBy(() -> stop.set(true), () -> {}, System.err::println);
  }

  private HeadSource source(RigConfig rig, HandOrder order) {
    if (rig.kind() == RigKind.REAL) {
      return RealHead.open(rig, wall, new RealPace(monotonic));
    }
    Optional<Pace> watched =
        outside.terminal() ? Optional.of(new RealPace(monotonic)) : Optional.empty();
    if (rig.head() instanceof HeadConfig.VirtualHead) {
      return new InsideHead(rig, order, wall.now(), watched, outside.broken());
    }
    try {
      return RemoteHead.start(rig, order, wall.now(), watched);
    } catch (IOException refused) {
      throw new Refusal(String.valueOf(refused.getMessage()));
    }
  }

  /** Lines as they are typed, read on a thread of its own that keeps no program alive. */
  private Queue<String> typed() {
    BlockingQueue<String> lines = new ArrayBlockingQueue<>(TYPED_AHEAD);
    BufferedReader reader =
        new BufferedReader(new InputStreamReader(outside.typedIn(), StandardCharsets.UTF_8));
    Thread thread = new Thread(() -> readAll(reader, lines), "typed");
    thread.setDaemon(true);
    thread.start();
    return lines;
  }

  private static void readAll(BufferedReader reader, BlockingQueue<String> lines) {
    try {
      for (String line = reader.readLine(); line != null; line = reader.readLine()) {
        lines.put(line);
      }
    } catch (InterruptedException over) {
      Thread.currentThread().interrupt();
    } catch (IOException ended) {
      Logger.info(ended, "nothing more can be typed");
    }
  }

  private static HandOrder working(HeadWork.HandRun run) {
    return working(run.row(), run.seed());
  }

  /** A hand beside a virtual head with one magnet of this row. */
  static HandOrder working(PlanRow row, long seed) {
    StockPiece piece =
        new StockPiece(
            row.alloy().name(),
            row.shape(),
            row.poleUp() == PoleUp.NORTH,
            !row.task().charges(),
            seed * 31 + row.alloy().name().hashCode(),
            seed * 31 + row.nameOf(1).hashCode(),
            row.nest().name(),
            List.of());
    return new HandOrder(
        row.nest().name(),
        seed,
        List.of(piece),
        List.of(JAW_AMPERES_PER_METRE),
        row.shape().height().microMetres());
  }

  /** Three magnets of one kind: charged north, charged south, and as it comes. */
  private static HandOrder showing(HeadWork.ReadRun run) {
    NestConfig nest = run.nest();
    Shape shape = shown(nest.shape());
    List<StockPiece> pieces = new ArrayList<>();
    for (int i = 0; i < LiveRun.Showing.PIECES; i++) {
      long own = run.seed() * 31 + i;
      pieces.add(
          new StockPiece(
              "alnico 3", shape, i == 0, i < 2, run.seed(), own, nest.name(), List.of()));
    }
    return new HandOrder(
        nest.name(),
        run.seed(),
        pieces,
        List.of(JAW_AMPERES_PER_METRE),
        shape.height().microMetres());
  }

  /** A magnet of our own that fits a nest of this shape. */
  static Shape shown(String nestShape) {
    return switch (nestShape) {
      case "rod" -> new Shape.Rod(Length.ofMm(5.1), Length.ofMm(18));
      case "ring" -> new Shape.Ring(Length.ofMm(17.5), Length.ofMm(7.2), Length.ofMm(9.4));
      default ->
          new Shape.Bar(
              Length.ofMm(58), Length.ofMm(11.5), Length.ofMm(2.9), Shape.Axis.THROUGH_WIDTH);
    };
  }
}
