package lodestep.port;

/** A line the host drives. Low is the safe level of every one of them. */
public enum OutputLine {
  /** Fill relay; low disconnects the supply from the bank. */
  BANK_FILL,
  /** Relay that opens the bleed contact; low means the bank is being bled. */
  BANK_HOLD,
  /** Changeover relay; low drives the gauge's face north. */
  COIL_REVERSE,
  /** Relay across the series resistor; low keeps the resistor in: the knock-down range. */
  COIL_FULL,
  /** Switch gate; low means not firing. Does nothing outside the head's fire window. */
  COIL_FIRE,
  /** Jig driver; low means driver off, the screw holds. */
  JIG_ENABLE,
  /** Lamp "ready": load a magnet, or press the pedal. */
  LAMP_READY,
  /** Lamp "busy": keep the lid closed. */
  LAMP_BUSY,
  /** Lamp "accepted". */
  LAMP_ACCEPT,
  /** Lamp "refused". */
  LAMP_REFUSE,
  /** Buzzer. */
  BUZZER;

  /** This line's bit in {@link Outputs}. */
  int bit() {
    return 1 << ordinal();
  }
}
