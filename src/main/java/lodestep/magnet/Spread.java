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
 */
public record Spread(
    double remanenceLot, double remanenceMagnet, double coercivityLot, double coercivityMagnet) {

  /** Beyond a fifth the magnets are not of one alloy. */
  public static final double FRACTION_MAX = 0.2;

  /**
   * @throws IllegalArgumentException if a fraction is not a number or outside its range
   */
  public Spread {
    requireFraction("remanence, lot", remanenceLot);
    requireFraction("remanence, magnet", remanenceMagnet);
    requireFraction("coercivity, lot", coercivityLot);
    requireFraction("coercivity, magnet", coercivityMagnet);
  }

  private static void requireFraction(String what, double fraction) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(fraction >= 0 && fraction <= FRACTION_MAX)) {
      throw new IllegalArgumentException("spread of " + what + " out of range: " + fraction);
    }
  }
}
