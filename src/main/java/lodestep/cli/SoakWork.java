package lodestep.cli;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.SortedMap;
import lodestep.bench.Plan;
import lodestep.config.RigConfig;

/** What the command "soak" needs of the program behind it. Every refusal is a {@link Refusal}. */
public interface SoakWork {

  /** Plays many seeds on virtual rigs, until they, or the time, are over. */
  SoakFigures soak(SoakOrder order, SoakWatcher watcher);

  /** Plays one saved run again on this rig. */
  SoakReplay replay(RigConfig rig, Path savedRun);

  /**
   * What to play.
   *
   * @param plan whose magnets are worked
   * @param firstSeed of the seeds, which follow one another
   * @param lastSeed the last one; empty if the time alone ends it
   * @param forSeconds real time after which no further seed is begun; empty if there is no end
   * @param threads how many runs are played at a time
   * @param folder where runs that broke a rule are saved
   */
  record SoakOrder(
      RigConfig rig,
      Plan plan,
      long firstSeed,
      OptionalLong lastSeed,
      Optional<Double> forSeconds,
      int threads,
      Path folder) {}

  /** Is told how far it is, after each seed, by the thread that called. */
  interface SoakWatcher {

    /**
     * One more seed is done.
     *
     * @param seed the newest of which all before are done too
     * @param broken how many runs broke a rule so far
     */
    void done(long seed, double rigSeconds, double wallSeconds, int broken);

    /** A run broke a rule; some lines for a person. */
    void broken(List<String> lines);
  }

  /**
   * What a soak came to.
   *
   * @param lastSeed the newest seed of which all before are done too
   * @param runs played; those with a planted mistake are not counted
   * @param rigSeconds virtual time of these runs
   * @param permitGoneMs longest time from a program's death to the fall of the head's permit
   * @param trips by the cause's name
   * @param states names of the host's states
   * @param coverage for each kind of happening, how often it began in each of the states
   * @param planted how often each planted mistake was found, by its words
   * @param failed runs that broke a rule
   * @param problems what is wrong with the soak itself, a sentence each
   * @param stopped whether a person ended it
   */
  record SoakFigures(
      String rig,
      long firstSeed,
      long lastSeed,
      int threads,
      long runs,
      double rigSeconds,
      double wallSeconds,
      long pulses,
      long accepted,
      long starts,
      long permitGoneMs,
      SortedMap<String, Long> trips,
      List<String> states,
      SortedMap<String, Map<String, Long>> coverage,
      SortedMap<String, Long> planted,
      List<SoakFailure> failed,
      List<String> problems,
      boolean stopped) {}

  /**
   * A run that broke a rule.
   *
   * @param happenings what must happen for it, one line each
   * @param file where it was saved
   */
  record SoakFailure(
      long seed,
      String rule,
      String words,
      long atMs,
      String seen,
      List<String> happenings,
      String file) {}

  /**
   * How a saved run went this time.
   *
   * @param saved the rule that was broken when it was saved
   * @param again the rule that was broken now, in words; empty if none was
   */
  record SoakReplay(SoakFailure saved, Optional<String> again) {}
}
