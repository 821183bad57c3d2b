package lodestep.app;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InterfaceAddress;
import java.net.NetworkInterface;
import java.net.SocketException;
import java.net.UnknownHostException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.clock.SystemWallClock;
import lodestep.adapter.sqlite.SqliteLedger;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.app.remote.HeadCable;
import lodestep.bench.Continuation;
import lodestep.bench.LedgerStart;
import lodestep.bench.Standby;
import lodestep.cli.Program;
import lodestep.cli.Refusal;
import lodestep.config.HeadConfig;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.ledger.LedgerBinding;
import lodestep.panel.Access;
import lodestep.panel.PanelServer;
import lodestep.port.Command;
import lodestep.port.EventStore;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerException;
import lodestep.scan.CycleTimes;
import lodestep.scan.ScanPorts;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualPlanDesk;
import lodestep.sim.VirtualRig;
import lodestep.sim.VirtualWallClock;

/**
 * A rig that runs and is served as a page, until it is closed. The loop has a thread of its own and
 * begins first; the page comes when it comes.
 */
public final class Served implements AutoCloseable {

  private static final long WAIT_MS = 200;

  private final RealBench bench;
  private final Access access;
  private final PanelServer server;

  private final Shutdown shutdown;

  private Served(RealBench bench, Shutdown shutdown, Access access, PanelServer server) {
    this.bench = bench;
    this.shutdown = shutdown;
    this.access = access;
    this.server = server;
  }

  /** What a start makes before the page is there. */
  private record Begun(RealBench bench, PageBench page, PageBench.Parts parts) {}

  /**
   * Begins to run and to serve.
   *
   * @throws Refusal when rig, ledger or port cannot be had; nothing is held then
   */
  static Served start(Wiring wiring, Program.Serve order, Outside outside) {
    return start(wiring, order, outside, new RealPace(new SystemMonotonicClock()));
  }

  /**
   * The same by this pace of the machine.
   *
   * @throws Refusal when rig, ledger or port cannot be had; nothing is held then
   */
  static Served start(Wiring wiring, Program.Serve order, Outside outside, Pace pace) {
    SystemMonotonicClock monotonic = new SystemMonotonicClock();
    SystemWallClock wall = new SystemWallClock();
    Starting starting = new Starting(wiring, order, outside, monotonic, wall, pace);
    Begun begun = starting.begin();
    RealBench bench = begun.bench();
    Shutdown shutdown = Shutdown.standingBy(bench::askStop, bench::closeLines, System.err::println);
    Thread control = new Thread(bench::run, "control");
    control.start();
    try {
      // Beside the ledger, whose folder is there by now.
      Access access = new Access(PageKey.of(order.ledgerFile()), wall, monotonic);
      PanelServer server =
          PanelServer.start(
              begun.page(),
              new PageShelf(begun.parts(), wall),
              new PageGauge(begun.parts()),
              access,
              monotonic,
              place(order));
      return new Served(bench, shutdown, access, server);
    } catch (IOException refused) {
      end(bench);
      shutdown.close();
      throw new Refusal(String.valueOf(refused.getMessage()));
    } catch (RuntimeException failed) {
      end(bench);
      shutdown.close();
      throw failed;
    }
  }

  private static PanelServer.Place place(Program.Serve order) {
    return order.listen()
        ? new PanelServer.Place("0.0.0.0", order.port(), addresses())
        : new PanelServer.Place("127.0.0.1", order.port(), List.of());
  }

  /** By which a phone on the same network can call this machine. */
  static List<String> addresses() {
    List<String> names = new ArrayList<>();
    try {
      for (NetworkInterface each : NetworkInterface.networkInterfaces().toList()) {
        if (each.isUp() && !each.isLoopback()) {
          each.getInterfaceAddresses().stream()
              .map(InterfaceAddress::getAddress)
              .filter(address -> address.getAddress().length == 4)
              .map(InetAddress::getHostAddress)
              .forEach(names::add);
        }
      }
      String host = InetAddress.getLocalHost().getHostName();
      names.add(host);
      names.add(host + ".local");
    } catch (SocketException | UnknownHostException unknown) {
      // A machine that does not know its own name is called by its address.
      return names;
    }
    return names;
  }

