package lodestep.protocol;

/**
 * One bit of a status line. The contact bits are the head's own copy of the rig's contacts: raised
 * means closed. The positions are the wire's and never change.
 */
public enum HeadFlag {
  /** The permit relay is held. */
  PERMIT(0),
  /** The fire window is open: the gate supply is let through. */
  WINDOW(1),
  /**
   * The hard-wired chain is closed, and has been since the last line: stop loop, both lids, coil
   * thermostat.
   */
  CHAIN(2),
  /** First lid contact. */
  LID_A(3),
  /** Second lid contact. */
  LID_B(4),
  /** Emergency-stop loop. */
  STOP_LOOP(5),
  /** Mirror contact of the fill relay, closed while the relay is released. */
  FILL_CONTACT(6),
  /** Mirror contact of the bleed contact, closed while the bank is being bled. */
  BLEED_CONTACT(7),
  /** Mirror contact of the changeover relay, closed while it is in its reverse position. */
  REVERSE_CONTACT(8),
  /** Mirror contact of the range relay, closed while the series resistor is bridged. */
  FULL_CONTACT(9),
  /** Home switch of the jig: closed away from home, normally closed. */
  JIG_HOME(10),
  /** Far switch of the jig: closed away from the far end, normally closed. */
  JIG_FAR(11),
  /** The head has latched itself off since boot; it holds no permit until the latch is cleared. */
  LATCHED(12),
  /** The jig's position counts from its home switch; lowered when steps were lost. */
  HOMED(13),
  /** Within the last second a request came that belongs to another session than the one served. */
  STRANGER(14);

  private final int bit;

  HeadFlag(int position) {
    this.bit = 1 << position;
  }

  /** This flag's bit in the status line's flag field. */
  public int bit() {
    return bit;
  }
}
