package lodestep.dial;

import lodestep.measure.GaugeZero;

/**
 * The gauge's zero in use.
 *
 * @param gauge what it counts with the seat empty
 * @param number ledger number of the event that took it
 */
public record Zero(GaugeZero gauge, long number) {}