  /** The port of the page. */
  public int port() {
    return server.port();
  }

  /** Every way into the server. */
  public List<String> waysIn() {
    return server.waysIn();
  }

  /** How many pages are open. */
  int readers() {
    return server.readers();
  }

  /** The codes by which a device is paired. */
  public Access access() {
    return access;
  }

  /** The loop behind it. */
  RealBench bench() {
    return bench;
  }

  /** Waits until the loop has ended by itself, or somebody closes this. */
  void awaitEnd() throws InterruptedException {
    boolean over = false;
    while (!over) {
      over = bench.awaitEnd(WAIT_MS);
    }
  }

  /** The page first, so that nobody asks for anything of a rig that ends. */
  @Override
  public void close() {
    server.close();
    end(bench);
    shutdown.close();
  }

  private static void end(RealBench bench) {
    bench.askStop();
    boolean over = false;
    while (!over) {
      try {
        over = bench.awaitEnd(WAIT_MS);
      } catch (InterruptedException asked) {
        Thread.currentThread().interrupt();
        return;
      }
    }
  }

  /** Opens what a rig needs. */
  private record Starting(
      Wiring wiring,
      Program.Serve order,
      Outside outside,
      SystemMonotonicClock monotonic,
      SystemWallClock wall,
      Pace pace) {

    Begun begin() {
      RigConfig rig = order.rig();
      LedgerBinding binding = new LedgerBinding(rig.name(), rig.kind());
      if (rig.kind() == RigKind.REAL && rig.headAlone()) {
        return realHead(binding);
      }
      if (rig.kind() == RigKind.REAL) {
        // Devices first: a rig that is not there leaves no ledger behind.
        RealDevices devices = RealDevices.open(rig, pace, outside.board());
        try {
          return real(devices, opened(binding), pace);
        } catch (Refusal refused) {
          devices.close();
          throw refused;
        }
      }
      return rig.head() instanceof HeadConfig.SerialHead serial
          ? onALine(Path.of(serial.port()), binding)
          : virtual(opened(binding), pace, Optional.empty());
    }

    /** The virtual head's line first, as with all devices. */
    private Begun onALine(Path port, LedgerBinding binding) {
      HeadCable.Loose cable;
      try {
        cable = HeadCable.lay(port);
      } catch (IOException refused) {
        throw new Refusal(String.valueOf(refused.getMessage()));
      }
      try {
        return virtual(opened(binding), pace, Optional.of(cable));
      } catch (RuntimeException refused) {
        cable.close();
        throw refused;
      }
    }

    /** The head first, as with all devices; no line of the board is touched. */
    private Begun realHead(LedgerBinding binding) {
      RealHead head = RealHead.open(order.rig(), wall, pace);
      try {
        return real(new RealDevices(new NoLines(), head.link()), opened(binding), pace);
      } catch (Refusal refused) {
        head.close();
        throw refused;
      }
    }

    private EventStore opened(LedgerBinding binding) {
      try {
        return SqliteStore.open(order.ledgerFile(), binding, monotonic.nowNs(), wall.now());
      } catch (LedgerException refused) {
        throw new Refusal(refused.sentence());
      }
    }

    private Begun real(RealDevices devices, EventStore store, Pace pace) {
      Calibrated by = Calibrated.of(order.rig(), store);
      LedgerStart.Program program = wiring.program(order.rig(), "", by);
      LedgerStart start = LedgerStart.of(store, order.rig(), program);
      Optional<String> open = leftOpen(store);
      ScanPorts ports =
          new ScanPorts(
              devices.lines(), devices.head(), new SqliteLedger(store), new WorkerDesk(), wall);
      return begun(ports, pace, start, program, by, Optional.empty(), open, wall.now());
    }

    private Begun virtual(EventStore store, Pace real, Optional<HeadCable.Loose> cable) {
      RigConfig rig = order.rig();
      VirtualLedger ledger = new VirtualLedger(order.seed(), store);
      Calibrated by = Calibrated.of(rig, ledger.archive());
      LedgerStart.Program program = wiring.program(rig, Long.toString(order.seed()), by);
      LedgerStart start = LedgerStart.of(ledger.archive(), rig, program);
      Optional<String> open = leftOpen(ledger.archive());
      Instant from = KeepingDesk.notBefore(ledger.archive(), wall.now());
      // Another day: the same stock, other noise, another boot of the head.
      long seed = order.seed() * 31 + ledger.archive().newest().number();
      VirtualRig made = new VirtualRig(rig, rig.nests().get(0).name(), seed, outside.broken());
      if (rig.headAlone()) {
        // There is no lid to open.
        made.controls().lid(false);
      }
      VirtualHands hands = new VirtualHands(made, new VirtualSpare(rig, seed), seed);
      Optional<HeadCable> line = cable.map(laid -> laid.plugged(made));
      Runnable step = line.<Runnable>map(laid -> laid::step).orElse(made::step);
      Pace pace = new VirtualPace(made, ledger, hands, step, real, order.speed());
      ScanPorts ports =
          new ScanPorts(
              rig.headAlone() ? new NoLines() : made.lines(),
              line.map(HeadCable::link).orElseGet(made::headLink),
              ledger,
              new VirtualPlanDesk(made.clock(), VirtualPlanDesk.USUAL_DELAY_NS),
              new VirtualWallClock(made.clock(), from));
      return begun(ports, pace, start, program, by, Optional.of(hands), open, from);
    }

    /** By the machine's own clock: that of a virtual rig never shows the machine late. */
    private static CycleTimes times(Pace pace, RealBench bench) {
      return pace instanceof VirtualPace virtual
          ? virtual.times()
          : bench.scan().snapshot().times();
    }

    private static Optional<String> leftOpen(LedgerArchive archive) {
      return Continuation.of(archive).map(going -> going.started().name());
    }

    /** A head alone has no pulses to be asked of; what another rig left open is closed unasked. */
    private Standby waiting(LedgerStart start, Calibrated by) {
      LedgerStart unasked = new LedgerStart(start.prologue(), start.trip());
      return Standby.begin(order.rig().headAlone() ? unasked : start, by.calibration());
    }

    private Begun begun(
        ScanPorts given,
        Pace pace,
        LedgerStart start,
        LedgerStart.Program program,
        Calibrated by,
        Optional<VirtualHands> hands,
        Optional<String> leftOpen,
        Instant from) {
      LiveGauge gauge = new LiveGauge(by.calibration());
      ScanPorts ports =
          new ScanPorts(
              given.lines(),
              gauge.tapped(given.head()),
              given.ledger(),
              given.desk(),
              given.wall());
      RealBench bench = new RealBench(order.rig(), ports, pace, start, waiting(start, by));
      hands.ifPresent(
          at ->
              at.workFor(() -> bench.snapshot().job(), () -> bench.scan().offer(Command.CONTINUE)));
      Path ledgerFile = order.ledgerFile();
      PageWork work = new PageWork(order.rig(), ledgerFile, by.calibration(), order.seed(), from);
      PageBench.Parts parts =
          new PageBench.Parts(
              order.rig(),
              ledgerFile,
              bench.scan(),
              gauge,
              hands,
              program,
              work,
              () -> times(pace, bench),
              hands.isPresent() ? order.speed() : 1);
      return new Begun(bench, new PageBench(parts, leftOpen), parts);
    }
  }
}
