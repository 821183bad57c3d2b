package lodestep.interlock;

import java.util.List;
import java.util.stream.Stream;

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
  LADDER_RELAY_STAYS,

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
  TIMER_RUNS_LONG,
  COIL_SENSOR_OPEN,

  MOTOR_STALLS,
  MOTOR_TURNS_OTHER_WAY,
  HOME_SWITCH_STAYS_CLOSED,
  HOME_WIRE_BROKEN,
  FAR_SWITCH_STAYS_CLOSED,
  FAR_WIRE_BROKEN,
  HEAD_RUNS_ON,
  HEAD_STEPS_ALONE,

  GAUGE_STANDS,
  SCAN_LATE,
  SCAN_VERY_LATE,
  LEDGER_FAILED,
  PROGRAM_FAILED,
  PIN_STUCK;

  /** Deviations that are explored together, in every mixture, and on which rigs. */
  enum Group {
    LID(Rigs.ALL, LID_A_OPEN, LID_B_OPEN),
    PERSON(Rigs.ALL, STOP_LOOP_OPEN, KEY_OFF, STOP_ASKED),
    CHAIN(Rigs.ALL, CHAIN_OPEN, HEAD_KEEPS_NO_PERMIT, HEAD_LATCHED, COIL_HOT),
    LINK(Rigs.ALL, NO_LINE, LINK_CLOSED, HEAD_RESTARTS),
    HELLO(Rigs.ALL, NO_HELLO, HEAD_RESTARTS),
    RELAYS(Rigs.BANK, FILL_RELAY_STAYS, BLEED_RELAY_STAYS, CHANGEOVER_STAYS, RANGE_RELAY_STAYS),
    CONTACTS(
        Rigs.BANK,
        FILL_CONTACT_LIES,
        BLEED_CONTACT_LIES,
        CHANGEOVER_CONTACT_LIES,
        HEAD_SEES_OTHER_CONTACT),
    BANK(Rigs.BANK, BANK_CREEPS_UP, BANK_STANDS, BANK_READS_NOTHING, BANK_READS_TOO_HIGH),
    COIL(Rigs.BANK, CURRENT_FLOWS, WRONG_SIGN, NO_REPORT, NOT_FIRED, COIL_SENSOR_OPEN),
    FEED_RELAYS(
        Rigs.SWITCHED, BLEED_RELAY_STAYS, CHANGEOVER_STAYS, RANGE_RELAY_STAYS, LADDER_RELAY_STAYS),
    FEED_CONTACTS(
        Rigs.SWITCHED, BLEED_CONTACT_LIES, CHANGEOVER_CONTACT_LIES, HEAD_SEES_OTHER_CONTACT),
    FEED(Rigs.SWITCHED, BANK_STANDS, BANK_READS_NOTHING, BANK_READS_TOO_HIGH),
    SWITCH(Rigs.SWITCHED, CURRENT_FLOWS, TIMER_RUNS_LONG, NOT_FIRED),
    REPORT(Rigs.SWITCHED, WRONG_SIGN, NO_REPORT, COIL_SENSOR_OPEN),
    MOTOR(Rigs.JIG, MOTOR_STALLS, MOTOR_TURNS_OTHER_WAY),
    HOME_SWITCH(Rigs.JIG, HOME_SWITCH_STAYS_CLOSED, HOME_WIRE_BROKEN),
    FAR_SWITCH(Rigs.JIG, FAR_SWITCH_STAYS_CLOSED, FAR_WIRE_BROKEN),
    HEAD_STEPS(Rigs.JIG, HEAD_RUNS_ON, HEAD_STEPS_ALONE, HEAD_RESTARTS),
    TIME(Rigs.ALL, GAUGE_STANDS, SCAN_LATE, SCAN_VERY_LATE),
    PROGRAM(Rigs.ALL, LEDGER_FAILED, PROGRAM_FAILED, PIN_STUCK);

    @SuppressWarnings("ImmutableEnumChecker") // made by List.of
    private final List<ExploredKind> kinds;

    @SuppressWarnings("ImmutableEnumChecker") // made by List.of
    private final List<Deviation> deviations;

    Group(List<ExploredKind> kinds, Deviation... deviations) {
      this.kinds = kinds;
      this.deviations = List.of(deviations);
    }

    List<Deviation> deviations() {
      return deviations;
    }

    /** Those that this rig can suffer. */
    static List<Group> of(ExploredKind kind) {
      return Stream.of(values()).filter(group -> group.kinds.contains(kind)).toList();
    }
  }

  /** Rigs by what they have. */
  private static final class Rigs {
    static final List<ExploredKind> ALL = List.of(ExploredKind.values());
    static final List<ExploredKind> BANK = List.of(ExploredKind.BANK, ExploredKind.BANK_AND_JIG);
    static final List<ExploredKind> SWITCHED = List.of(ExploredKind.SWITCHED);
    static final List<ExploredKind> JIG = List.of(ExploredKind.JIG, ExploredKind.BANK_AND_JIG);
  }

  /** Its bit in a set of deviations. */
  long bit() {
    return 1L << ordinal();
  }

  boolean in(long set) {
    return (set & bit()) != 0;
  }
}
