package lodestep.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.stream.Stream;
import lodestep.adapter.serial.SerialHeadLink;
import lodestep.app.remote.LiveRig;
import lodestep.cli.Program.Figure;
import lodestep.config.RigConfig;
import lodestep.port.MonotonicClock;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadRequest;

/**
 * Measures the host in real time: the loop that drives a rig, SQLite and planner with it, against a
 * virtual bench in a process of its own whose head is on a pseudo-terminal. One thread measures.
 */
final class RealTimeFigures {

  private static final long NS_PER_SECOND = 1_000_000_000L;
  private static final long WARM_UP_NS = 10 * NS_PER_SECOND;
  private static final long PHASE_NS = 30 * NS_PER_SECOND;
  private static final int ROUND_TRIPS = 2_000;
  private static final int WARM_UP_TRIPS = 500;
  private static final int PULLS = 3;
  private static final double NS_PER_MS = 1e6;

  private final MonotonicClock clock;
  private final RealPace pace;
  private final LiveBench.Maker maker;
  private final long periodNs;
  private final Consumer<String> progress;
  private final List<Figure> figures = new ArrayList<>();

  RealTimeFigures(Wiring wiring, MonotonicClock clock, RigConfig rig, Consumer<String> progress) {
    this.clock = clock;
    this.pace = new RealPace(clock);
    this.maker = new LiveBench.Maker(wiring, clock, rig);
    this.periodNs = rig.limits().scanPeriodNs();
    this.progress = progress;
  }

  /** Measures a part; what cannot be measured is said in its place, and the rest goes on. */
  private void measured(String what, Part part) {
    try {
      part.measure();
    } catch (IOException failed) {
      add(what, "not measured", String.valueOf(failed.getMessage()));
    }
  }

  /** A part of the measuring, with a rig of its own. */
  private interface Part {
    void measure() throws IOException;
  }

  List<Figure> all() {
    try {
      Path folder = Files.createTempDirectory("lodestep-figures");
      try {
        Optional<PlainLoop> plain = PlainLoop.compiledIn(folder);
        measured("running rig", () -> running(folder, plain));
        measured("serial round trip", () -> roundTrips(folder));
        measured("pulled head", () -> pulledHead(folder));
      } finally {
        delete(folder);
      }
    } catch (IOException failed) {
      throw new UncheckedIOException(failed);
    }
    return List.copyOf(figures);
  }

  private void running(Path folder, Optional<PlainLoop> plain) throws IOException {
    progress.accept("starting a rig in real time, and warming up ...");
    try (LiveBench bench = maker.start(folder, "running")) {
      pace.until(clock.nowNs() + WARM_UP_NS);
      progress.accept("measuring the loop, nothing else running ...");
      phase("idle", bench, plain);
      progress.accept("measuring the loop, every processor kept busy twice over ...");
      List<Process> busy = busy();
      try {
        phase("loaded", bench, plain);
      } finally {
        busy.forEach(Process::destroyForcibly);
      }
    }
  }

  private static List<Process> busy() throws IOException {
    List<Process> started = new ArrayList<>();
    for (int i = 0; i < 2 * Runtime.getRuntime().availableProcessors(); i++) {
      started.add(new ProcessBuilder("sh", "-c", "while :; do :; done").start());
    }
    return started;
  }

  private void phase(String name, LiveBench bench, Optional<PlainLoop> plain) throws IOException {
    Optional<Process> loop =
        plain.isPresent()
            ? Optional.of(plain.get().start(periodNs, PHASE_NS / periodNs))
            : Optional.empty();
    int from = bench.pace().count();
    long cpuNs = cpuNs();
    long fromNs = clock.nowNs();
    pace.until(fromNs + PHASE_NS);
    double processors = (double) (cpuNs() - cpuNs) / (clock.nowNs() - fromNs);
    long[] wakes = bench.pace().between(from, bench.pace().count());
    Lateness ours = Lateness.of(wakes);
    add("scan late, " + name + ", p50/p99/p99.9", ours.written(), bench.words(wakes.length, ours));
    if (loop.isPresent()) {
      Lateness theirs = PlainLoop.result(loop.get());
      add(
          "plain C loop late, " + name + ", p50/p99/p99.9",
          theirs.written(),
          "same period, at the same time; " + theirs.worstWritten());
    } else {
      add("plain C loop late, " + name, "-", "cc is not there, or did not compile it");
    }
    add(
        "processor of a running rig, " + name,
        String.format(Locale.ROOT, "%.1f %%", 100 * processors),
        "of one processor, this process with loop, serial line, planner and ledger");
    if (name.equals("idle")) {
      add("memory of a running rig", resident(), "resident, this process; heap as the JVM chose");
    }
  }

