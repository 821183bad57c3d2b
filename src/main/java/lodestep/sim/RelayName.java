package lodestep.sim;

/** A relay of the rig. */
public enum RelayName {
  /** Connects the supply to the bank. */
  FILL,
  /** Opens the bleed contact while fed. */
  HOLD,
  /** Changeover: coil fed the other way round. */
  REVERSE,
  /** Bridges the series resistor. */
  FULL,
  /** The head's permit, in the hard-wired chain. */
  PERMIT,
  /** Connects the supply to a switched coil. */
  ON,
  /** Relay 1 of the ladder. */
  LADDER_1,
  /** Relay 2 of the ladder. */
  LADDER_2,
  /** Relay 3 of the ladder. */
  LADDER_3,
  /** Relay 4 of the ladder. */
  LADDER_4,
  /** Relay 5 of the ladder. */
  LADDER_5,
  /** Relay 6 of the ladder. */
  LADDER_6,
  /** Relay 7 of the ladder. */
  LADDER_7,
  /** Relay 8 of the ladder. */
  LADDER_8;

  /** The relay of the ladder with this index, from 0. */
  static RelayName ladder(int index) {
    return values()[LADDER_1.ordinal() + index];
  }

  int bit() {
    return 1 << ordinal();
  }
}
