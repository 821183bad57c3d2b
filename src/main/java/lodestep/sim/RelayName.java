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
  PERMIT;

  int bit() {
    return 1 << ordinal();
  }
}
