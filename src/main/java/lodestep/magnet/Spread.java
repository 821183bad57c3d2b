package lodestep.magnet;

/**
 * How far the magnets of one alloy lie apart, as relative standard deviations.
 *
 * <p>Source: common practice, no source; figures for the virtual rig and for a planner's first
 * guess, to be replaced by what a batch teaches.
 *
 * @param remanenceLot of the remanence from lot to lot, 0 to 0.2
 * @param remanenceMagnet of the remanence from magnet to magnet within a lot, 0 to 0.2
 * @param coercivityLot of the coercivity from lot to lot, 0 to 0.2
 * @param coercivityMagnet of the coercivity from magnet to magnet within a lot, 0 to 0.2
 * @param roundnessLot of how wide a field the loop falls over, from lot to lot, 0 to 1
 */
public record Spread(
    double remanenceLot,
    double remanenceMagnet,
    double coercivityLot,
    double coercivityMagnet,
    double roundnessLot) {

  /** Beyond a fifth the magnets are not of one alloy. */
  public static final double FRACTION_MAX = 0.2;

  /** Between lots of no known alloy. */
  private static final double UNKNOWN_MAX = 1;

  /** Three published figures fix the knee no better. */
  public static final double ROUNDNESS = 0.25;

  /** Of an alloy that is known. */
  public Spread(
      double remanenceLot, double remanenceMagnet, double coercivityLot, double coercivityMagnet) {
    this(remanenceLot, remanenceMagnet, coercivityLot, coercivityMagnet, ROUNDNESS);
    requireFraction("remanence, lot", remanenceLot, FRACTION_MAX);
    requireFraction("coercivity, lot", coercivityLot, FRACTION_MAX);
  }

  /**
   * @throws IllegalArgumentException if a fraction is not a number or outside its range
   */
  public Spread {
    requireFraction("remanence, lot", remanenceLot, UNKNOWN_MAX);
    requireFraction("remanence, magnet", remanenceMagnet, FRACTION_MAX);
    requireFraction("coercivity, lot", coercivityLot, UNKNOWN_MAX);
    requireFraction("coercivity, magnet", coercivityMagnet, FRACTION_MAX);
    requireFraction("roundness, lot", roundnessLot, UNKNOWN_MAX);
  }

  private static void requireFraction(String what, double fraction, double most) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(fraction >= 0 && fraction <= most)) {
      throw new IllegalArgumentException("spread of " + what + " out of range: " + fraction);
    }
  }
}
