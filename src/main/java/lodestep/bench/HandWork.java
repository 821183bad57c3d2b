package lodestep.bench;

import java.util.List;
import java.util.Optional;
import lodestep.config.Limits;
import lodestep.config.RigConfig;
import lodestep.dial.Task;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.Seating;
import lodestep.measure.SettledReading;
import lodestep.quantity.FluxDensity;

/**
 * One magnet to be charged and knocked down by hand, and what is asked of it: what stays the same
 * from the empty seat to the verdict. Any thread, immutable.
 *
 * @param row what is asked, as a plan of one row says it
 * @param expectedFull its full charge at the nest, without sign
 * @param calibration of the gauge
 * @param seating how it lies in its nest
 * @param limits of the rig
 * @param typed other gauges' readings of it, known before it begins
 */
public record HandWork(
    PlanRow row,
    FluxDensity expectedFull,
    GaugeCalibration calibration,
    Seating seating,
    Limits limits,
    List<TypedReading> typed) {

  public HandWork {
    typed = List.copyOf(typed);
  }

  /** The work of this row's one magnet on this rig. */
  public static HandWork of(
      PlanRow row,
      RigConfig rig,
      GaugeCalibration calibration,
      NestSeatings seatings,
      List<TypedReading> typed) {
    return new HandWork(
        row, row.fullCharge(), calibration, seatings.in(row.nest()), rig.limits(), typed);
  }

  /**
   * The level its reading is held against.
   *
   * @param asFound its first settled reading, signed
   * @return empty of a full charge, and when it reads too little to come down as far as asked
   */
  Optional<Target> target(FluxDensity asFound) {
    return row.task()
        .match(
            level -> Optional.of(Target.of(level)),
            down -> down.from(asFound).map(Target::of),
            none -> Optional.of(new Target(new FluxDensity(0), none.limit())),
            full -> Optional.empty());
  }

  /** Standard uncertainty of the level that this reading, gain and zero counted in, tells. */
  FluxDensity ofLevel(SettledReading reading) {
    return seating.ofLevel(reading.value(), reading.standardUncertainty());
  }

  /** Whether it is charged first. */
  boolean charged() {
    return row.task().charges();
  }

  /**
   * A level with its band.
   *
   * @param level signed; zero when demagnetising
   * @param tolerance half width, &gt; 0
   */
  public record Target(FluxDensity level, FluxDensity tolerance) {
    static Target of(Task.ToLevel level) {
      return new Target(level.target(), level.tolerance());
    }
  }
}
