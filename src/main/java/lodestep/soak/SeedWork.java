package lodestep.soak;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * All that is done for one seed. One seed in a hundred carries a planted mistake that must be
 * found, another one is played twice and must come to the same bytes. Any thread.
 */
public final class SeedWork {

  /** Mistakes that show in every run on every rig. */
  static final List<Planted> CANARIES =
      List.of(
          Planted.STRAY_HOLD,
          Planted.SECOND_OUTCOME,
          Planted.LOST_ROW,
          Planted.WRONG_OUTCOME,
          Planted.THROWS,
          Planted.NEVER_READY,
          Planted.DEAD_PEDAL);

  private static final long EACH = 100;
  private static final long CANARY = 0;
  private static final long TWICE = 50;

  /** So long before all would be mended, as it might be drawn, for the mistake to show. */
  private static final long CANARY_HEALS_BEFORE_MS = 45_000;

  private static final long CANARY_KILLED_MS = 30_000;

  private SeedWork() {}

  /**
   * Plays the seed.
   *
   * @param plan text of the plan from which the settings were made, for the saved run
   */
  public static SeedReport of(SoakSettings settings, long seed, String plan) {
    if (seed % EACH == CANARY) {
      return canary(settings, seed);
    }
    SoakRun.Drawn drawn = SoakRun.draw(settings, seed);
    List<RunResult> runs = new ArrayList<>();
    drawn.quiet().ifPresent(runs::add);
    if (drawn.quiet().isPresent() && drawn.quiet().get().violation().isPresent()) {
      Script quiet = drawn.script().with(List.of());
      Violation seen = drawn.quiet().get().violation().get();
      return failed(
          settings, runs, new SavedRun(settings.kind(), seed, plan, Planted.NOTHING, quiet, seen));
    }
    RunResult run = SoakRun.of(settings, seed, drawn.script(), Planted.NOTHING);
    runs.add(run);
    if (run.violation().isPresent()) {
      Violation seen = run.violation().get();
      return failed(
          settings,
          runs,
          new SavedRun(settings.kind(), seed, plan, Planted.NOTHING, drawn.script(), seen));
    }
    Optional<String> problem = Optional.empty();
    if (seed % EACH == TWICE) {
      RunResult again = SoakRun.of(settings, seed, drawn.script(), Planted.NOTHING);
      runs.add(again);
      problem =
          again.equals(run)
              ? Optional.empty()
              : Optional.of("seed " + seed + " played twice came to two different records");
    }
    return new SeedReport(settings.kind(), seed, runs, Optional.empty(), problem, Optional.empty());
  }

  private static SeedReport failed(SoakSettings settings, List<RunResult> runs, SavedRun run) {
    return new SeedReport(
        run.rig(),
        run.seed(),
        runs,
        Optional.of(Shrinker.shrunk(settings, run)),
        Optional.empty(),
        Optional.empty());
  }

  /** Plays the seed with a mistake in it, whatever the seed would have drawn. */
  static SeedReport canary(SoakSettings settings, long seed) {
    Planted planted = CANARIES.get(Math.floorMod(seed / EACH, CANARIES.size()));
    RunResult run = SoakRun.of(settings, seed, canaryScript(settings.kind(), planted), planted);
    boolean found = run.violation().filter(v -> planted.rules().contains(v.rule())).isPresent();
    String seen = run.violation().map(Violation::rule).orElse("nothing");
    return new SeedReport(
        settings.kind(),
        seed,
        List.of(),
        Optional.empty(),
        found
            ? Optional.empty()
            : Optional.of(
                "seed " + seed + ": nobody saw that " + planted.words() + "; seen: " + seen),
        found ? Optional.of(planted) : Optional.empty());
  }

  static Script canaryScript(SoakRig rig, Planted planted) {
    long healMs = rig.faultyMsMax() - CANARY_HEALS_BEFORE_MS;
    if (planted != Planted.LOST_ROW) {
      return new Script(healMs, List.of());
    }
    return new Script(
        healMs,
        List.of(
            new Happening(HappeningKind.HOST_KILLED, CANARY_KILLED_MS, 1_000, "levels fall", 0)));
  }
}
