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

  /** The kinds of rigs that can be played, in the words by which a person names them. */
  List<String> RIG_KINDS = List.of("coil", "switched", "jig", "coil-and-jig");

  /** The built-in virtual rig of one of the {@link #RIG_KINDS}. */
  RigConfig soakRig(String kind);

  /**
   * Plays one saved run again.
   *
   * @param rig on this rig; on the built-in one of its kind if left out
   */
  SoakReplay replay(Optional<RigConfig> rig, Path savedRun);

  /** A rig to be played, and the plan whose magnets are worked on it. */
  record SoakPlayed(RigConfig rig, Plan plan) {}

  /**
   * What to play.
   *
   * @param rigs of which each seed draws one; not empty
   * @param firstSeed of the seeds, which follow one another
   * @param lastSeed the last one; empty if the time alone ends it
   * @param forSeconds real time after which no further seed is begun; empty if there is no end
   * @param threads how many runs are played at a time
   * @param folder where runs that broke a rule are saved
   */
  record SoakOrder(
      List<SoakPlayed> rigs,
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
   * What the runs on one kind of rig, or on all, came to; those with a planted mistake are not
   * counted.
   *
   * @param kind one of the {@link #RIG_KINDS}, or "all"
   * @param rig its name; empty of all
   * @param rigSeconds virtual time of these runs
   * @param pulses that really were
   * @param strokes of the jig, on record as delivered
   * @param permitGoneMs longest time from a program's death to the fall of the head's permit
   * @param broken runs that broke a rule
   */
  record SoakSums(
      String kind,
      String rig,
      long runs,
      double rigSeconds,
      long pulses,
      long strokes,
      long accepted,
      long starts,
      long permitGoneMs,
      long broken) {}

  /**
   * What a soak came to.
   *
   * @param lastSeed the newest seed of which all before are done too
   * @param rigs each kind that was played
   * @param trips by the cause's name
   * @param coverage for each kind of happening, how often it began in each of the states in which
   *     it could; 0 where it never did
   * @param planted how often each planted mistake was found, by its words
   * @param failed runs that broke a rule
   * @param problems what is wrong with the soak itself, a sentence each
   * @param stopped whether a person ended it
   */
  record SoakFigures(
      long firstSeed,
      long lastSeed,
      int threads,
      double wallSeconds,
      SoakSums all,
      List<SoakSums> rigs,
      SortedMap<String, Long> trips,
      SortedMap<String, Map<String, Long>> coverage,
      SortedMap<String, Long> planted,
      List<SoakFailure> failed,
      List<String> problems,
      boolean stopped) {}

  /**
   * A run that broke a rule.
   *
   * @param kind of the rig it was played on
   * @param happenings what must happen for it, one line each
   * @param file where it was saved
   */
  record SoakFailure(
      String kind,
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
