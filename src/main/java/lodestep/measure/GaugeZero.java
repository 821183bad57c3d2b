package lodestep.measure;

/**
 * What the gauge counts with no field at it. Any thread, immutable.
 *
 * @param counts mean, finite, signed
 * @param standardUncertaintyCounts &ge; 0
 * @param degreesOfFreedom behind the uncertainty, &gt; 0, may be infinite
 * @param samples kept in the mean, &ge; 1
 */
public record GaugeZero(
    double counts, double standardUncertaintyCounts, double degreesOfFreedom, int samples) {

  /**
   * @throws IllegalArgumentException if a figure is out of range
   */
  public GaugeZero {
    if (!Double.isFinite(counts)) {
      throw new IllegalArgumentException("zero of the gauge out of range: " + counts + " counts");
    }
    new StandardUncertainty(standardUncertaintyCounts, degreesOfFreedom);
    if (samples < 1) {
      throw new IllegalArgumentException("a zero needs samples: " + samples);
    }
  }
}
