package lodestep.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Queue;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Function;
import lodestep.bench.Plan;
import lodestep.cli.Refusal;
import lodestep.cli.SoakWork.SoakFailure;
import lodestep.cli.SoakWork.SoakFigures;
import lodestep.cli.SoakWork.SoakOrder;
import lodestep.cli.SoakWork.SoakReplay;
import lodestep.cli.SoakWork.SoakWatcher;
import lodestep.config.RigConfig;
import lodestep.measure.GaugeCalibration;
import lodestep.port.MonotonicClock;
import lodestep.soak.Happening;
import lodestep.soak.HappeningKind;
import lodestep.soak.Planted;
import lodestep.soak.RigState;
import lodestep.soak.SavedRun;
import lodestep.soak.SeedReport;
import lodestep.soak.SeedWork;
import lodestep.soak.SoakRun;
import lodestep.soak.SoakSettings;
import lodestep.soak.Tally;
import lodestep.soak.Violation;

/** Plays seeds on several threads, and counts them in their order, whichever ends first. */
final class SoakDesk {

  /** Seeds begun ahead of the oldest one not done, for each thread. */
  private static final int AHEAD = 4;

  private final MonotonicClock clock;
  private final GaugeCalibration calibration;

  SoakDesk(MonotonicClock clock, GaugeCalibration calibration) {
    this.clock = clock;
    this.calibration = calibration;
  }

  SoakFigures soak(SoakOrder order, SoakWatcher watcher) {
    AtomicBoolean stop = new AtomicBoolean();
    Thread main = Thread.currentThread();
    Thread hook = new Thread(() -> endInOrder(stop, main), "soak stop");
    Runtime.getRuntime().addShutdownHook(hook);
    ExecutorService workers = Executors.newFixedThreadPool(order.threads());
    try {
      return new Soaking(order, watcher, workers, stop).play();
    } finally {
      workers.shutdownNow();
      if (!stop.get()) {
        Runtime.getRuntime().removeShutdownHook(hook);
      }
    }
  }

  /** Ctrl-C: what has been begun is played to its end, and the figures are still shown. */
  private static void endInOrder(AtomicBoolean stop, Thread main) {
    stop.set(true);
    try {
      main.join(10_000);
    } catch (InterruptedException interrupted) {
      Thread.currentThread().interrupt();
    }
  }

  private final class Soaking {
    private final SoakOrder order;
    private final SoakWatcher watcher;
    private final ExecutorService workers;
    private final AtomicBoolean stop;
    private final SoakSettings settings;
    private final Tally tally = new Tally();
    private final List<SoakFailure> failed = new ArrayList<>();
    private final Queue<Future<SeedReport>> begun = new ArrayDeque<>();
    private final long fromNs = clock.nowNs();
    private long next;
    private long done;

    Soaking(SoakOrder order, SoakWatcher watcher, ExecutorService workers, AtomicBoolean stop) {
      this.order = order;
      this.watcher = watcher;
      this.workers = workers;
      this.stop = stop;
      this.settings = SoakSettings.of(order.rig(), order.plan().rows(), calibration);
      this.next = order.firstSeed();
      this.done = order.firstSeed() - 1;
    }

    SoakFigures play() {
      fill();
      while (!begun.isEmpty()) {
        count(report(begun.remove()));
        fill();
      }
      return figures();
    }

    private void fill() {
      while (begun.size() < AHEAD * order.threads() && goesOn()) {
        long seed = next;
        begun.add(workers.submit(() -> SeedWork.of(settings, seed, order.plan().text())));
        next++;
      }
    }

    private boolean goesOn() {
      boolean late = order.forSeconds().isPresent() && wallSeconds() >= order.forSeconds().get();
      boolean last = order.lastSeed().isPresent() && next > order.lastSeed().getAsLong();
      return !stop.get() && !late && !last;
    }

