package lodestep.voice;

import java.util.ArrayList;
import java.util.List;

/**
 * Rules of thumb of the trade on level and inductance, in words. All of it is custom: common
 * practice, no source; nothing here is reckoned. Pure.
 */
public final class LevelHeard {

  /** At about this a coil counts as a little warm. */
  static final double WARM_HENRY = 4;

  private LevelHeard() {}

  /**
   * What winders would expect.
   *
   * @param part of the full charge, 0 to 1
   */
  public static String ofLevel(double part) {
    if (!(part >= 0 && part <= 1)) {
      throw new IllegalArgumentException("a level is a part of the full charge, 0 to 1: " + part);
    }
    if (part > 0.9) {
      return "near full charge: as bright as this magnet gets, and it damps the strings most";
    }
    return part > 0.65
        ? "a little warmer than at full charge, and the strings ring a little longer"
        : "clearly warmer and softer than at full charge, with longer sustain and less output";
  }

  /** What winders would expect of this inductance. */
  public static String ofInductance(double henry) {
    if (henry < 0.8 * WARM_HENRY) {
      return "a coil of few henries: bright, whatever the magnet";
    }
    return henry <= 1.2 * WARM_HENRY
        ? "a coil near 4 H: a little warm"
        : "a coil of many henries: dark, and a stronger magnet does not make it bright";
  }

  /** Both together in one sentence. */
  public static String together(double part, double henry) {
    List<String> said = new ArrayList<>(List.of(ofLevel(part), ofInductance(henry)));
    boolean opposed = part <= 0.65 && henry < 0.8 * WARM_HENRY;
    said.add(
        opposed
            ? "the two pull against each other, so that a weaker magnet keeps a bright coil civil"
            : "more henries and less field go the same way: darker");
    return String.join("; ", said);
  }
}
