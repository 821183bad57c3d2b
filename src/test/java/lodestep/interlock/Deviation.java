package lodestep.interlock;

import java.util.List;

/** What may be other than it should in a scan: by a person's hand, or by a fault of some part. */
enum Deviation {
  LID_A_OPEN,
  LID_B_OPEN,

  STOP_LOOP_OPEN,
  KEY_OFF,
  STOP_ASKED,

  CHAIN_OPEN,
  HEAD_KEEPS_NO_PERMIT,
  HEAD_LATCHED,
  COIL_HOT,

  NO_LINE,
  LINK_CLOSED,
  HEAD_RESTARTS,
  NO_HELLO,

  FILL_RELAY_STAYS,
  BLEED_RELAY_STAYS,
  CHANGEOVER_STAYS,
  RANGE_RELAY_STAYS,

  FILL_CONTACT_LIES,
  BLEED_CONTACT_LIES,
  CHANGEOVER_CONTACT_LIES,
  HEAD_SEES_OTHER_CONTACT,

  BANK_CREEPS_UP,
  BANK_STANDS,
  BANK_READS_NOTHING,
  BANK_READS_TOO_HIGH,

  CURRENT_FLOWS,
  WRONG_SIGN,
  NO_REPORT,
  NOT_FIRED,
  COIL_SENSOR_OPEN,

  GAUGE_STANDS,
  SCAN_LATE,
  SCAN_VERY_LATE,
  LEDGER_FAILED,
  PROGRAM_FAILED,
  PIN_STUCK;

  /** Deviations that are explored together, in every mixture. */
  enum Group {
    LID(LID_A_OPEN, LID_B_OPEN),
    PERSON(STOP_LOOP_OPEN, KEY_OFF, STOP_ASKED),
    CHAIN(CHAIN_OPEN, HEAD_KEEPS_NO_PERMIT, HEAD_LATCHED, COIL_HOT),
    LINK(NO_LINE, LINK_CLOSED, HEAD_RESTARTS),
    HELLO(NO_HELLO, HEAD_RESTARTS),
    RELAYS(FILL_RELAY_STAYS, BLEED_RELAY_STAYS, CHANGEOVER_STAYS, RANGE_RELAY_STAYS),
    CONTACTS(
        FILL_CONTACT_LIES, BLEED_CONTACT_LIES, CHANGEOVER_CONTACT_LIES, HEAD_SEES_OTHER_CONTACT),
    BANK(BANK_CREEPS_UP, BANK_STANDS, BANK_READS_NOTHING, BANK_READS_TOO_HIGH),
    COIL(CURRENT_FLOWS, WRONG_SIGN, NO_REPORT, NOT_FIRED, COIL_SENSOR_OPEN),
    TIME(GAUGE_STANDS, SCAN_LATE, SCAN_VERY_LATE),
    PROGRAM(LEDGER_FAILED, PROGRAM_FAILED, PIN_STUCK);

    @SuppressWarnings("ImmutableEnumChecker") // made by List.of
    private final List<Deviation> deviations;

    Group(Deviation... deviations) {
      this.deviations = List.of(deviations);
    }

    List<Deviation> deviations() {
      return deviations;
    }
  }

  /** Its bit in a set of deviations. */
  long bit() {
    return 1L << ordinal();
  }

  boolean in(long set) {
    return (set & bit()) != 0;
  }
}