    private double wallSeconds() {
      return (clock.nowNs() - fromNs) * 1e-9;
    }

    private void count(SeedReport report) {
      tally.add(report);
      done = report.seed();
      if (report.failed().isPresent()) {
        SoakFailure failure = saved(report.failed().get(), order.folder());
        failed.add(failure);
        watcher.broken(
            List.of(
                "seed " + failure.seed() + " broke " + failure.rule() + ": " + failure.words(),
                "  saved in " + failure.file()));
      }
      watcher.done(done, tally.rigMs() * 1e-3, wallSeconds(), failed.size());
    }

    private SoakFigures figures() {
      SortedMap<String, Long> planted = new TreeMap<>();
      tally.canaries().forEach((mistake, count) -> planted.put(mistake.words(), count));
      return new SoakFigures(
          order.rig().name(),
          order.firstSeed(),
          done,
          order.threads(),
          tally.runs(),
          tally.rigMs() * 1e-3,
          wallSeconds(),
          tally.pulses(),
          tally.accepted(),
          tally.starts(),
          tally.permitGoneMs(),
          tally.trips(),
          Arrays.stream(RigState.values()).map(RigState::name).toList(),
          coverage(tally),
          planted,
          List.copyOf(failed),
          tally.problems(),
          stop.get());
    }
  }

  private static SeedReport report(Future<SeedReport> future) {
    try {
      return future.get();
    } catch (InterruptedException interrupted) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("interrupted while a soak was played", interrupted);
    } catch (ExecutionException thrown) {
      throw new IllegalStateException("a soak run came to no end", thrown.getCause());
    }
  }

  private static SortedMap<String, Map<String, Long>> coverage(Tally tally) {
    SortedMap<String, Map<String, Long>> coverage = new TreeMap<>();
    for (HappeningKind kind : HappeningKind.values()) {
      Map<String, Long> met = new LinkedHashMap<>();
      for (RigState state : RigState.values()) {
        long times = tally.met(kind, state);
        if (times > 0) {
          met.put(state.name(), times);
        }
      }
      coverage.put(kind.words(), met);
    }
    return coverage;
  }

  private static SoakFailure saved(SavedRun run, Path folder) {
    Path file = folder.resolve("seed-" + run.seed() + "-" + run.violation().rule() + ".json");
    try {
      Files.createDirectories(folder);
      Files.writeString(file, run.written());
    } catch (IOException unwritable) {
      return failure(run, "nowhere, as " + file + " cannot be written: " + unwritable.getMessage());
    }
    return failure(run, file.toString());
  }

  private static SoakFailure failure(SavedRun run, String file) {
    Violation seen = run.violation();
    return new SoakFailure(
        run.seed(),
        seen.rule(),
        seen.words(),
        seen.atMs(),
        seen.detail(),
        run.script().happenings().stream().map(Happening::written).toList(),
        file);
  }

  /**
   * Plays a saved run again.
   *
   * @param plans reads a plan from its text
   */
  SoakReplay replay(RigConfig rig, Path file, Function<String, Plan> plans) {
    SavedRun run = read(file);
    Plan plan = plans.apply(run.plan());
    SoakSettings settings = SoakSettings.of(rig, plan.rows(), calibration);
    Optional<Violation> seen =
        SoakRun.of(settings, run.seed(), run.script(), run.planted()).violation();
    String planted =
        run.planted() == Planted.NOTHING ? "" : " (planted: " + run.planted().words() + ")";
    return new SoakReplay(
        failure(run, file.toString()), seen.map(violation -> violation.written() + planted));
  }

  private static SavedRun read(Path file) {
    try {
      return SavedRun.read(Files.readString(file));
    } catch (IOException unreadable) {
      throw new Refusal("cannot read the saved run " + file + "; see that the file is there");
    } catch (IllegalArgumentException none) {
      throw new Refusal(file + " is no saved soak run: " + none.getMessage());
    }
  }
}
