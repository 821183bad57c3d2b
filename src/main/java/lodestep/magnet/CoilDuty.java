package lodestep.magnet;

import lodestep.quantity.Temperature;

/**
 * How warm a coil becomes by pulses that follow one another. Any thread, immutable.
 *
 * <p>Each pulse warms the winding at once by ΔT, and between pulses what it stands above the room
 * falls by e<sup>−t/τ</sup>: one heat capacity and one time constant. The hottest moment of the
 * k-th pulse of period p is then ΔT (1 − q<sup>k</sup>)/(1 − q) above the room, q =
 * e<sup>−p/τ</sup>. Source: Newton's law of cooling, any text on heat.
 *
 * @param riseKelvin ΔT of one pulse, above zero; as of a winding at its limit, since warm copper
 *     takes the greater part of the heat
 * @param coolingSeconds τ, above zero
 */
public record CoilDuty(double riseKelvin, double coolingSeconds) {

  private static final double SECONDS_PER_HOUR = 3600;

  /**
   * @throws IllegalArgumentException naming the figure that is not above zero
   */
  public CoilDuty {
    // Negated comparisons on purpose: they also reject NaN.
    if (!(riseKelvin > 0) || !(coolingSeconds > 0 && coolingSeconds < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(
          "a coil's duty needs a rise and a cooling time above zero: "
              + riseKelvin
              + " K, "
              + coolingSeconds
              + " s");
    }
  }

  /**
   * Temperature right after the last of so many pulses, the first fired in a coil as warm as the
   * room.
   *
   * @param pulses &ge; 0
   * @param periodSeconds from one pulse to the next, above zero
   * @throws IllegalArgumentException if a figure is out of range
   */
  public Temperature afterPulses(int pulses, double periodSeconds, Temperature room) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(pulses >= 0 && periodSeconds > 0)) {
      throw new IllegalArgumentException(
          "out of range: " + pulses + " pulses, one in " + periodSeconds + " s");
    }
    double each = -periodSeconds / coolingSeconds;
    double sum = Math.expm1(pulses * each) / Math.expm1(each);
    return new Temperature(room.kelvin() + riseKelvin * sum);
  }

  /**
   * The shortest period in seconds that keeps the winding at or below its limit for ever; infinite
   * if a single pulse goes beyond it.
   */
  public double periodSeconds(Temperature limit, Temperature room) {
    double part = riseKelvin / (limit.kelvin() - room.kelvin());
    return part > 0 && part < 1 ? -coolingSeconds * Math.log1p(-part) : Double.POSITIVE_INFINITY;
  }

  /** As many pulses an hour as the limit allows for ever; 0 if not one. */
  public double pulsesPerHour(Temperature limit, Temperature room) {
    return SECONDS_PER_HOUR / periodSeconds(limit, room);
  }
}
