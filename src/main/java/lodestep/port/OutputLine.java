package lodestep.port;

import java.util.List;

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
  BUZZER,
  /** Feed relay of a switched coil; low disconnects the supply. Switched dry. */
  COIL_ON,
  /** Relay 1 of the ladder; low leaves its resistor out. */
  LADDER_1,
  /** Relay 2 of the ladder; low leaves its resistor out. */
  LADDER_2,
  /** Relay 3 of the ladder; low leaves its resistor out. */
  LADDER_3,
  /** Relay 4 of the ladder; low leaves its resistor out. */
  LADDER_4,
  /** Relay 5 of the ladder; low leaves its resistor out. */
  LADDER_5,
  /** Relay 6 of the ladder; low leaves its resistor out. */
  LADDER_6,
  /** Relay 7 of the ladder; low leaves its resistor out. */
  LADDER_7,
  /** Relay 8 of the ladder; low leaves its resistor out. */
  LADDER_8;

  /** The relays of the ladder, from that of the smallest step upwards. */
  public static final List<OutputLine> LADDER =
      List.of(LADDER_1, LADDER_2, LADDER_3, LADDER_4, LADDER_5, LADDER_6, LADDER_7, LADDER_8);

  /** This line's bit in {@link Outputs}. */
  int bit() {
    return 1 << ordinal();
  }
}
