package lodestep.app;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.stream.Stream;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.bench.LedgerStart;
import lodestep.bench.NestSeatings;
import lodestep.bench.Plan;
import lodestep.cli.Program.Figure;
import lodestep.config.RigConfig;
import lodestep.dial.PlannerMode;
import lodestep.dial.Progress;
import lodestep.dial.Verdict;
import lodestep.ledger.LedgerBinding;
import lodestep.port.EventStore;
import lodestep.port.MonotonicClock;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualLedger;

/** Measures the program on the machine it runs on. One thread. */
final class Figures {

  /** Virtual time is measured over at least this much of it, after a run to warm up. */
  private static final double RIG_SECONDS_MIN = 1800;

  private static final int WARM_UPS = 3;
  private static final int STARTS = 5;
  private static final long START_LIMIT_SECONDS = 60;

  /** Rods and bars of several alloys and levels, enough of each for a mean. */
  private static final String PLAN =
      """
      name,alloy,shape,size,nest,pole up,target,tolerance,count
      a,alnico 5,rod,4.9 x 16.5 mm,,north,620 G,9 G,12
      b,alnico 5,rod,4.9 x 16.5 mm,,south,430 G,9 G,12
      c,alnico 2,rod,5.1 x 18 mm,,north,390 G,8 G,12
      d,alnico 3,rod,5.1 x 18 mm,,south,310 G,8 G,12
      e,alnico 5,bar,58 x 11.5 x 3.4 mm,bar nest,north,360 G,7 G,12
      """;

  private final Wiring wiring;
  private final MonotonicClock clock;
  private final RigConfig rig;
  private final Consumer<String> progress;
  private final List<Figure> figures = new ArrayList<>();

  Figures(Wiring wiring, MonotonicClock clock, RigConfig rig, Consumer<String> progress) {
    this.wiring = wiring;
    this.clock = clock;
    this.rig = rig;
    this.progress = progress;
  }

  List<Figure> all() {
    try {
      Path folder = Files.createTempDirectory("lodestep-figures");
      try {
        speeds(folder);
        firstReading(folder);
      } finally {
        delete(folder);
      }
    } catch (IOException failed) {
      throw new UncheckedIOException(failed);
    }
    pulses(PlannerMode.CURVE);
    pulses(PlannerMode.SMALL_STEPS);
    return List.copyOf(figures);
  }

  private void speeds(Path folder) {
    progress.accept("warming up ...");
    for (int warm = 0; warm < WARM_UPS; warm++) {
      run(PlannerMode.CURVE, new VirtualLedger(1));
    }
    progress.accept("measuring the speed of virtual time, ledger in memory ...");
    speed("ledger in memory", new VirtualLedger(1));
    progress.accept("measuring the speed of virtual time, SQLite beside ...");
    LedgerBinding binding = new LedgerBinding(rig.name(), rig.kind());
    EventStore store =
        SqliteStore.open(
            folder.resolve("speed.ledger"), binding, clock.nowNs(), Instant.ofEpochSecond(0));
    speed("SQLite beside", new VirtualLedger(1, store));
  }

  private void speed(String what, VirtualLedger ledger) {
    ThreadMXBean threads = ManagementFactory.getThreadMXBean();
    double coreSeconds = 0;
    double wallSeconds = 0;
    double rigSeconds = 0;
    long scans = 0;
    VirtualLedger next = ledger;
    while (rigSeconds < RIG_SECONDS_MIN) {
      long begunNs = clock.nowNs();
      long coreNs = threads.getCurrentThreadCpuTime();
      VirtualBench bench = run(PlannerMode.CURVE, next);
      coreSeconds += (threads.getCurrentThreadCpuTime() - coreNs) * 1e-9;
      wallSeconds += (clock.nowNs() - begunNs) * 1e-9;
      rigSeconds += rigSeconds(bench);
      scans += bench.scan().snapshot().times().scans();
      next = new VirtualLedger(1);
    }
    long due = Math.round(rigSeconds * 1e9 / rig.limits().scanPeriodNs());
    add(
        "virtual seconds a second of one core, " + what,
        String.format(Locale.ROOT, "%,.0f", rigSeconds / coreSeconds),
        String.format(
            Locale.ROOT,
            "whole host, one thread, %,d scans of %,d due; by the wall clock %,.0f",
            scans,
            due,
            rigSeconds / wallSeconds));
  }

  private static double rigSeconds(VirtualBench bench) {
    return (bench.rig().clock().nowNs() - lodestep.sim.VirtualRig.START_NS) * 1e-9;
  }

