package lodestep.bench;

import java.util.Locale;
import java.util.Optional;
import lodestep.config.NestConfig;
import lodestep.measure.Acceptance;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.Seating;
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
   * What makes a band too narrow to be told that would be told in a nest that seats as is usual:
   * the nest's own study; empty if that is not why.
   *
   * @param level without sign
   * @param halfWidth that cannot be told
   */
  default Optional<Seating> study(NestConfig nest, FluxDensity level, FluxDensity halfWidth) {
    return Optional.empty();
  }

  /**
   * How well gain and seating are known in this nest, in words; empty if there is nothing to say.
   */
  default String known(NestConfig nest) {
    return "";
  }

  /**
   * Of a gauge in use: what gain, slow wander and seating leave even of a perfectly quiet reading,
   * so that no plan is refused that the gauge on a good day could do. A reading's own noise counts
   * when it is taken.
   */
  static TightestTolerance of(GaugeCalibration calibration, NestSeatings seatings) {
    return new OfGauge(calibration, seatings);
  }

  /** Of this gauge, in nests that seat so. */
  record OfGauge(GaugeCalibration calibration, NestSeatings seatings) implements TightestTolerance {

    @Override
    public FluxDensity at(NestConfig nest, FluxDensity level) {
      return told(seatings.in(nest), level);
    }

    @Override
    public Optional<Seating> study(NestConfig nest, FluxDensity level, FluxDensity halfWidth) {
      return told(Seating.usual(), level).compareTo(halfWidth) > 0
          ? Optional.empty()
          : Optional.of(seatings.in(nest));
    }

    @Override
    public String known(NestConfig nest) {
      return String.format(
          Locale.ROOT,
          ", its gain known to %.2f %% and a seating in the %s to %.2f %%",
          100 * calibration.relative(),
          nest.name(),
          100 * seatings.in(nest).counted());
    }

    private FluxDensity told(Seating seating, FluxDensity level) {
      double gain = calibration.relative() * level.tesla();
      return Acceptance.tightestTolerance(
          seating.ofLevel(
              level, new FluxDensity(Math.hypot(gain, SettlingRule.READING_WANDER_TESLA))));
    }
  }
}
