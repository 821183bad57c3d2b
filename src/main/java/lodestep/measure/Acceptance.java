package lodestep.measure;

import lodestep.quantity.FluxDensity;

/**
 * A target with its tolerance, and the rule that accepts a reading: the tolerance is narrowed on
 * both sides by a guard band w = r U, with the expanded uncertainty U = 2 u. Any thread, immutable.
 *
 * <p>Source: JCGM 106:2012, 8.3.2 (guarded acceptance) and 9.5.3; r = 1 is the rule of ISO 14253-1.
 *
 * @param target signed; positive where the face read is north; zero when demagnetising
 * @param tolerance half width, &gt; 0
 * @param guardFactor r, 0 (no guard) to 3
 */
public record Acceptance(FluxDensity target, FluxDensity tolerance, double guardFactor) {

  /** Expanded over standard uncertainty. */
  public static final double COVERAGE = 2;

  /** The guard factor in use: a magnet at the limit passes one time in forty-four. */
  public static final double GUARD_FACTOR = 1;

  /**
   * Tolerance over expanded uncertainty that a gauge must have: at two the guard bands of both
   * sides leave half of the tolerance for the magnets. Common practice asks for three to ten before
   * the guard band is left out altogether (no source); with the guard band two is enough.
   */
  public static final double CAPABILITY_MIN = 2;

  private static final double GUARD_FACTOR_MAX = 3;

  /**
   * @throws IllegalArgumentException if the tolerance is not above zero or the factor out of range
   */
  public Acceptance {
    if (tolerance.tesla() <= 0) {
      throw new IllegalArgumentException("a tolerance must be above zero: " + tolerance.inGauss());
    }
    // Negated comparison on purpose: it also rejects NaN.
    if (!(guardFactor >= 0 && guardFactor <= GUARD_FACTOR_MAX)) {
      throw new IllegalArgumentException("guard factor out of range 0 to 3: " + guardFactor);
    }
  }

  /** With the guard band of {@link #GUARD_FACTOR}. */
  public static Acceptance guarded(FluxDensity target, FluxDensity tolerance) {
    return new Acceptance(target, tolerance, GUARD_FACTOR);
  }

  /**
   * Whether a gauge of this uncertainty can tell a magnet inside the tolerance from one outside:
   * the tolerance must be at least {@link #CAPABILITY_MIN} times the expanded uncertainty.
   *
   * @param tolerance half width
   * @param standardUncertainty of a reading, without sign
   */
  public static boolean canTell(FluxDensity tolerance, FluxDensity standardUncertainty) {
    return tolerance.tesla() >= tightestTolerance(standardUncertainty).tesla();
  }

  /** The tightest tolerance a gauge of this uncertainty can tell, half width. */
  public static FluxDensity tightestTolerance(FluxDensity standardUncertainty) {
    return new FluxDensity(CAPABILITY_MIN * COVERAGE * standardUncertainty.magnitude().tesla());
  }

  /** Half width in tesla of what is accepted; negative where the guard bands leave nothing. */
  public double acceptedHalfWidthTesla(FluxDensity standardUncertainty) {
    double guard = guardFactor * COVERAGE * standardUncertainty.magnitude().tesla();
    return tolerance.tesla() - guard;
  }

  /**
   * Judges a reading. Below and above are along the target's sign, so that for a south pole above
   * means more negative; with a target of zero every reading not accepted is above.
   *
   * @param standardUncertainty of the reading, without sign
   */
  public Judgement judge(FluxDensity reading, FluxDensity standardUncertainty) {
    double excess = excessTesla(reading);
    if (Math.abs(excess) <= acceptedHalfWidthTesla(standardUncertainty)) {
      return Judgement.ACCEPT;
    }
    return excess < 0 ? Judgement.BELOW : Judgement.ABOVE;
  }

  /** Judges a reading by its own uncertainty. */
  public Judgement judge(SettledReading reading) {
    return judge(reading.value(), reading.standardUncertainty());
  }

  /**
   * Probability, 0 to 1, that the magnet lies inside the tolerance, given the reading: normal, with
   * no knowledge beforehand (JCGM 106:2012, 7.3).
   *
   * @param standardUncertainty of the reading, &gt; 0
   */
  public double probabilityInside(FluxDensity reading, FluxDensity standardUncertainty) {
    double offset = reading.tesla() - target.tesla();
    double u = standardUncertainty.magnitude().tesla();
    double half = tolerance.tesla();
    return Normal.between((-half - offset) / u, (half - offset) / u);
  }

  /** How much stronger than the target, in tesla; negative is weaker. */
  private double excessTesla(FluxDensity reading) {
    if (target.tesla() == 0) {
      return Math.abs(reading.tesla());
    }
    return (reading.tesla() - target.tesla()) * Math.signum(target.tesla());
  }
}
