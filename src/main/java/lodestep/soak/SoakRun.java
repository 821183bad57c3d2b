package lodestep.soak;

import java.util.SplittableRandom;

/** One run as a pure function of its seed and the settings. Any thread. */
public final class SoakRun {

  /** Told apart from the seeds of rig and people, so that a script can change and they do not. */
  private static final long SCRIPT_SALT = 0x5bd1e9955bd1e995L;

  private SoakRun() {}

  /** What happens in the run with this seed; for an aimed one the quiet run is played first. */
  public static Script script(SoakSettings settings, long seed) {
    ScriptDraw draw = new ScriptDraw(new SplittableRandom(seed ^ SCRIPT_SALT));
    if (!draw.aims()) {
      return draw.swarm();
    }
    World quiet = new World(settings, seed, draw.quiet(), Planted.NOTHING);
    quiet.playUntilHealed();
    return draw.aimed(quiet.changes());
  }

  /** Plays the run with this seed. */
  public static RunResult of(SoakSettings settings, long seed) {
    return of(settings, seed, script(settings, seed));
  }

  /** Plays this script on the rig, with the people and the stock of this seed. */
  public static RunResult of(SoakSettings settings, long seed, Script script) {
    return new World(settings, seed, script, Planted.NOTHING).play();
  }
}
