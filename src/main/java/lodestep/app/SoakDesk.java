package lodestep.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
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
import java.util.function.BiFunction;
import java.util.function.Function;
import lodestep.bench.Plan;
import lodestep.cli.Refusal;
import lodestep.cli.SoakWork.SoakFailure;
import lodestep.cli.SoakWork.SoakFigures;
import lodestep.cli.SoakWork.SoakOrder;
import lodestep.cli.SoakWork.SoakReplay;
import lodestep.cli.SoakWork.SoakSums;
import lodestep.cli.SoakWork.SoakWatcher;
import lodestep.config.RigConfig;
import lodestep.measure.GaugeCalibration;
import lodestep.port.MonotonicClock;
import lodestep.soak.Happening;
import lodestep.soak.HappeningKind;
import lodestep.soak.Planted;
import lodestep.soak.SavedRun;
import lodestep.soak.SeedReport;
import lodestep.soak.SeedWork;
import lodestep.soak.SoakRig;
import lodestep.soak.SoakRun;
import lodestep.soak.SoakSettings;
import lodestep.soak.Tally;
import lodestep.soak.Violation;

/** Plays seeds on several threads, and counts them in their order, whichever ends first. */
final class SoakDesk {

  /** Seeds begun ahead of the oldest one not done, for each thread. */
  private static final int AHEAD = 4;

  private final MonotonicClock clock;
  private final Function<RigConfig, GaugeCalibration> calibrations;

  SoakDesk(MonotonicClock clock, Function<RigConfig, GaugeCalibration> calibrations) {
    this.clock = clock;
    this.calibrations = calibrations;
  }

  /** The built-in rig of this kind. */
  static RigConfig rig(String kind) {
    String file = kind.equals(SoakRig.COIL.word()) ? "" : "-" + kind;
    try {
      return RigSource.builtIn(file)
          .match(
              rig -> rig,
              problems -> {
                throw new IllegalStateException(String.join("\n", problems));
              });
    } catch (IOException damaged) {
      throw new UncheckedIOException(damaged);
    }
  }

  private SoakSettings settings(RigConfig rig, Plan plan) {
    return SoakSettings.of(rig, plan.rows(), calibrations.apply(rig));
  }

  /** One kind of rig as it is played. */
  private record Played(SoakSettings settings, String plan) {}

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
    private final List<Played> played;
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
      this.played =
          order.rigs().stream()
              .map(of -> new Played(settings(of.rig(), of.plan()), of.plan().text()))
              .toList();
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
        Played of = played.get(SoakRig.drawn(played.size(), seed));
        begun.add(workers.submit(() -> SeedWork.of(of.settings(), seed, of.plan())));
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
      watcher.done(done, tally.all().rigMs() * 1e-3, wallSeconds(), failed.size());
    }

    private SoakFigures figures() {
      SortedMap<String, Long> planted = new TreeMap<>();
      tally.canaries().forEach((mistake, count) -> planted.put(mistake.words(), count));
      Tally.Sums all = tally.all();
      return new SoakFigures(
          order.firstSeed(),
          done,
          order.threads(),
          wallSeconds(),
          sums("all", "", all),
          tally.ofEach().entrySet().stream()
              .map(each -> sums(each.getKey().word(), name(each.getKey()), each.getValue()))
              .toList(),
          tally.trips(),
          coverage(tally),
          planted,
          List.copyOf(failed),
          tally.problems(),
          stop.get());
    }

    private String name(SoakRig kind) {
      return played.stream()
          .map(Played::settings)
          .filter(settings -> settings.kind() == kind)
          .map(settings -> settings.rig().name())
          .findFirst()
          .orElseThrow();
    }
  }

  private static SoakSums sums(String kind, String rig, Tally.Sums sums) {
    return new SoakSums(
        kind,
        rig,
        sums.runs(),
        sums.rigMs() * 1e-3,
        sums.pulses(),
        sums.strokes(),
        sums.accepted(),
        sums.starts(),
        sums.permitGoneMs(),
        sums.broken());
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
    for (HappeningKind kind : tally.kinds()) {
      Map<String, Long> met = new LinkedHashMap<>();
      tally.states(kind).forEach(state -> met.put(state.name(), tally.met(kind, state)));
      coverage.put(kind.words(), met);
    }
    return coverage;
  }

  private static SoakFailure saved(SavedRun run, Path folder) {
    Path file =
        folder.resolve(
            run.rig().word() + "-seed-" + run.seed() + "-" + run.violation().rule() + ".json");
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
        run.rig().word(),
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
   * @param named the rig to play it on; the built-in one of its kind if left out
   * @param plans reads a plan from its text for a rig
   */
  SoakReplay replay(
      Optional<RigConfig> named, Path file, BiFunction<String, RigConfig, Plan> plans) {
    SavedRun run = read(file);
    RigConfig rig = named.orElseGet(() -> rig(run.rig().word()));
    if (SoakRig.of(rig) != run.rig()) {
      throw new Refusal(
          file
              + " is a run on a rig of the kind '"
              + run.rig().word()
              + "', which the rig '"
              + rig.name()
              + "' is not; name another with --rig, or none");
    }
    SoakSettings settings = settings(rig, plans.apply(run.plan(), rig));
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
