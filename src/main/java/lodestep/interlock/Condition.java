package lodestep.interlock;

/**
 * One condition of the permission, put so that true is the side that permits more. Order and
 * letters are those of {@code safety/permission-table.txt}.
 */
public enum Condition {
  /** The newest status line is young enough to fire on. */
  STATUS_YOUNG("the head's line is fresh enough to fire"),
  /** The newest status line is young enough to hold the bank filled. */
  STATUS_FRESH("the head's line is fresh"),
  /** First lid contact closed, and for 50 ms. */
  LID_A_CLOSED("lid contact A is closed"),
  /** Second lid contact closed, and for 50 ms. */
  LID_B_CLOSED("lid contact B is closed"),
  /** The lid was seen open since the program started, and in the last eight hours. */
  LID_PROVEN("the lid has been seen open in the last eight hours"),
  /** The emergency-stop loop is closed. */
  STOP_LOOP_CLOSED("the emergency-stop loop is closed"),
  /** The head sees the hard-wired chain closed. */
  CHAIN_CLOSED("the hard-wired chain is closed"),
  /** The arm key is on. */
  KEY_ON("the arm key is on"),
  /** No trip is latched. */
  NO_TRIP("no trip stands"),
  /** This scan came in time to fire. */
  SCAN_ON_TIME("this scan is on time"),
  /** Host and head see the same contacts at this moment. */
  CONTACTS_AGREE("host and head see the same contacts"),
  /** The bank is known to be at or below the cap of every rig. */
  BANK_WITHIN_CAP("the bank is at or below its cap"),
  /** The bank is known to be low. */
  BANK_LOW("the bank is low"),
  /** The coil is known to carry no current. */
  CURRENT_ZERO("the coil carries no current"),
  /** The coil's temperature is known, and below its limit. */
  COIL_COOL("the coil is cool"),
  /** The head holds its permit relay. */
  PERMIT_HELD("the head holds its permit"),
  /** The head's fire window is open and has not been fired in. */
  WINDOW_OPEN("the fire window is open and unused"),
  /** Changeover and range relay have stood where they were sent, and filling has ended. */
  RELAYS_SETTLED("the relays have settled and filling has ended"),
  /** The bank is held and its bleed contact is seen open. */
  BLEED_OPEN("the bank is held and the bleed contact is open"),
  /** The switch gate is not driven. */
  GATE_LOW("the switch gate is low"),
  /** The head has said in its present run who it is, and may be used. */
  HEAD_KNOWN("the head has said who it is and is the right one"),
  /** The coil is fed by a bench supply and has no bank. */
  SWITCHED("the coil is switched from a supply"),
  /** The jig is known to stand at its park position, driver off; or the rig has no jig. */
  JIG_PARKED("the jig is parked"),
  /** The rig has a jig, and its limit switches are not both open. */
  JIG_FIT("the rig has a jig whose limit switches make sense"),
  /** Fill contact, switch and bleed were seen to work, and may be trusted still; or no bank. */
  BANK_PROVEN("fill contact, switch and bleed are proven");

  private final String words;

  Condition(String words) {
    this.words = words;
  }

  /** The condition met, as half a sentence for a person. */
  public String words() {
    return words;
  }

  /** This condition's bit in {@link PermissionRow}. */
  public int bit() {
    return 1 << ordinal();
  }
}
