package lodestep.bench;

import lodestep.quantity.FluxDensity;

/** The narrowest band in which the gauge can accept a magnet, its uncertainty counted in. */
@FunctionalInterface
public interface TightestTolerance {

  /**
   * Smallest half width, &ge; 0, that can be told at this level.
   *
   * @param level without sign
   */
  FluxDensity at(FluxDensity level);
}
