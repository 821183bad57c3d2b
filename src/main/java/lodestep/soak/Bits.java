package lodestep.soak;

import java.util.List;
import lodestep.port.Contacts;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;

/** Lines as bits: the rules look at them every millisecond. */
final class Bits {

  static final int LID_A = in(InputLine.LID_A);
  static final int LID_B = in(InputLine.LID_B);
  static final int STOP_LOOP = in(InputLine.STOP_LOOP);
  static final int PERSON_CONTACTS = LID_A | LID_B | STOP_LOOP;
  static final int ARM_KEY = in(InputLine.ARM_KEY);
  static final int START_PEDAL = in(InputLine.START_PEDAL);

  static final int WORK_SEAT = in(InputLine.WORK_SEAT);

  static final int FILL = out(OutputLine.BANK_FILL);
  static final int HOLD = out(OutputLine.BANK_HOLD);
  static final int FIRE = out(OutputLine.COIL_FIRE);
  static final int MOTOR = out(OutputLine.JIG_ENABLE);

  /** The feed relay of a switched coil does what the hold does for a bank. */
  static final int FEED = out(OutputLine.COIL_ON);

  static final int ENERGY = FILL | HOLD | FIRE | MOTOR | FEED;
  static final int BUZZER = out(OutputLine.BUZZER);
  static final int READY = out(OutputLine.LAMP_READY);

  private Bits() {}

  private static int in(InputLine line) {
    return Contacts.of(List.of(line), 0).closedBits();
  }

  private static int out(OutputLine line) {
    return Outputs.high(line).highBits();
  }
}
