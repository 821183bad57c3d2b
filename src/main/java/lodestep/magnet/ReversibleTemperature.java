package lodestep.magnet;

/**
 * What a magnet's temperature does to it and takes back: Br and HcJ follow it by their
 * coefficients, in a straight line about the 20 °C at which alloys' figures are given. Any thread,
 * immutable.
 *
 * <p>A reading follows Br alone here. In truth the open-circuit coefficient of alnico depends on
 * the working point (C. Joksch, Physica 80B, 199 (1975)), so that a short rod's may be another one,
 * also in sign: measure it where a per mille counts. What a swing takes for good follows from how
 * the demagnetising field gains on the coercivity ({@link #gain}), and is for the loop to say; time
 * is {@link SlowRelaxation}'s.
 *
 * <p>Valid for −40 to 120 °C, in which the coefficients hold.
 *
 * @param remanencePerKelvin relative change of Br for one kelvin
 * @param coercivityPerKelvin relative change of HcJ for one kelvin
 */
public record ReversibleTemperature(double remanencePerKelvin, double coercivityPerKelvin) {

  /** 20 °C, at which alloys' figures are given. */
  public static final double REFERENCE_KELVIN = 293.15;

  /** Swings beyond this leave the range in which the coefficients hold. */
  private static final double KELVIN_MAX = 100;

  /**
   * Of an alloy.
   *
   * @throws IllegalArgumentException naming the coefficient that is not known of it
   */
  public static ReversibleTemperature of(Alloy alloy) {
    return new ReversibleTemperature(
        alloy.figure(Figure.REMANENCE_PER_KELVIN), alloy.figure(Figure.COERCIVITY_PER_KELVIN));
  }

  /**
   * Factor on what an alloy's magnet reads at this temperature, 1 at {@link #REFERENCE_KELVIN}. A
   * coercivity's coefficient need not be known.
   *
   * @throws IllegalArgumentException if the remanence's is not known
   */
  public static double readingFactor(Alloy alloy, double kelvin) {
    double warmer = kelvin - REFERENCE_KELVIN;
    return 1 + alloy.remanencePerKelvin() * warmer;
  }

  /**
   * By which part the demagnetising field gains on the coercivity, the worse of warmer and colder;
   * 0 if the coercivity keeps up.
   *
   * @param swing to either side in kelvin, 0 to 100
   * @throws IllegalArgumentException if it is out of range
   */
  public double gain(double swing) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(swing >= 0 && swing <= KELVIN_MAX)) {
      throw new IllegalArgumentException("a swing of temperature is 0 to 100 K, not " + swing);
    }
    double warm = (1 + remanencePerKelvin * swing) / (1 + coercivityPerKelvin * swing) - 1;
    double cold = (1 - remanencePerKelvin * swing) / (1 - coercivityPerKelvin * swing) - 1;
    return Math.max(0, Math.max(warm, cold));
  }
}
