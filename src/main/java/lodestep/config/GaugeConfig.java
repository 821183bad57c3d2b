package lodestep.config;

import java.util.List;
import lodestep.quantity.FluxDensity;

/**
 * The Hall gauge in the head, nominally; its calibration is a record of the ledger.
 *
 * @param countsPerTesla nominal, &gt; 0
 * @param range flux density at which the converter clips
 * @param references magnets with a certificate, by which it is checked; may be empty
 */
public record GaugeConfig(
    double countsPerTesla, FluxDensity range, List<ReferenceConfig> references) {

  public GaugeConfig {
    references = List.copyOf(references);
  }

  /** A gauge with no reference magnet. */
  public GaugeConfig(double countsPerTesla, FluxDensity range) {
    this(countsPerTesla, range, List.of());
  }

  /** The same gauge with these reference magnets. */
  public GaugeConfig with(List<ReferenceConfig> others) {
    return new GaugeConfig(countsPerTesla, range, others);
  }
}