  private VirtualBench run(PlannerMode mode, VirtualLedger ledger) {
    Plan plan = (Plan) wiring.planText("figures", PLAN, rig);
    Batch batch =
        PlanSource.batch(
            plan,
            0,
            Entry.planned(plan.rows(), rig),
            mode,
            Calibrated.nominal(rig),
            NestSeatings.USUAL);
    VirtualBench bench =
        new VirtualBench(
            new VirtualBench.Setup(rig, 1, FaultPlan.NONE, Instant.ofEpochSecond(0)),
            batch,
            LedgerStart.of(
                ledger.archive(), rig, wiring.program(rig, "1", Calibrated.nominally(rig))),
            ledger);
    while (!bench.done() && !bench.gaveUp()) {
      bench.runScan();
    }
    bench.close();
    return bench;
  }

  private void pulses(PlannerMode mode) {
    progress.accept("counting pulses, planner: " + mode.word() + " ...");
    List<Entry> entries = run(mode, new VirtualLedger(1)).job().batch().entries();
    List<Integer> counts =
        entries.stream()
            .flatMap(entry -> entry.result().map(Progress::counts).stream())
            .map(Progress.Counts::knockDowns)
            .sorted()
            .toList();
    long accepted =
        entries.stream()
            .filter(
                entry -> entry.end().filter(end -> end.verdict() == Verdict.ACCEPTED).isPresent())
            .count();
    int recharges =
        entries.stream()
            .flatMap(entry -> entry.result().map(Progress::counts).stream())
            .mapToInt(Progress.Counts::recharges)
            .sum();
    add(
        "knock-down pulses a magnet, " + mode.word(),
        String.format(
            Locale.ROOT,
            "%.1f",
            counts.stream().mapToInt(Integer::intValue).average().orElse(Double.NaN)),
        String.format(
            Locale.ROOT,
            "%d magnets, %d to %d pulses; %d accepted, %d charged again",
            entries.size(),
            counts.get(0),
            counts.get(counts.size() - 1),
            accepted,
            recharges));
  }

  /** From starting the program anew, as a shell does, to the line of its first reading. */
  private void firstReading(Path folder) throws IOException {
    progress.accept("measuring the time to the first reading ...");
    List<Double> seconds = new ArrayList<>();
    for (int start = 0; start < STARTS; start++) {
      seconds.add(oneStart(folder.resolve("start-" + start + ".ledger")));
    }
    seconds.sort(Comparator.naturalOrder());
    add(
        "seconds from ./lodestep to the first reading",
        String.format(Locale.ROOT, "%.2f", seconds.get(STARTS / 2)),
        String.format(
            Locale.ROOT,
            "median of %d starts of 'dial', worst %.2f s",
            STARTS,
            seconds.get(STARTS - 1)));
  }

  private double oneStart(Path ledger) throws IOException {
    List<String> command = new ArrayList<>(List.of(launcher().toString(), "dial"));
    command.addAll(List.of("--alloy", "alnico 5", "--size", "4.9 x 16.5 mm", "--pole-up", "north"));
    command.addAll(
        List.of("--target", "620 G", "--tolerance", "9 G", "--ledger", ledger.toString()));
    long begunNs = clock.nowNs();
    Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
    double seconds = Double.NaN;
    try (BufferedReader lines = process.inputReader(StandardCharsets.UTF_8)) {
      for (String line = lines.readLine(); line != null; line = lines.readLine()) {
        if (Double.isNaN(seconds) && line.contains("as found")) {
          seconds = (clock.nowNs() - begunNs) * 1e-9;
        }
      }
      boolean ended = process.waitFor(START_LIMIT_SECONDS, TimeUnit.SECONDS);
      if (!ended || Double.isNaN(seconds)) {
        throw new IllegalStateException("'lodestep dial' showed no reading; run it by hand");
      }
    } catch (InterruptedException interrupted) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("interrupted while measuring", interrupted);
    } finally {
      process.destroyForcibly();
    }
    return seconds;
  }

  /** The launcher tells where it stands. */
  private static Path launcher() {
    String home = System.getProperty("lodestep.home");
    if (home == null) {
      throw new IllegalStateException("start this with ./lodestep, whose start is measured");
    }
    return Path.of(home, "lodestep");
  }

  private void add(String what, String value, String how) {
    figures.add(new Figure(what, value, how));
  }

  private static void delete(Path folder) throws IOException {
    try (Stream<Path> inside = Files.walk(folder)) {
      for (Path path : inside.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(path);
      }
    }
  }
}
