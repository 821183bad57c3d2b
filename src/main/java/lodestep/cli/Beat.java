package lodestep.cli;

import lodestep.port.HandAsk;
import lodestep.port.HandCue;

/**
 * When a bell strikes: the nearer, the quicker, so that the eyes can stay on the magnets. Confined
 * to one thread.
 */
final class Beat {

  private static final double SLOWEST_SECONDS = 1.2;
  private static final double QUICKEST_SECONDS = 0.1;

  private final boolean asked;
  private double lastSeconds = Double.NEGATIVE_INFINITY;

  /**
   * @param asked whether anything is to be heard at all
   */
  Beat(boolean asked) {
    this.asked = asked;
  }

  /** Whether a stroke is due at this time. */
  boolean due(double seconds, HandCue cue) {
    boolean heard = cue.ask() == HandAsk.CLOSER || cue.ask() == HandAsk.AWAY;
    double closeness = cue.ask() == HandAsk.AWAY ? 1 : cue.closeness();
    double every = SLOWEST_SECONDS + (QUICKEST_SECONDS - SLOWEST_SECONDS) * closeness;
    if (!asked || !heard || seconds - lastSeconds < every) {
      return false;
    }
    lastSeconds = seconds;
    return true;
  }
}
