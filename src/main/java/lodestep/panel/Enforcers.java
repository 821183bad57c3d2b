package lodestep.panel;

import lodestep.port.TripCause;

/** Who acts on each reason to let go, as {@code safety/interlocks.md} has it. Pure. */
public final class Enforcers {

  private Enforcers() {}

  /** In words: chain is the hard-wired one, host is this program, which acts on all of them. */
  public static String of(TripCause cause) {
    return switch (cause) {
      case STOP_LOOP_OPEN, LID_OPENED, CHAIN_OPEN -> "chain, head, host";
      case LID_CONTACTS_DISAGREE -> "host; the other contact by the chain";
      case HEAD_SILENT, SCAN_LATE, PROGRAM_ERROR -> "head by its heartbeat, host";
      case PORT_SHARED, PERMIT_LOST, COIL_SENSOR -> "head, host";
      case BANK_OVER_VOLTAGE -> "chain by its comparator, head, host";
      case COIL_HOT -> "chain by its thermostat, head, host";
      case PULSE_TOO_LONG -> "head by its window, the hardware timer, host";
      case JIG_SWITCH_WRONG -> "head by its stop at a switch, host";
      case JIG_LOST -> "head by its own count, host";
      case JIG_TRAVEL -> "host; the hard stops hold";
      case JIG_WRONG_WAY -> "head by its stop, host; the hard stops hold";
      default -> "host";
    };
  }
}
