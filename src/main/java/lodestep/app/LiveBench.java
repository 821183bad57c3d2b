package lodestep.app;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Locale;
import java.util.Optional;
import lodestep.adapter.serial.SerialHeadLink;
import lodestep.adapter.sqlite.SqliteLedger;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.app.remote.LiveRig;
import lodestep.app.remote.RigOrder;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.bench.LedgerStart;
import lodestep.bench.NestSeatings;
import lodestep.bench.Plan;
import lodestep.config.HeadConfig;
import lodestep.config.RigConfig;
import lodestep.dial.PlannerMode;
import lodestep.interlock.HeadBuild;
import lodestep.interlock.InterlockSettings;
import lodestep.ledger.LedgerBinding;
import lodestep.port.EventStore;
import lodestep.port.MonotonicClock;
import lodestep.port.OutputLine;
import lodestep.port.Trip;
import lodestep.scan.ScanPorts;

/**
 * The whole host in real time against a virtual bench that runs in real time beside it, for
 * measuring. Ends with {@link #close}; nothing is left running.
 */
final class LiveBench implements AutoCloseable {

  private static final String SERIAL_NUMBER = "MEASURE-1";
  private static final long SEED = 1;

  /** Twenty minutes of wakes; more than any measuring takes. */
  private static final int WAKES_MAX = 240_000;

  /** Longer than the loop's own patience and every bound of what it closes, together. */
  private static final long JOIN_MAX_MS = 60_000;

  private static final long BUSY_WAIT_NS = 60_000_000_000L;

  /** More magnets than a measuring can dial. */
  private static final String PLAN =
      """
      name,alloy,shape,size,nest,pole up,target,tolerance,count
      a,alnico 5,rod,4.9 x 16.5 mm,,north,620 G,9 G,400
      """;

  private final LiveRig rig;
  private final RealBench bench;
  private final EventStore store;
  private final WatchedPace pace;
  private final Thread control;

  private LiveBench(LiveRig rig, RealBench bench, EventStore store, WatchedPace pace) {
    this.rig = rig;
    this.bench = bench;
    this.store = store;
    this.pace = pace;
    this.control = new Thread(bench::run, "control");
    // One that hangs must not keep the program from ending.
    this.control.setDaemon(true);
    rig.onContinue(() -> bench.offer(lodestep.port.Command.CONTINUE));
    control.start();
  }

  /** Makes such benches, each with port and ledger of its own. */
  record Maker(Wiring wiring, MonotonicClock clock, RigConfig rig) {

    /**
     * Starts one.
     *
     * @param folder in which port and ledger get this name
     * @throws IOException when it cannot be started; its message is one sentence for a person
     */
    LiveBench start(Path folder, String name) throws IOException {
      Path port = folder.resolve(name + "-head");
      HeadConfig.SerialHead head = new HeadConfig.SerialHead(port.toString(), SERIAL_NUMBER);
      RigConfig onALine = rig.with(head);
      Plan plan = (Plan) wiring.planText("figures", PLAN, onALine);
      Batch batch = batch(plan, onALine);
      LedgerBinding binding = new LedgerBinding(onALine.name(), onALine.kind());
      EventStore store =
          SqliteStore.open(
              folder.resolve(name + ".ledger"), binding, clock.nowNs(), Instant.ofEpochSecond(0));
      Stock stock = new Stock(SEED, store);
      LiveRig live =
          LiveRig.start(
              new RigOrder(
                  onALine,
                  Stock.firstNest(batch, onALine),
                  stock.rigSeed(batch),
                  stock.operatorSeed(batch),
                  stock.pieces(batch)));
      WatchedPace pace = new WatchedPace(new RealPace(clock), WAKES_MAX);
      SerialHeadLink link = SerialHeadLink.to(port, clock);
      Optional<String> objection =
          HeadStart.objection(link, head, wanted(onALine), new RealPace(clock));
      if (objection.isPresent()) {
        link.close();
        live.close();
        store.close();
        throw new IOException(objection.get());
      }
      ScanPorts ports = ports(live, link, store);
      LedgerStart start =
          LedgerStart.of(
              store,
              onALine,
              wiring.program(onALine, Long.toString(SEED), Calibrated.nominally(onALine)));
      return new LiveBench(live, new RealBench(onALine, ports, pace, batch, start), store, pace);
    }

    private ScanPorts ports(LiveRig live, SerialHeadLink link, EventStore store) {
      return new ScanPorts(
          live,
          link,
          new SqliteLedger(store),
          new WorkerDesk(),
          () -> Instant.ofEpochSecond(0).plusNanos(clock.nowNs()));
    }

    private static Optional<HeadBuild> wanted(RigConfig rig) {
      return Optional.of(HeadBuild.of(InterlockSettings.of(rig)));
    }
  }

  LiveRig rig() {
    return rig;
  }

  WatchedPace pace() {
    return pace;
  }

  Optional<Trip> tripped() {
    return bench.snapshot().trip();
  }

  /** Waits until the rig holds a bank: from there a trip has something to let go of. */
  void awaitBusy(Pace waits) throws IOException {
    long fromNs = waits.nowNs();
    while (!bench.snapshot().driven().isHigh(OutputLine.BANK_HOLD)) {
      if (waits.nowNs() - fromNs > BUSY_WAIT_NS) {
        throw new IOException(
            "a rig in real time did not begin to work within "
                + BUSY_WAIT_NS / 1_000_000_000L
                + " s"
                + tripped().map(trip -> " (" + trip.cause().what() + ")").orElse("")
                + "; measure again when this computer has less to do");
      }
      waits.until(waits.nowNs() + 1_000_000L);
    }
  }

  /** What the loop did while it was measured, in words. */
  String words(int wakes, Lateness late) {
    var times = bench.snapshot().times();
    return String.format(
        Locale.ROOT,
        "%,d scans due every 5 ms, of a batch on a serial line; %s; since the start %,d of %,d"
            + " scans more than 20 ms late%s",
        wakes,
        late.worstWritten(),
        times.overruns(),
        times.scans(),
        tripped().map(trip -> "; tripped: " + trip.cause().what()).orElse(""));
  }

  /** Stops the loop and ends everything. */
  @Override
  public void close() {
    bench.askStop();
    try {
      control.join(JOIN_MAX_MS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } finally {
      rig.close();
      store.close();
    }
  }

  private static Batch batch(Plan plan, RigConfig rig) {
    return PlanSource.batch(
        plan,
        0,
        Entry.planned(plan.rows(), rig),
        PlannerMode.CURVE,
        Calibrated.nominal(rig),
        NestSeatings.USUAL);
  }
}
