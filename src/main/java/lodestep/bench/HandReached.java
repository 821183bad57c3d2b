package lodestep.bench;

/**
 * How an approach went.
 *
 * @param stopTesla pull at which the person was told to stop
 * @param nearestTesla pull at the nearest
 */
record HandReached(double stopTesla, double nearestTesla) {}
