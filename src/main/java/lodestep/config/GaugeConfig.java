package lodestep.config;

import java.util.List;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/**
 * The Hall gauge in the head, nominally; its calibration is a record of the ledger.
 *
 * @param countsPerTesla nominal, &gt; 0
 * @param range flux density at which the converter clips
 * @param element side of the square over which it takes the mean; 0 for a point, where the file
 *     does not say
 * @param gain how well that is known
 * @param references magnets with a certificate, by which it is checked; may be empty
 */
public record GaugeConfig(
    double countsPerTesla,
    FluxDensity range,
    Length element,
    Gain gain,
    List<ReferenceConfig> references) {

  private static final Length POINT = Length.ofMm(0);

  /**
   * How well the nominal gain is known, by the element's data sheet or whoever made the gauge.
   *
   * @param perKelvin relative change of the counts for one kelvin at the gauge; 0 where the file
   *     does not say
   * @param uncertainty relative standard uncertainty at 20 °C until a reference has calibrated it
   */
  public record Gain(double perKelvin, double uncertainty) {

    /** Where the file says neither: a tenth of a per cent, taken on trust. */
    public static final Gain UNSAID = new Gain(0, 0.001);
  }

  public GaugeConfig {
    references = List.copyOf(references);
  }

  /** A gauge that reads at a point, with no reference magnet. */
  public GaugeConfig(double countsPerTesla, FluxDensity range) {
    this(countsPerTesla, range, POINT);
  }

  /** A gauge with no reference magnet, of which nothing else is said. */
  public GaugeConfig(double countsPerTesla, FluxDensity range, Length element) {
    this(countsPerTesla, range, element, Gain.UNSAID, List.of());
  }

  /** The same gauge with these reference magnets. */
  public GaugeConfig with(List<ReferenceConfig> others) {
    return new GaugeConfig(countsPerTesla, range, element, gain, others);
  }

  /** The same gauge with a gain known so well. */
  public GaugeConfig with(Gain other) {
    return new GaugeConfig(countsPerTesla, range, element, other, references);
  }
}
