package lodestep.voice;

import java.util.Arrays;
import java.util.Locale;
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

  /** How dark a coil is for its henries: degrees, each a little darker than the one before. */
  private enum Darkness {
    VERY_BRIGHT(0.55, "very bright"),
    BRIGHT(0.75, "bright"),
    FAIRLY_BRIGHT(0.9, "fairly bright, not yet warm"),
    WARM(1.15, "a little warm"),
    WARMER(1.4, "warm"),
    RATHER_DARK(1.6, "rather dark"),
    DARK(Double.POSITIVE_INFINITY, "dark");

    private final double below;
    private final String words;

    /**
     * @param below up to here, as a part of {@link #WARM_HENRY}
     */
    Darkness(double below, String words) {
      this.below = below;
      this.words = words;
    }

    static Darkness of(double henry) {
      return Arrays.stream(values())
          .filter(each -> henry < each.below * WARM_HENRY)
          .findFirst()
          .orElse(DARK);
    }
  }

  /** What winders would expect of this inductance. */
  public static String ofInductance(double henry) {
    Darkness dark = Darkness.of(henry);
    String coil = String.format(Locale.ROOT, "a coil of %.1f H: %s", henry, dark.words);
    return switch (dark) {
      case VERY_BRIGHT -> coil + ", whatever the magnet";
      case DARK -> coil + ", and a stronger magnet does not make it bright";
      default -> coil;
    };
  }

  /**
   * Both together in one sentence: a strong pole face brightens, many henries darken.
   *
   * @param part of the full charge, 0 to 1
   */
  public static String together(double part, double henry) {
    boolean strong = part > HALF_WAY;
    String both =
        switch (Darkness.of(henry)) {
          case VERY_BRIGHT ->
              strong
                  ? "bright twice over, and no long sustain"
                  : "the weak magnet keeps a bright coil civil, and the strings ring long";
          case BRIGHT ->
              strong
                  ? "bright, at some cost of sustain"
                  : "the weak magnet takes the edge off a bright coil, with long sustain";
          case FAIRLY_BRIGHT ->
              strong ? "balanced, on the bright side" : "a little warm, with long sustain";
          case WARM -> strong ? "balanced, a little to the bright side" : "warm, with long sustain";
          case WARMER -> strong ? "balanced, a little to the warm side" : "warm, nearly dark";
          case RATHER_DARK ->
              strong
                  ? "the strong magnet lifts a rather dark coil, at some cost of sustain"
                  : "both go the same way, darker";
          case DARK ->
              strong
                  ? "the strong magnet keeps a dark coil from dullness, at the cost of sustain"
                  : "both go the same way, darker; take fewer turns if it becomes dull";
        };
    return ofLevel(part) + "; " + ofInductance(henry) + "; together: " + both;
  }

  /** What a weaker pole face is said to do about notes that die too soon. */
  public static String ofSustain() {
    return "longer sustain, warmer, softer attack, less output; how much longer nobody has"
        + " published";
  }
}
