package lodestep.dial;

/**
 * Alternating pulses that fall by a set part, to take all of a magnet's charge away: a coarse
 * ladder, and where that leaves too much, a fine one. What a ladder leaves behind is about half of
 * what its largest step inside the spread of coercivities turns over, so it goes down with the
 * step. Pure.
 *
 * @param coercivityAperM intrinsic coercivity at the work, &gt; 0
 * @param fieldMaxAperM the largest reverse field there is, at least the coercivity
 */
record Ladders(double coercivityAperM, double fieldMaxAperM) {

  /** First peak against the coercivity: well above it, so that the magnet follows every swing. */
  private static final double FIRST = 1.5;

  /** Below this part of the coercivity a swing turns nothing over that the one before left. */
  private static final double LAST = 0.15;

  private static final double COARSE = 0.8;
  private static final double FINE = 0.92;

  /** Whether a ladder is at its end after so many pulses, and the reading decides. */
  boolean ended(int made) {
    return made == 0 || made == rungs(COARSE) || made == pulsesMax();
  }

  /** Pulses of both ladders. */
  int pulsesMax() {
    return rungs(COARSE) + rungs(FINE);
  }

  /** Peak of the pulse after so many, in A/m; {@code made} is below {@link #pulsesMax}. */
  double field(int made) {
    int coarse = rungs(COARSE);
    return made < coarse
        ? first() * Math.pow(COARSE, made)
        : first() * Math.pow(FINE, made - coarse);
  }

  private double first() {
    return Math.min(FIRST * coercivityAperM, fieldMaxAperM);
  }

  private int rungs(double ratio) {
    return 1 + (int) Math.ceil(Math.log(LAST * coercivityAperM / first()) / Math.log(ratio));
  }
}
