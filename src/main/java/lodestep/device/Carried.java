package lodestep.device;

/**
 * What a delivered pulse carried against what its circuit should have. Any thread, immutable.
 *
 * @param coil its name on this rig
 * @param full whether series resistor or ladder were bridged: the charging range
 * @param ratio measured peak current over what bank or supply, resistances and inductance make at
 *     the copper's temperature, &gt; 0
 */
public record Carried(String coil, boolean full, double ratio) {

  /** Coil and range: each has its own usual current. */
  Range range() {
    return new Range(coil, full);
  }

  /** A coil in one of its ranges. */
  record Range(String coil, boolean full) {}
}
