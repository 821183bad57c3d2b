package lodestep.magnet;

/**
 * A charged capacitor discharging once through a coil and a resistance: series RLC.
 *
 * <p>i(t) = V/(&omega;L)&middot;e<sup>&minus;&alpha;t</sup>&middot;sin(&omega;t) below critical
 * damping, with &alpha; = R/2L and &omega;&sup2; = 1/LC &minus; &alpha;&sup2;; sinh in place of sin
 * above it, and (V/L)&middot;t&middot;e<sup>&minus;&alpha;t</sup> at it (any text on electric
 * circuits, for example Nilsson and Riedel, ch. 8). Valid while R, L and C do not change in the
 * pulse and up to the first current maximum, so a freewheel diode changes nothing.
 *
 * @param resistanceOhms of the whole loop, &gt; 0
 * @param inductanceHenries &gt; 0
 * @param capacitanceFarads &gt; 0
 */
public record PulseCircuit(
    double resistanceOhms, double inductanceHenries, double capacitanceFarads) {

  /** Nearer than this to critical damping its own formula is the better conditioned one. */
  private static final double NEAR_CRITICAL = 1e-6;

  /**
   * @throws IllegalArgumentException naming the figure that is not above zero
   */
  public PulseCircuit {
    requirePositive("resistance", resistanceOhms);
    requirePositive("inductance", inductanceHenries);
    requirePositive("capacitance", capacitanceFarads);
  }

  /** Time from closing the switch to the current's maximum, in seconds. */
  public double peakSeconds() {
    double alpha = alpha();
    double ratio = squareRatio();
    if (Math.abs(ratio) < NEAR_CRITICAL) {
      return 1 / alpha;
    }
    double omega = alpha * Math.sqrt(Math.abs(ratio));
    return ratio > 0
        ? Math.log((alpha + omega) / (alpha - omega)) / (2 * omega)
        : Math.atan2(omega, alpha) / omega;
  }

  /** Current maximum for one volt on the capacitor, in amperes per volt. */
  public double peakAmpsPerVolt() {
    double alpha = alpha();
    double ratio = squareRatio();
    double t = peakSeconds();
    double decay = Math.exp(-alpha * t) / inductanceHenries;
    if (Math.abs(ratio) < NEAR_CRITICAL) {
      return t * decay;
    }
    double omega = alpha * Math.sqrt(Math.abs(ratio));
    return decay * (ratio > 0 ? Math.sinh(omega * t) : Math.sin(omega * t)) / omega;
  }

  private double alpha() {
    return resistanceOhms / (2 * inductanceHenries);
  }

  /** 1 &minus; (&omega;0/&alpha;)&sup2;: above zero overdamped, below zero underdamped. */
  private double squareRatio() {
    double alpha = alpha();
    return 1 - 1 / (inductanceHenries * capacitanceFarads * alpha * alpha);
  }

  private static void requirePositive(String what, double value) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(what + " must be above zero, not " + value);
    }
  }
}
