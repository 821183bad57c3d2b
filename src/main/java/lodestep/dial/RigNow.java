package lodestep.dial;

import lodestep.quantity.Temperature;

/**
 * What a field source must know of the rig to say what it can do. Any thread, immutable.
 *
 * @param coilTemperature of the coil now
 * @param memory what the rig has taught
 */
public record RigNow(Temperature coilTemperature, RigMemory memory) {}
