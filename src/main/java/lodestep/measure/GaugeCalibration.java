package lodestep.measure;

import java.util.List;
import java.util.Locale;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;

/**
 * How the gauge's counts become flux density. Any thread, immutable.
 *
 * <p>B = (counts − zero) / (countsPerTesla · (1 + gainPerKelvin · (T − reference))).
 *
 * @param countsPerTesla at the reference temperature, &gt; 0
 * @param gainPerKelvin relative change of the counts for one kelvin at the gauge
 * @param reference temperature of the calibration
 * @param relativeStandardUncertainty of the gain at the reference temperature, 0 to 0.2
 */
public record GaugeCalibration(
    double countsPerTesla,
    double gainPerKelvin,
    Temperature reference,
    double relativeStandardUncertainty) {

  /** A gauge whose gain moves by more in a kelvin is broken; 0.2 per cent is a poor one. */
  public static final double GAIN_PER_KELVIN_MAX = 0.02;

  /** A gain known no better than this is no calibration. */
  public static final double RELATIVE_UNCERTAINTY_MAX = 0.2;

  /**
   * A reference magnet may correct the gain by no more: a gauge further off is broken, or the
   * magnet is not the one of the certificate. Common practice, no source.
   */
  public static final double CORRECTION_BY_REFERENCE_MAX = 0.05;

  /**
   * A data sheet's coefficient is its kind's, half known of one piece. Common practice, no source.
   */
  private static final double COEFFICIENT_PART = 0.5;

  /**
   * A bench is no further from the reference, as likely here as there. Common practice, no source.
   */
  private static final double BENCH_KELVIN = 10;

  /** A gain corrected by more than a third is outside what a calibration says. */
  private static final double CORRECTION_MAX = 1.0 / 3.0;

  /**
   * @throws IllegalArgumentException if a figure is not a number or out of range
   */
  public GaugeCalibration {
    // Negated comparisons on purpose: they also reject NaN.
    if (!(countsPerTesla > 0 && countsPerTesla < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(
          "calibration needs counts per tesla above zero: " + countsPerTesla);
    }
    if (!(Math.abs(gainPerKelvin) <= GAIN_PER_KELVIN_MAX)) {
      throw new IllegalArgumentException(
          "calibration's gain per kelvin out of range: " + gainPerKelvin);
    }
    if (!(relativeStandardUncertainty >= 0
        && relativeStandardUncertainty <= RELATIVE_UNCERTAINTY_MAX)) {
      throw new IllegalArgumentException(
          "calibration's relative uncertainty out of range: " + relativeStandardUncertainty);
    }
  }

  /**
   * Flux density that made these counts.
   *
   * @param counts one sample's or a mean, finite
   * @param zeroCounts counts with no field
   * @param gauge temperature at the gauge
   * @throws IllegalArgumentException if the counts are not numbers, stand for a flux density that
   *     no such rig has, or the temperature is too far from the reference
   */
  public FluxDensity fluxDensity(double counts, double zeroCounts, Temperature gauge) {
    return new FluxDensity((counts - zeroCounts) / countsPerTeslaAt(gauge));
  }

  /**
   * The calibration by which a reference magnet would have read what its certificate says.
   *
   * @param read with this calibration, signed
   * @param certificate what the certificate says, signed
   * @param relative standard uncertainty of the two together, placement counted in; 0 to {@value
   *     #RELATIVE_UNCERTAINTY_MAX}
   * @throws IllegalArgumentException with one sentence, if the gain would change by more than
   *     {@link #CORRECTION_BY_REFERENCE_MAX}
   */
  public GaugeCalibration correctedBy(FluxDensity read, FluxDensity certificate, double relative) {
    double factor = read.tesla() / certificate.tesla();
    // Negated comparison on purpose: it also rejects NaN.
    if (!(Math.abs(factor - 1) <= CORRECTION_BY_REFERENCE_MAX)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "it reads %s where the certificate says %s: no calibration mends more than %.0f %%;"
                  + " see that it is the right magnet, nest and spacer, and repair the gauge",
              read.inGauss(),
              certificate.inGauss(),
              100 * CORRECTION_BY_REFERENCE_MAX));
    }
    return new GaugeCalibration(countsPerTesla * factor, gainPerKelvin, reference, relative);
  }

  /**
   * Relative standard uncertainty of the gain by what is not known of its change with temperature:
   * a rectangular distribution over the bench's temperatures (JCGM 100, 4.3.7). 0 where no change
   * is stated.
   */
  public double relativeByTemperature() {
    return COEFFICIENT_PART * Math.abs(gainPerKelvin) * BENCH_KELVIN / Math.sqrt(3);
  }

  /** Relative standard uncertainty of the gain on a bench, its temperature counted in. */
  public double relative() {
    return Math.hypot(relativeStandardUncertainty, relativeByTemperature());
  }

  /**
   * The reading with the uncertainties of this gain and of the zero counted in.
   *
   * @param reading settled from samples converted with this calibration and this zero
   */
  public SettledReading counted(SettledReading reading, GaugeZero zero) {
    double gain = relative() * reading.value().magnitude().tesla();
    double zeroTesla = zero.standardUncertaintyCounts() / countsPerTesla;
    return reading.withUncertainty(
        StandardUncertainty.combined(
            List.of(
                reading.uncertainty(),
                StandardUncertainty.known(gain),
                new StandardUncertainty(zeroTesla, zero.degreesOfFreedom()))));
  }

  private double countsPerTeslaAt(Temperature gauge) {
    double correction = gainPerKelvin * (gauge.kelvin() - reference.kelvin());
    if (Math.abs(correction) > CORRECTION_MAX) {
      throw new IllegalArgumentException(
          "the gauge at "
              + gauge.written()
              + " is too far from its calibration at "
              + reference.written());
    }
    return countsPerTesla * (1 + correction);
  }
}
