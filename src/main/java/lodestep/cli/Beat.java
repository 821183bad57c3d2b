package lodestep.cli;

import lodestep.port.Sound;

/**
 * When a bell strikes, where there is no tone: the nearer, the quicker, so that the eyes can stay
 * on the magnets. Confined to one thread.
 */
final class Beat {

  private static final double SLOWEST_SECONDS = 1.2;
  private static final double QUICKEST_SECONDS = 0.1;

  private double lastSeconds = Double.NEGATIVE_INFINITY;

  /** Whether a stroke is due at this time. */
  boolean due(double seconds, Sound sound) {
    double closeness = closeness(sound);
    double every = SLOWEST_SECONDS + (QUICKEST_SECONDS - SLOWEST_SECONDS) * closeness;
    if (closeness < 0 || seconds - lastSeconds < every) {
      return false;
    }
    lastSeconds = seconds;
    return true;
  }

  /** 0 to 1; negative where nothing is to be heard: inside the band the bell rests. */
  private static double closeness(Sound sound) {
    if (sound instanceof Sound.Rising rising) {
      return rising.nearness();
    }
    return sound instanceof Sound.Past ? 1 : -1;
  }
}