  private static long cpuNs() {
    return ((com.sun.management.OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean())
        .getProcessCpuTime();
  }

  private static String resident() throws IOException {
    for (String line : Files.readAllLines(Path.of("/proc/self/status"))) {
      if (line.startsWith("VmRSS:")) {
        long kibibytes = Long.parseLong(line.replaceAll("\\D", ""));
        return String.format(Locale.ROOT, "%d MB", Math.round(kibibytes * 1024 / 1e6));
      }
    }
    return "not told by this system";
  }

  private void roundTrips(Path folder) throws IOException {
    progress.accept("measuring round trips over the serial line ...");
    Path port = folder.resolve("echo");
    try (LiveRig echo = LiveRig.startEcho(port);
        SerialHeadLink link = SerialHeadLink.to(port, clock)) {
      requireOpen(link);
      if (!echo.process().isAlive()) {
        throw new IOException("the head to measure round trips with has ended; measure again");
      }
      long[] trips = new long[ROUND_TRIPS];
      int lost = 0;
      for (int i = -WARM_UP_TRIPS; i < ROUND_TRIPS; i++) {
        long tripNs = roundTrip(link, i & 0xffff);
        lost += tripNs < 0 ? 1 : 0;
        if (i >= 0) {
          trips[i] = Math.max(0, tripNs);
        }
        // As far apart as scans are, so that both threads sleep in between as they do on a rig.
        pace.until(clock.nowNs() + periodNs);
      }
      Lateness all = Lateness.of(trips);
      add(
          "serial round trip, p50/p99/p99.9",
          all.written(),
          String.format(
              Locale.ROOT,
              "heartbeat out, status line back, pseudo-terminal, head in a process of its own; %d"
                  + " trips, %d lost, %s; a real wire adds 9 ms at 115,200 baud",
              ROUND_TRIPS,
              lost,
              all.worstWritten()));
    }
  }

  private void requireOpen(SerialHeadLink link) throws IOException {
    try {
      link.awaitFirstOpening(TimeUnit.SECONDS.toMillis(10));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    if (!link.state(clock.nowNs()).open()) {
      throw new IOException(link.state(clock.nowNs()).words());
    }
  }

  /** Time to the answer as it was received; negative when none has come within a second. */
  private long roundTrip(SerialHeadLink link, int sequence) {
    link.take();
    long fromNs = clock.nowNs();
    link.offer(new HeadRequest.Heartbeat(sequence, false));
    while (clock.nowNs() - fromNs < NS_PER_SECOND) {
      List<ReceivedFrame> came = link.take();
      if (!came.isEmpty()) {
        return came.get(0).receivedAtNs() - fromNs;
      }
      pace.until(clock.nowNs() + 20_000L);
    }
    return -1;
  }

  private void pulledHead(Path folder) throws IOException {
    List<Double> pulled = new ArrayList<>();
    List<Double> silent = new ArrayList<>();
    for (int pull = 0; pull < PULLS; pull++) {
      progress.accept(
          "measuring how soon a pulled head is noticed, " + (pull + 1) + " of " + PULLS);
      pulled.add(noticed(folder, "pulled-" + pull, LiveRig::pullCable));
      silent.add(noticed(folder, "silent-" + pull, rig -> freeze(rig.process())));
    }
    add(
        "pulled head noticed after",
        String.format(Locale.ROOT, "%.0f ms", median(pulled)),
        said("from ending the line to the trip, outputs low with it", pulled));
    add(
        "silent head noticed after",
        String.format(Locale.ROOT, "%.0f ms", median(silent)),
        said("from stopping the head's process to the trip; the limit is 150 ms", silent));
  }

  private static String said(String how, List<Double> all) {
    return String.format(
        Locale.ROOT, "%s; median of %d, worst %.0f ms", how, all.size(), worst(all));
  }

  private static double median(List<Double> all) {
    return all.stream().sorted().toList().get(all.size() / 2);
  }

  private static double worst(List<Double> all) {
    return all.stream().max(Comparator.naturalOrder()).orElse(Double.NaN);
  }

  private double noticed(Path folder, String name, Consumer<LiveRig> pull) throws IOException {
    try (LiveBench bench = maker.start(folder, name)) {
      bench.awaitBusy(pace);
      long fromNs = clock.nowNs();
      pull.accept(bench.rig());
      while (bench.tripped().isEmpty() && clock.nowNs() - fromNs < 10 * NS_PER_SECOND) {
        pace.until(clock.nowNs() + 200_000L);
      }
      return bench.tripped().isPresent()
          ? (clock.nowNs() - fromNs) / NS_PER_MS
          : Double.POSITIVE_INFINITY;
    }
  }

  private static void freeze(ProcessHandle process) {
    try {
      new ProcessBuilder("sh", "-c", "kill -STOP " + process.pid()).start().waitFor();
    } catch (IOException failed) {
      throw new UncheckedIOException(failed);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
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
