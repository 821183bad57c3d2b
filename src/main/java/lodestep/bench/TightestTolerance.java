package lodestep.bench;

import lodestep.config.NestConfig;
import lodestep.measure.Acceptance;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.SettlingRule;
import lodestep.quantity.FluxDensity;

/** The narrowest band in which the gauge can accept a magnet, its uncertainty counted in. */
@FunctionalInterface
public interface TightestTolerance {

  /** Refuses no band: of a plan whose magnets have been judged. */
  TightestTolerance NONE = (nest, level) -> new FluxDensity(0);

  /**
   * Smallest half width, &ge; 0, that can be told at this level in this nest.
   *
   * @param level without sign
   */
  FluxDensity at(NestConfig nest, FluxDensity level);

  /**
   * Of a gauge in use: what gain, slow wander and seating leave even of a perfectly quiet reading,
   * so that no plan is refused that the gauge on a good day could do. A reading's own noise counts
   * when it is taken.
   */
  static TightestTolerance of(GaugeCalibration calibration, NestSeatings seatings) {
    return (nest, level) ->
        Acceptance.tightestTolerance(
            new FluxDensity(
                Math.hypot(
                    Math.hypot(
                            calibration.relativeStandardUncertainty(), seatings.in(nest).counted())
                        * level.tesla(),
                    SettlingRule.READING_WANDER_TESLA)));
  }
}
