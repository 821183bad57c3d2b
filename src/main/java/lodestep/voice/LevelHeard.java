package lodestep.voice;

import lodestep.quantity.FluxDensity;

/**
 * Rules of thumb of the trade on level and inductance, in words. All of it is custom: common
 * practice, no source; nothing here is reckoned. Pure.
 */
public final class LevelHeard {

  /** At about this a coil counts as a little warm. */
  static final double WARM_HENRY = 4;

  private static final double NEAR_FULL = 0.9;
  private static final double HALF_WAY = 0.65;

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
    if (part > NEAR_FULL) {
      return "near full charge: as bright as this magnet gets, and it damps the strings most";
    }
    return part > HALF_WAY
        ? "a little warmer than at full charge, and the strings ring a little longer"
        : "clearly warmer and softer than at full charge, with longer sustain and less output";
  }

  /** From a wanted voice to the levels that go with it. */
  public static String levels(FluxDensity full) {
    String near = new FluxDensity(NEAR_FULL * full.tesla()).inGauss();
    String half = new FluxDensity(HALF_WAY * full.tesla()).inGauss();
    return "for a bright voice take more than "
        + near
        + " of this magnet; for a little warmer, with notes that ring a little longer, "
        + near
        + " to "
        + half
        + "; for clearly warmer and softer, with long sustain, less than "
        + half;
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

  /**
   * Both together in one sentence: a strong pole face brightens, many henries darken.
   *
   * @param part of the full charge, 0 to 1
   */
  public static String together(double part, double henry) {
    String both = ofLevel(part) + "; " + ofInductance(henry) + "; together: ";
    boolean strong = part > HALF_WAY;
    if (henry < 0.8 * WARM_HENRY) {
      return both
          + (strong
              ? "bright twice over, and no long sustain"
              : "the weak magnet keeps a bright coil civil, and the strings ring long");
    }
    if (henry <= 1.2 * WARM_HENRY) {
      return both + (strong ? "balanced, a little to the bright side" : "warm, with long sustain");
    }
    return both
        + (strong
            ? "the strong magnet keeps a dark coil from dullness, at the cost of sustain"
            : "both go the same way, darker; take fewer turns if it becomes dull");
  }

  /** What a weaker pole face is said to do about notes that die too soon. */
  public static String ofSustain() {
    return "longer sustain, warmer, softer attack, less output; how much longer nobody has"
        + " published";
  }
}
