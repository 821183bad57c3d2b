package lodestep.measure;

import lodestep.quantity.FluxDensity;

/**
 * What the gauge read once it had settled. Any thread, immutable.
 *
 * @param value mean, signed, positive where the face read is north
 * @param standardUncertainty &ge; 0; how the magnet sat in the nest is not counted
 * @param degreesOfFreedom behind the uncertainty, &gt; 0, may be infinite
 * @param samples kept in the mean, &ge; 1
 */
public record SettledReading(
    FluxDensity value, FluxDensity standardUncertainty, double degreesOfFreedom, int samples) {

  /**
   * @throws IllegalArgumentException if a figure is out of range
   */
  public SettledReading {
    new StandardUncertainty(standardUncertainty.tesla(), degreesOfFreedom);
    if (samples < 1) {
      throw new IllegalArgumentException("a reading needs samples: " + samples);
    }
  }

  /** The uncertainty with its degrees of freedom, in tesla. */
  public StandardUncertainty uncertainty() {
    return new StandardUncertainty(standardUncertainty.tesla(), degreesOfFreedom);
  }

  /** The same reading with another uncertainty, in tesla. */
  SettledReading withUncertainty(StandardUncertainty uncertainty) {
    return new SettledReading(
        value, new FluxDensity(uncertainty.value()), uncertainty.degreesOfFreedom(), samples);
  }
}
