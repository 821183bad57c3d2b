package lodestep.dial;

/**
 * Alternating pulses that fall by a set part, to take all of a magnet's charge away: a coarse
 * ladder from saturation, so that whatever came before is wiped out, and where that leaves too
 * much, a fine one. What a ladder leaves behind is about half of what its largest step inside the
 * spread of coercivities turns over, so it goes down with the step. What is left even then is
 * trimmed. Pure.
 *
 * @param saturatingAperM applied field that saturates the magnet in its own shape, &gt; 0
 * @param coercivityAperM intrinsic coercivity of its alloy, &gt; 0
 * @param fieldMaxAperM the largest field there is of either sign, at least the coercivity
 */
record Ladders(double saturatingAperM, double coercivityAperM, double fieldMaxAperM) {

  /** Above this many coercivities hardly anything is left that the coarse ladder did not settle. */
  private static final double FINE_FIRST = 2.5;

  /** Below this part of the coercivity a swing turns nothing over that the one before left. */
  private static final double LAST = 0.15;

  private static final double COARSE = 0.8;
  private static final double FINE = 0.92;
  private static final double TRIM = 1.05;

  /** Below this many coercivities a pulse moves hardly anything of a magnet without charge. */
  private static final double TRIM_FIRST = 0.6;

  /** Whether the reading decides after so many pulses: a ladder is at its end, or it is trimmed. */
  boolean ended(int made) {
    return made == 0 || made == coarseRungs() || made >= pulsesMax();
  }

  /** Peak of the pulse that trims what both ladders left, after so many, in A/m; it grows. */
  double trim(int made) {
    return TRIM_FIRST * coercivityAperM * Math.pow(TRIM, made - pulsesMax());
  }

  /** Where trimming ends: no rest of a ladder needs more. */
  double trimMost() {
    return fineFirst();
  }

  /** So many pulses in words. */
  String words(int made) {
    int trims = made - pulsesMax();
    return trims <= 0
        ? made + " falling pulses"
        : pulsesMax() + " falling pulses and " + trims + " that took off the rest";
  }

  /** Pulses of both ladders. */
  int pulsesMax() {
    return coarseRungs() + rungs(fineFirst(), FINE);
  }

  /** Peak of the pulse after so many, in A/m; {@code made} is below {@link #pulsesMax}. */
  double field(int made) {
    int coarse = coarseRungs();
    return made < coarse
        ? first() * Math.pow(COARSE, made)
        : fineFirst() * Math.pow(FINE, made - coarse);
  }

  private double first() {
    return Math.min(saturatingAperM, fieldMaxAperM);
  }

  private double fineFirst() {
    return Math.min(FINE_FIRST * coercivityAperM, first());
  }

  private int coarseRungs() {
    return rungs(first(), COARSE);
  }

  private int rungs(double first, double ratio) {
    return 1 + (int) Math.ceil(Math.log(LAST * coercivityAperM / first) / Math.log(ratio));
  }
}
