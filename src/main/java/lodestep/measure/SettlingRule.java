package lodestep.measure;

/**
 * When a gauge counts as settled. Figures without a time are in the unit of the samples: tesla for
 * a reading, counts for a zero. Any thread, immutable.
 *
 * @param spanForNsMin shortest stretch of samples judged, &gt; 0
 * @param spanForNsMax longest stretch of samples judged, &ge; the shortest
 * @param giveUpForNs time after the start when it is reported as not settled, &gt; the shortest
 * @param driftPerSecondMax largest drift of a settled gauge, &gt; 0
 * @param wander standard deviation of the slow wander between zero and reading, &ge; 0: no window
 *     of a second can see it, so it is stated beforehand
 * @param resolution step of the converter, &ge; 0
 */
public record SettlingRule(
    long spanForNsMin,
    long spanForNsMax,
    long giveUpForNs,
    double driftPerSecondMax,
    double wander,
    double resolution) {

  /**
   * Slow wander of gauge and surroundings between a zero and a reading some minutes later, standard
   * deviation; a starting value until it is measured on the rig.
   */
  public static final double READING_WANDER_TESLA = 1e-5;

  private static final long MS = 1_000_000L;

  /**
   * @throws IllegalArgumentException if a figure is out of range or contradicts another
   */
  public SettlingRule {
    if (spanForNsMin <= 0 || spanForNsMax < spanForNsMin || giveUpForNs <= spanForNsMin) {
      throw new IllegalArgumentException(
          "settling needs 0 < shortest span <= longest span, and a later time to give up: "
              + spanForNsMin
              + ", "
              + spanForNsMax
              + ", "
              + giveUpForNs
              + " ns");
    }
    // Negated comparison on purpose: it also rejects NaN.
    if (!(driftPerSecondMax > 0 && wander >= 0 && resolution >= 0)) {
      throw new IllegalArgumentException("settling needs a drift limit above zero");
    }
  }

  /**
   * For readings of a magnet, in tesla. Starting values, engineering judgement: half a second
   * averages a gauge of 20 µT a sample to 3 µT; a drift of 0.1 mT a second is a gauss in a second,
   * which a person would see on a display.
   *
   * @param calibration gives the converter's step
   * @param wanderTesla as the rule's {@code wander}
   */
  public static SettlingRule reading(GaugeCalibration calibration, double wanderTesla) {
    double step = 1 / calibration.countsPerTesla();
    return new SettlingRule(500 * MS, 2_000 * MS, 10_000 * MS, 1e-4, wanderTesla, step);
  }

  /**
   * For zeros, in counts, with the same times and drift as a reading.
   *
   * @param calibration turns the drift limit into counts
   */
  public static SettlingRule zero(GaugeCalibration calibration) {
    double drift = 1e-4 * calibration.countsPerTesla();
    return new SettlingRule(500 * MS, 2_000 * MS, 10_000 * MS, drift, 0, 1);
  }
}
