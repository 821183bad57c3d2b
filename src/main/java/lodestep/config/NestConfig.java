package lodestep.config;

import lodestep.quantity.Length;

/**
 * A named seat for one kind of magnet.
 *
 * @param shape "rod", "ring" or "bar"; a ring stands with the middle of its wall over the gauge
 * @param standOff distance from the magnet's face to the gauge's element
 * @param coil name of the coil around this nest
 */
public record NestConfig(String name, String shape, Length standOff, String coil) {}
