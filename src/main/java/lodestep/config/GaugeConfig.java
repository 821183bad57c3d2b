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
 * @param references magnets with a certificate, by which it is checked; may be empty
 */
public record GaugeConfig(
    double countsPerTesla, FluxDensity range, Length element, List<ReferenceConfig> references) {

  private static final Length POINT = Length.ofMm(0);

  public GaugeConfig {
    references = List.copyOf(references);
  }

  /** A gauge that reads at a point, with no reference magnet. */
  public GaugeConfig(double countsPerTesla, FluxDensity range) {
    this(countsPerTesla, range, POINT, List.of());
  }

  /** The same gauge with these reference magnets. */
  public GaugeConfig with(List<ReferenceConfig> others) {
    return new GaugeConfig(countsPerTesla, range, element, others);
  }
}
