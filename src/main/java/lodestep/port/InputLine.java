package lodestep.port;

/** A contact the host reads. True always means closed, and an open wire reads open. */
public enum InputLine {
  /** First lid contact; closed while the lid is shut. */
  LID_A,
  /** Second lid contact; closed while the lid is shut. */
  LID_B,
  /** Emergency-stop loop; closed while no stop device is pressed. */
  STOP_LOOP,
  /** Arm key; closed while the key is on. */
  ARM_KEY,
  /** Start pedal; closed while pressed. */
  START_PEDAL,
  /** Seat contact; closed while a magnet is in the nest. */
  WORK_SEAT,
  /** Mirror contact of the fill relay; closed while the relay is released. */
  FILL_CONTACT,
  /** Mirror contact of the bleed contact; closed while the bank is being bled. */
  BLEED_CONTACT,
  /** Mirror contact of the changeover relay; closed in its reverse position. */
  REVERSE_CONTACT,
  /** Mirror contact of the range relay; closed while the series resistor is bridged. */
  FULL_CONTACT;

  /** This line's bit in {@link Contacts}. */
  int bit() {
    return 1 << ordinal();
  }
}
