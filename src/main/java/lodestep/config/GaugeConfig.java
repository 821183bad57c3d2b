package lodestep.config;

import lodestep.quantity.FluxDensity;

/**
 * The Hall gauge in the head, nominally; its calibration is a record of the ledger.
 *
 * @param countsPerTesla nominal, &gt; 0
 * @param range flux density at which the converter clips
 */
public record GaugeConfig(double countsPerTesla, FluxDensity range) {}
