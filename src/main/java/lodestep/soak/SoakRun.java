package lodestep.soak;

import java.util.Optional;
import java.util.SplittableRandom;

/** One run as a pure function of its seed and the settings. Any thread. */
public final class SoakRun {

  /** Told apart from the seeds of rig and people, so that a script can change and they do not. */
  private static final long SCRIPT_SALT = 0x5bd1e9955bd1e995L;

  private SoakRun() {}

  /**
   * What happens in the run with one seed.
   *
   * @param quiet the same seed with nothing happening, which shows where to aim; a violation is in
   *     it when even that run was not as it should be. Empty when nothing is aimed.
   */
  record Drawn(Script script, Optional<RunResult> quiet) {}

  /** Draws what happens; for an aimed run the quiet one is played first. */
  static Drawn draw(SoakSettings settings, long seed) {
    ScriptDraw draw = new ScriptDraw(settings.kind(), new SplittableRandom(seed ^ SCRIPT_SALT));
    if (!draw.aims()) {
      return new Drawn(draw.swarm(), Optional.empty());
    }
    World quiet = new World(settings, seed, draw.quiet(), Planted.NOTHING);
    RunResult result = quiet.playQuiet();
    return new Drawn(draw.aimed(quiet.changes()), Optional.of(result));
  }

  /** What happens in the run with this seed. */
  public static Script script(SoakSettings settings, long seed) {
    return draw(settings, seed).script();
  }

  /** Plays the run with this seed. */
  public static RunResult of(SoakSettings settings, long seed) {
    return of(settings, seed, script(settings, seed), Planted.NOTHING);
  }

  /**
   * Plays this script, with this mistake, on the rig and with the people and stock of this seed.
   */
  public static RunResult of(SoakSettings settings, long seed, Script script, Planted planted) {
    return new World(settings, seed, script, planted).play();
  }
}
