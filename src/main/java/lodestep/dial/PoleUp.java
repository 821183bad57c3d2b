package lodestep.dial;

import lodestep.quantity.FluxDensity;

/** The pole of the face that will look at the strings, which is the face the gauge reads. */
public enum PoleUp {
  /** The gauge reads positive. */
  NORTH("north", 1),
  /** The gauge reads negative. */
  SOUTH("south", -1);

  private final String word;
  private final int sign;

  PoleUp(String word, int sign) {
    this.word = word;
    this.sign = sign;
  }

  /** The pole of the face that reads this, which is not zero. */
  public static PoleUp read(FluxDensity reading) {
    return reading.tesla() > 0 ? NORTH : SOUTH;
  }

  /** As it stands in plans and records: "north" or "south". */
  public String word() {
    return word;
  }

  /** Sign of the gauge's reading on this pole: 1 or -1. */
  public int sign() {
    return sign;
  }

  /** A level without sign as the gauge reads it on this pole. */
  public FluxDensity signed(FluxDensity level) {
    return new FluxDensity(sign * Math.abs(level.tesla()));
  }
}
