package lodestep.device;

import lodestep.quantity.Voltage;

/**
 * One pulse as it is asked of the coil. Any thread, immutable.
 *
 * @param drivesNorth whether it drives the gauge's face north
 * @param full whether the series resistor is bridged: the charging range
 * @param asked bank voltage at which it is released
 * @param highest bank voltage above which the head must refuse it
 */
public record Pulse(boolean drivesNorth, boolean full, Voltage asked, Voltage highest) {

  /**
   * @throws IllegalArgumentException if the highest voltage is below the asked one, or the asked
   *     one is not above zero
   */
  public Pulse {
    if (!(asked.volts() > 0) || highest.compareTo(asked) < 0) {
      throw new IllegalArgumentException(
          "pulse voltage must be above zero and its limit not below it: asked "
              + asked.written()
              + ", limit "
              + highest.written());
    }
  }

  /** The range it is made in. */
  public String range() {
    return range(full);
  }

  /** The name of the charging range, or of the one with the series resistor in. */
  public static String range(boolean full) {
    return full ? "full" : "series";
  }
}
