package lodestep.bench;

import java.util.ArrayList;
import java.util.List;

/**
 * How near the opposing magnet is let come in the next approach, by how far it pulls the live
 * reading down. Pure.
 *
 * <p>While the magnet is near, the gauge sees its stray field and what it takes for good as one
 * pull. What the last approach did for good is known, so pull up to where that came nearest takes
 * nothing (return-point memory); beyond it, every gauss of pull takes at most a gauss. So the word
 * "stop" after a pull that grows by part of what is still to come down cannot take too much,
 * however steep this magnet's curve is; only the hand's lateness can, and that is learned.
 */
final class HandAim {

  private static final double GAUSS = 1e-4;

  /** Of what is still to come down, how much one approach may take. */
  private static final double PART = 0.6;

  /** Each time it fell below, the approaches after the new charge take less. */
  private static final double CARE = 0.5;

  /** A curve steeper than this has turned the magnet over before any hand could stop. */
  private static final double STEEPEST = 20;

  /** On the strength of the curve so far, nearer by at most this part: it may bend sharply. */
  private static final double GROWTH = 0.3;

  /** Nearer by at least this, or nothing would come of it. */
  private static final double LEAST = 0.5 * GAUSS;

  private static final double LEAST_GROWTH = 0.01;

  /** Where a curve is so flat that most of the pull is stray field, still not more than this. */
  private static final double STRAY_MAX = 3;

  /** As long as nothing has come down, how much of the pull is taken for stray field. */
  private static final double STRAY_UNKNOWN = 1;

  /** The first approach takes less: how late this hand is nobody knows yet. */
  private static final double FIRST_PART = 0.4;

  private static final double FIRST_LEAST = 3 * GAUSS;

  /** Of the approach that turned the pole, how much is surely too little to turn it back. */
  private static final double OTHER_SIDE = 0.4;

  /** A proof comes a little less near than before. */
  private static final double PROOF = 0.85;

  private HandAim() {}

  /**
   * Pull in tesla at which the person is told to stop.
   *
   * @param along settled reading now, along its pole, in tesla
   * @param goal where it shall come, in tesla, less than now
   */
  static double stopTesla(HandProgress progress, double along, double goal) {
    double late = progress.lateTesla() * pullForStray(progress.passes());
    double want = Math.max(0, along - goal);
    if (progress.passes().isEmpty()) {
      double first = Math.max(FIRST_PART * want, OTHER_SIDE * progress.otherSideTesla());
      return Math.max(FIRST_LEAST, first - late);
    }
    double near = nearest(progress);
    double part = PART / (1 + CARE * progress.counts().recharges());
    double learned = Math.min(GROWTH * near, part * want * (1 + stray(progress.passes())));
    double growth = Math.max(part * want, learned);
    double least = Math.max(LEAST, LEAST_GROWTH * near);
    return Math.max(0.5 * near, near + Math.max(least, growth) - late);
  }

  /** Pull of the proof, at which nothing may come down any more. */
  static double proofTesla(HandProgress progress) {
    return Math.max(FIRST_LEAST, PROOF * nearest(progress) - progress.lateTesla());
  }

  /**
   * The lateness of the hand after one more approach, in stray field: how far it goes on after the
   * word "stop" is its own habit, what that takes from the magnet is the curve's.
   */
  static double lateTesla(
      HandProgress progress, HandProgress.Pass pass, double stopTesla, double nearestTesla) {
    List<HandProgress.Pass> passes = new ArrayList<>(progress.passes());
    passes.add(pass);
    double late = Math.max(0, nearestTesla - stopTesla) / pullForStray(passes);
    return 0.5 * progress.lateTesla() + 0.5 * Math.min(0.3 * stopTesla, late);
  }

  /** Pull for each tesla of stray field, by the last two approaches; 1 on a flat curve. */
  private static double pullForStray(List<HandProgress.Pass> passes) {
    if (passes.size() < 2) {
      return 1;
    }
    HandProgress.Pass last = passes.get(passes.size() - 1);
    HandProgress.Pass before = passes.get(passes.size() - 2);
    double down = Math.max(0, before.levelTesla() - last.levelTesla());
    double nearer = Math.max(LEAST, last.nearTesla() - before.nearTesla());
    return 1 + Math.min(STEEPEST, down / nearer);
  }

  private static double nearest(HandProgress progress) {
    return progress.passes().stream().mapToDouble(HandProgress.Pass::nearTesla).max().orElse(0);
  }

  /** Stray field for each tesla that came down for good, from the last two approaches. */
  private static double stray(List<HandProgress.Pass> passes) {
    if (passes.size() < 2) {
      return STRAY_UNKNOWN;
    }
    HandProgress.Pass last = passes.get(passes.size() - 1);
    HandProgress.Pass before = passes.get(passes.size() - 2);
    double down = before.levelTesla() - last.levelTesla();
    double nearer = last.nearTesla() - before.nearTesla();
    if (down < GAUSS || nearer <= 0) {
      return STRAY_UNKNOWN;
    }
    return Math.min(STRAY_MAX, nearer / down);
  }
}
