package lodestep.magnet;

/**
 * A charged capacitor discharging once through a coil and a resistance: series RLC.
 *
 * <p>i(t) = V/(&omega;L)&middot;e<sup>&minus;&alpha;t</sup>&middot;sin(&omega;t) below critical
 * damping, with &alpha; = R/2L and &omega;&sup2; = 1/LC &minus; &alpha;&sup2;; sinh in place of sin
 * above it, and (V/L)&middot;t&middot;e<sup>&minus;&alpha;t</sup> at it (any text on electric
 * circuits, for example Nilsson and Riedel, ch. 8). Valid while R, L and C do not change in the
 * pulse, and until a freewheel diode conducts, which is never before the first current maximum;
 * {@link Discharge} goes on from there.
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
    return ampsPerVolt(peakSeconds());
  }

  /**
   * Current for one volt on the capacitor at the start, in amperes per volt.
   *
   * @param seconds since the switch closed, &ge; 0
   */
  double ampsPerVolt(double seconds) {
    return sine(seconds) / inductanceHenries;
  }

  /**
   * Voltage left of one volt on the capacitor at the start.
   *
   * @param seconds since the switch closed, &ge; 0
   */
  double voltsPerVolt(double seconds) {
    return cosine(seconds) + alpha() * sine(seconds);
  }

  /**
   * The first time after closing at which {@code volts + across · amps} is zero, where these are
   * the voltage and the current for one volt; infinite if there is none.
   *
   * @param acrossOhms may have either sign
   */
  double firstZeroSeconds(double acrossOhms) {
    // cos(ωt) + b sin(ωt)/ω = 0, with sinh and cosh above critical damping.
    double b = alpha() + acrossOhms / inductanceHenries;
    double ratio = squareRatio();
    if (Math.abs(ratio) < NEAR_CRITICAL) {
      return b < 0 ? -1 / b : Double.POSITIVE_INFINITY;
    }
    double omega = alpha() * Math.sqrt(Math.abs(ratio));
    if (ratio < 0) {
      double angle = Math.atan2(omega, -b);
      return angle / omega;
    }
    double tanh = -omega / b;
    return tanh > 0 && tanh < 1
        ? 0.5 * Math.log((1 + tanh) / (1 - tanh)) / omega
        : Double.POSITIVE_INFINITY;
  }

  /**
   * What swings back after the first maximum where nothing keeps the current from it, as a part of
   * that maximum: e<sup>&minus;&alpha;&pi;/&omega;</sup> below critical damping, else nothing.
   */
  public double swingBackFraction() {
    double ratio = squareRatio();
    return ratio < 0 ? Math.exp(-Math.PI / Math.sqrt(-ratio)) : 0;
  }

  /** e<sup>−αt</sup> sin(ωt)/ω or what stands in its place, in seconds. */
  private double sine(double t) {
    double alpha = alpha();
    double ratio = squareRatio();
    if (Math.abs(ratio) < NEAR_CRITICAL) {
      return t * Math.exp(-alpha * t);
    }
    double omega = alpha * Math.sqrt(Math.abs(ratio));
    // Above critical damping as two exponentials, which cannot overflow.
    return ratio < 0
        ? Math.exp(-alpha * t) * Math.sin(omega * t) / omega
        : (Math.exp((omega - alpha) * t) - Math.exp(-(omega + alpha) * t)) / (2 * omega);
  }

  /** e<sup>−αt</sup> cos(ωt) or what stands in its place. */
  private double cosine(double t) {
    double alpha = alpha();
    double ratio = squareRatio();
    if (Math.abs(ratio) < NEAR_CRITICAL) {
      return Math.exp(-alpha * t);
    }
    double omega = alpha * Math.sqrt(Math.abs(ratio));
    return ratio < 0
        ? Math.exp(-alpha * t) * Math.cos(omega * t)
        : 0.5 * (Math.exp((omega - alpha) * t) + Math.exp(-(omega + alpha) * t));
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
