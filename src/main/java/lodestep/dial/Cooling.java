package lodestep.dial;

import lodestep.config.CoilConfig;
import lodestep.quantity.Temperature;

/** When a coil rests between two acts, so that a long batch never comes to its limit and trips. */
final class Cooling {

  /**
   * A pulse warms a coil by a few kelvin; and the interlocks, which reckon its heat apart from the
   * thermometer, take a bench that is warmer and pulses that are fuller than most.
   */
  private static final double BELOW_LIMIT_KELVIN = 20;

  /** It cools by as much before it goes on. */
  private static final double DOWN_KELVIN = 8;

  /** A coil that takes longer is not cooled at all. */
  static final long LONGEST_NS = 1_200_000_000_000L;

  private Cooling() {}

  static Temperature restAbove(CoilConfig coil) {
    return new Temperature(coil.temperatureMax().kelvin() - BELOW_LIMIT_KELVIN);
  }

  /** Whether an act of this source has to wait; one that is waiting waits until it is cooler. */
  static boolean due(FieldSource source, Temperature coil, boolean waiting) {
    double down = waiting ? DOWN_KELVIN : 0;
    return source.restAbove().map(limit -> coil.kelvin() > limit.kelvin() - down).orElse(false);
  }
}
