package lodestep.port;

import java.util.Arrays;
import java.util.Optional;

/**
 * Every reason for which the interlocks let go of everything and latch. Codes are stable: they
 * stand in records for years and are never given a second meaning. The same table stands in {@code
 * safety/interlocks.md}; a test compares the two.
 */
public enum TripCause {
  STOP_ASKED(
      10, "Stop was asked", "a person pressed Stop", "see that all is well, then turn the arm key"),
  STOP_LOOP_OPEN(
      11,
      "the emergency-stop loop is open",
      "a stop device is pressed or its wire is broken",
      "release the stop device, then turn the arm key off and on"),
  LID_OPENED(
      12,
      "the lid was opened",
      "a lid contact opened while the bank was filled, fired or the jig moved",
      "close the lid, then turn the arm key off and on"),
  LID_CONTACTS_DISAGREE(
      13,
      "the two lid contacts disagree",
      "one of them is stuck, shimmed or its wire is broken",
      "have the lid switch repaired before going on"),
  ARM_KEY_OFF(
      14,
      "the arm key was turned off",
      "the key was turned while energy was in use",
      "turn the arm key on again"),
  CHAIN_OPEN(
      15,
      "the hard-wired chain is open",
      "stop loop, a lid contact, the coil's thermostat or the over-voltage comparator opened it, if"
          + " only for a moment",
      "find which of them opened; let a hot coil cool, and measure the supply"),
  HEAD_SILENT(
      20,
      "the head is silent",
      "no fresh line came from it; cable, supply or head has failed",
      "check cable and supply of the head"),
  HEAD_RESTARTED(
      21,
      "the head has restarted",
      "its boot number changed; its supply dipped or its watchdog reset it",
      "check supply and cable of the head"),
  PORT_SHARED(
      27,
      "another program speaks to the head",
      "the head was asked for something that this program did not ask, or serves another program",
      "end whatever else uses the head's port; then turn the arm key off and on"),
  PERMIT_LOST(
      22,
      "the head withdrew its permit",
      "its own checks failed, or heartbeats came too late",
      "read the head's state, then turn the arm key off and on"),
  CONTACTS_DISAGREE(
      23,
      "host and head see different contacts",
      "a wire between them is broken or a contact is bad",
      "check the wiring of the contact named"),
  GAUGE_FROZEN(
      24,
      "the gauge stands still",
      "the head sends lines but its converter has stopped",
      "switch the head off and on; if it comes back, replace it"),
  HEAD_NOT_FIT(
      25,
      "the head may not be used",
      "rig.toml names another, it speaks another version, it was built with other figures than"
          + " rig.toml has, or its watchdog is not proven",
      "connect the right head or mend rig.toml, or switch the head off and on; then turn the key"),
  HEAD_LINE_BAD(
      26,
      "the head's line is bad",
      "three of its lines came damaged within a second: bad cable or plug, or a second program",
      "see to cable, plug and screen, and close any other program that uses the port"),
  HEAD_CLOCK_FAST(
      28,
      "the head's clock goes fast",
      "against the computer's it gains more than two parts in a hundred: one of the two is wrong",
      "switch the head off and on; if it comes back, have head and computer checked"),
  BANK_OVER_VOLTAGE(
      30,
      "the bank is over its highest voltage",
      "the supply is set too high or filling did not stop",
      "keep away until the bank has bled; check the supply and the fill relay"),
  BANK_NOT_FALLING(
      31,
      "the bank or feed does not fall",
      "the pulse did not draw it down, or its relay does not let go",
      "keep the lid closed; wait for the bleeder, then have bleed or feed relay and switch"
          + " checked"),
  BANK_RISING(
      32,
      "the bank rises with nothing commanded",
      "the fill relay is welded",
      "switch the supply off at its plug; have the fill relay replaced"),
  BANK_NOT_FILLING(
      33,
      "the bank does not fill",
      "supply off, fill relay or bleed contact stuck, or the voltage wire is broken",
      "treat the bank as filled; check supply, relays and wire"),
  BANK_HELD_TOO_LONG(
      34,
      "the bank was held filled too long",
      "nothing fired within the time allowed",
      "turn the arm key off and on; the magnet begins again"),
  BANK_FALLING(
      35,
      "the bank falls while it is held",
      "switch, bleed contact, bleeder or a capacitor leaks",
      "switch the supply off; have the four checked before anything is charged"),
  FILL_CONTACT_WRONG(
      40,
      "the fill relay's mirror contact is wrong",
      "the relay is welded, stuck or its wire is broken",
      "have the fill relay checked"),
  BLEED_CONTACT_WRONG(
      41,
      "the mirror contact of the bleed or feed relay is wrong",
      "the relay is welded, stuck or its wire is broken",
      "switch the supply off; have that relay checked"),
  CHANGEOVER_WRONG(
      42,
      "the changeover relay is not where it was sent",
      "it is stuck, between its ends, or its wire is broken",
      "have the changeover relay checked"),
  RANGE_RELAY_WRONG(
      43,
      "the range relay is not where it was sent",
      "it is stuck or its wire is broken",
      "have the range relay checked"),
  OUTPUT_READ_BACK(
      44,
      "an output does not read back as driven",
      "a pin or its driver has failed",
      "replace the driver before going on"),
  WRONG_SIGN_CURRENT(
      50,
      "the coil carried current of the wrong sign",
      "the freewheel diode or the changeover relay has failed",
      "have diode and changeover checked; the magnet is charged again"),
  COIL_HOT(
      51,
      "the coil is too hot",
      "too many pulses in too short a time, or cooling is blocked",
      "let it cool; do not touch it"),
  COIL_SENSOR(
      52,
      "the coil's temperature is not known",
      "its sensor is open, shorted or stands still",
      "have the sensor replaced"),
  CURRENT_UNCOMMANDED(
      53,
      "the coil carries current with nothing fired",
      "the switch is shorted",
      "switch the supply off; have the switch replaced"),
  COIL_HEAT_SPENT(
      54,
      "the coil has had its heat",
      "by current and time alone it is at its limit, whatever its sensor says",
      "wait some minutes; if its temperature reads low, have the sensor checked"),
  PULSE_TOO_LONG(
      55,
      "the pulse lasted longer than its limit",
      "the gate, the fire window or the hardware timer did not end it in time",
      "switch the supply off; have window, timer and switch checked"),
  CURRENT_OFF_LEVEL(
      56,
      "the coil's current is not that of its level",
      "a ladder relay is stuck or welded, the supply sags, or the coil is open",
      "have ladder, supply and coil checked; the magnet is charged again"),
  COIL_RISE_UNSEEN(
      57,
      "the coil's thermometer does not rise with its heat",
      "it has come off the winding, or sits on another coil than the one that is fired",
      "switch the supply off, see that it sits on the winding of the coil in use; let it cool"),
  JIG_MOVED(
      70,
      "the jig moved with nothing commanded",
      "the head makes steps by itself, or its position counter has failed",
      "switch the motor's supply off; keep hands out; have the head checked"),
  JIG_SWITCH_WRONG(
      71,
      "the jig's limit switches do not fit its position",
      "a switch is stuck, its wire is broken, or the position counted is wrong",
      "have both switches and their wires checked; turn the key; the jig finds its home again"),
  JIG_LOST(
      72,
      "the jig has lost its position",
      "the motor lost steps: stalled, too fast, or something in the way",
      "see that the screw runs free, then turn the key; the magnet begins again"),
  JIG_TRAVEL(
      73,
      "the jig moved further than a stroke may",
      "its home switch does not open, or the motor turns the wrong way",
      "switch the motor's supply off; check home switch and motor wires"),
  JIG_WRONG_WAY(
      75,
      "the jig moves the wrong way, or not at all",
      "sent home it came to its far end, or sent off its home switch it did not leave it",
      "keep hands out; switch the motor's supply off; check motor wires, screw and both switches"),
  JIG_NOT_PARKED(
      74,
      "the jig is not parked with the bank in use",
      "it was moved by hand, or its position is not known",
      "turn the key off and on; the jig finds its home again before anything is filled"),
  SCAN_LATE(
      60,
      "the control loop ran late",
      "the computer was too busy to watch the rig",
      "close other programs; if it comes back, restart the computer"),
  LEDGER_FAILED(
      61,
      "the ledger cannot be written",
      "disk full, read-only or broken",
      "make room or repair the disk; nothing is fired without a record"),
  PROGRAM_ERROR(
      62,
      "the program found an error in itself",
      "a rule that must always hold was broken",
      "keep the log and report it; restart the program");

  private final int code;
  private final String what;
  private final String why;
  private final String remedy;

  TripCause(int code, String what, String why, String remedy) {
    this.code = code;
    this.what = what;
    this.why = why;
    this.remedy = remedy;
  }

  /** The cause with this number in records, if this program knows it. */
  public static Optional<TripCause> of(long code) {
    return Arrays.stream(values()).filter(cause -> cause.code == code).findFirst();
  }

  /** The stable number in records. */
  public int code() {
    return code;
  }

  /** What happened, as half a sentence for a person. */
  public String what() {
    return what;
  }

  /** The likely cause. */
  public String why() {
    return why;
  }

  /** What a person must do. */
  public String remedy() {
    return remedy;
  }
}
