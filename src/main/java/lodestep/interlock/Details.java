package lodestep.interlock;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;

/** The figures seen at a trip, in words, for the record. Made only when something trips. */
final class Details {

  private Details() {}

  static String of(TripCause cause, Seen seen, Watches watches) {
    return switch (cause) {
      case STOP_ASKED, STOP_LOOP_OPEN, ARM_KEY_OFF, PROGRAM_ERROR -> "";
      case LID_OPENED, LID_CONTACTS_DISAGREE -> lid(seen) + bank(seen);
      case CHAIN_OPEN -> lid(seen) + stored(seen) + coil(seen);
      case HEAD_SILENT -> silence(seen);
      case HEAD_RESTARTED -> "boot " + watches.head().bootId() + " now";
      case PORT_SHARED -> "it belongs to another start of a program";
      case PERMIT_LOST -> flags(seen);
      case CONTACTS_DISAGREE -> "contacts " + contacts(watches.head().disagree().bits());
      case HEAD_NOT_FIT -> watches.identity().objection(seen).orElse("");
      case HEAD_LINE_BAD -> seen.in().link().badLines() + " damaged lines since the start";
      case HEAD_CLOCK_FAST -> "more than 0.2 s in 10 s";
      case GAUGE_FROZEN -> "sample counter stands at " + seen.head().sampleCounter();
      case BANK_OVER_VOLTAGE,
          BANK_NOT_FALLING,
          BANK_RISING,
          BANK_NOT_FILLING,
          BANK_HELD_TOO_LONG,
          BANK_FALLING ->
          bank(seen);
      case FILL_CONTACT_WRONG, BLEED_CONTACT_WRONG, CHANGEOVER_WRONG, RANGE_RELAY_WRONG ->
          "driven " + words(seen.in().driven());
      case OUTPUT_READ_BACK -> readBack(seen);
      case WRONG_SIGN_CURRENT -> report(seen);
      case COIL_HOT, COIL_SENSOR -> coil(seen);
      case COIL_HEAT_SPENT, COIL_RISE_UNSEEN -> warmth(cause, watches) + coil(seen);
      case PULSE_TOO_LONG -> watches.switched().tooLongMicros() / 1000 + " ms";
      case CURRENT_OFF_LEVEL ->
          ElectricCurrent.ofMilliAmps(watches.switched().seenMilliAmps()).written()
              + " at "
              + SwitchedWatch.level(seen);
      case CURRENT_UNCOMMANDED ->
          "coil at " + ElectricCurrent.ofMilliAmps(seen.head().coilMilliAmps()).written();
      case JIG_MOVED, JIG_SWITCH_WRONG, JIG_LOST, JIG_TRAVEL, JIG_WRONG_WAY, JIG_NOT_PARKED ->
          jig(seen);
      case SCAN_LATE -> "late by " + seen.in().lateNs() / 1_000_000 + " ms";
      case LEDGER_FAILED -> seen.in().ledger().fault().orElse("");
    };
  }

  private static String warmth(TripCause cause, Watches watches) {
    CoilHeat.Warmth warmth = watches.heat().warmth();
    double kelvin = cause == TripCause.COIL_HEAT_SPENT ? warmth.most() : warmth.least();
    return String.format(Locale.ROOT, "a rise of %.0f K by its pulses, ", kelvin);
  }

  private static String lid(Seen seen) {
    return "lid contact A "
        + openOrClosed(seen.closed(InputLine.LID_A))
        + ", B "
        + openOrClosed(seen.closed(InputLine.LID_B))
        + ", ";
  }

  private static String openOrClosed(boolean closed) {
    return closed ? "closed" : "open";
  }

  private static String bank(Seen seen) {
    return seen.known()
        ? "bank at " + Voltage.ofMilliVolts(seen.bankMilliVolts()).written()
        : "bank not known";
  }

  /** What stands on bank or feed, where that is more than counts as empty. */
  private static String stored(Seen seen) {
    return seen.known() && seen.bankMilliVolts() > seen.figures().bankLowMilliVolts()
        ? bank(seen) + ", "
        : "";
  }

  private static String coil(Seen seen) {
    int centiDegC = seen.head().coilCentiDegC();
    return seen.known() && centiDegC > -27_315
        ? "coil at " + Temperature.ofDegC(centiDegC * 0.01).written()
        : "coil not known";
  }

  private static String jig(Seen seen) {
    return "position "
        + Length.ofMicroMetres(seen.head().positionMicroMetres()).written()
        + (seen.says(HeadFlag.HOMED) ? "" : " not proven")
        + ", home switch "
        + openOrClosed(seen.says(HeadFlag.JIG_HOME))
        + ", far switch "
        + openOrClosed(seen.says(HeadFlag.JIG_FAR));
  }

  private static String silence(Seen seen) {
    String link = seen.in().link().open() ? "" : "; " + seen.in().link().words();
    // Between two lines nobody can say whether the last one came late or the next one is missing.
    long ageMs = seen.headAgeNs() / 1_000_000;
    String what =
        seen.news()
            ? "its newest line comes late by " + ageMs + " ms"
            : "its newest line is " + ageMs + " ms old";
    return what + link;
  }

  private static String flags(Seen seen) {
    return "chain "
        + openOrClosed(seen.says(HeadFlag.CHAIN))
        + (seen.says(HeadFlag.LATCHED) ? ", the head has latched off" : "");
  }

  private static String contacts(int bits) {
    List<String> names = new ArrayList<>();
    for (HeadFlag flag : HeadFlag.values()) {
      if ((bits & flag.bit()) != 0) {
        names.add(word(flag));
      }
    }
    return String.join(", ", names);
  }

  private static String readBack(Seen seen) {
    Outputs readBack = seen.in().readBack();
    return "driven " + words(seen.in().driven()) + ", read back " + words(readBack);
  }

  private static String report(Seen seen) {
    for (ReceivedFrame received : seen.in().frames()) {
      if (received.frame() instanceof HeadFrame.PulseReport pulse) {
        String way = seen.driven(OutputLine.COIL_REVERSE) ? "reverse" : "forward";
        return "forward "
            + ElectricCurrent.ofMilliAmps(pulse.peakForwardMilliAmps()).written()
            + ", reverse "
            + ElectricCurrent.ofMilliAmps(pulse.peakReverseMilliAmps()).written()
            + ", asked "
            + way;
      }
    }
    return "";
  }

  private static String words(Outputs outputs) {
    List<String> names = outputs.lines().stream().map(Details::word).toList();
    return names.isEmpty() ? "nothing" : String.join(", ", names);
  }

  private static String word(Enum<?> name) {
    return name.name().toLowerCase(Locale.ROOT).replace('_', ' ');
  }
}
