package lodestep.interlock;

import java.util.Optional;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;

/** What must hold of a jig in every state and step, whoever drives it. */
final class ExploredJigRules {

  private static final int JIG = Outputs.high(OutputLine.JIG_ENABLE).highBits();
  private static final int COIL =
      Outputs.high(
              OutputLine.BANK_FILL, OutputLine.BANK_HOLD, OutputLine.COIL_FIRE, OutputLine.COIL_ON)
          .highBits();

  private static final int BANK_LOW_MILLI_VOLTS = 10_000;
  private static final int CURRENT_ZERO_MILLI_AMPS = 50;
  private static final int TRAVEL = ExploredKind.TRAVEL_MM * 1_000;

  /** There and back, a tenth more, and the search for home. */
  private static final int PATH_MAX = TRAVEL * 22 / 10 + 10_000;

  /** Once along the travel, a tenth more, and the way off a switch. */
  private static final int SEEK_MAX = TRAVEL * 11 / 10 + 1_900;

  private static final int LEAVE_MAX = 1_900;

  /** From the scan that lets go of the driver to the second line that shows where it stands. */
  private static final int STANDS = 5;

  private static final int NOT_LEFT = Integer.MIN_VALUE;

  private ExploredJigRules() {}

  /**
   * What has been of the jig.
   *
   * @param path micrometres that lines have shown since the driver was switched on
   * @param off scans since it was switched off, up to {@link #STANDS}
   * @param left micrometres counted since it was first seen on an open switch, not proven
   */
  record Facts(int path, int off, int left) {
    static final Facts NONE = new Facts(0, 0, NOT_LEFT);

    void describe(Fingerprint to) {
      to.put(path).put(off).put(left);
    }
  }

  static Facts facts(ExploredPlace before, InterlockInputs in, Outputs driven) {
    Facts old = before.facts().jig();
    boolean was = (before.driven().highBits() & JIG) != 0;
    boolean is = (driven.highBits() & JIG) != 0;
    int off = is ? 0 : Math.min(STANDS, old.off() + 1);
    if (!was) {
      return new Facts(0, off, NOT_LEFT);
    }
    if (!comparable(before, in)) {
      return news(in) ? new Facts(0, off, NOT_LEFT) : new Facts(old.path(), off, old.left());
    }
    HeadFrame.Status last = before.status().orElseThrow().frame();
    HeadFrame.Status line = in.status().orElseThrow().frame();
    int moved = line.positionMicroMetres() - last.positionMicroMetres();
    boolean found = line.has(HeadFlag.HOMED) && !last.has(HeadFlag.HOMED);
    int path = found ? old.path() : Math.min(old.path() + Math.abs(moved), 2 * PATH_MAX);
    int left = !leaves(line) ? NOT_LEFT : old.left() == NOT_LEFT ? 0 : old.left() + moved;
    return new Facts(path, off, left);
  }

  private static boolean leaves(HeadFrame.Status line) {
    return !line.has(HeadFlag.HOMED)
        && !(line.has(HeadFlag.JIG_HOME) && line.has(HeadFlag.JIG_FAR));
  }

  private static boolean news(InterlockInputs in) {
    return in.status().isPresent() && in.status().get().receivedAtNs() == in.nowNs();
  }

  /** Whether two lines of one run tell of a way. */
  private static boolean comparable(ExploredPlace before, InterlockInputs in) {
    return news(in)
        && before.status().isPresent()
        && before.status().get().frame().bootId() == in.status().get().frame().bootId();
  }

  /** The rule that this step breaks. */
  static Optional<String> broken(ExploredPlace before, InterlockInputs in, ExploredPlace after) {
    int now = after.driven().highBits();
    boolean moves = (now & JIG) != 0;
    boolean coil = (now & COIL) != 0;
    return when(moves && coil, "J-01: jig and coil driven together")
        .or(() -> when(moves && !mayMove(in), "J-02: the jig driven with a load or both ends open"))
        .or(() -> when(coil && !parked(before, in), "J-03: the coil driven with the jig away"))
        .or(() -> when(moves && otherWay(before, in), "J-04: the jig driven on the wrong way"))
        .or(() -> when(moves && tooFar(after, in), "J-05: the jig driven further than it may"))
        .or(() -> when(after.rig().carriage().pastMm() > 2, "J-06: driven on past a switch"))
        .or(() -> when(movedAlone(before, in, after), "J-07: moved alone, and no trip"));
  }

  private static boolean mayMove(InterlockInputs in) {
    if (in.status().isEmpty()) {
      return false;
    }
    HeadFrame.Status line = in.status().get().frame();
    return line.bankMilliVolts() <= BANK_LOW_MILLI_VOLTS
        && Math.abs(line.coilMilliAmps()) <= CURRENT_ZERO_MILLI_AMPS
        && (line.has(HeadFlag.JIG_HOME) || line.has(HeadFlag.JIG_FAR));
  }

  private static boolean parked(ExploredPlace before, InterlockInputs in) {
    if (in.status().isEmpty() || (before.driven().highBits() & JIG) != 0) {
      return false;
    }
    HeadFrame.Status line = in.status().get().frame();
    return line.has(HeadFlag.HOMED)
        && line.has(HeadFlag.JIG_HOME)
        && line.has(HeadFlag.JIG_FAR)
        && Math.abs(line.positionMicroMetres() - ExploredKind.PARK_MM * 1_000) <= 50;
  }

  /** Home is counted upwards: a far switch that opens meanwhile says that the motor is reversed. */
  private static boolean otherWay(ExploredPlace before, InterlockInputs in) {
    if (!comparable(before, in) || (before.driven().highBits() & JIG) == 0) {
      return false;
    }
    HeadFrame.Status last = before.status().orElseThrow().frame();
    HeadFrame.Status line = in.status().orElseThrow().frame();
    return !last.has(HeadFlag.HOMED)
        && last.has(HeadFlag.JIG_FAR)
        && !line.has(HeadFlag.JIG_FAR)
        && line.positionMicroMetres() < last.positionMicroMetres();
  }

  private static boolean tooFar(ExploredPlace after, InterlockInputs in) {
    Facts facts = after.facts().jig();
    boolean proven =
        in.status().map(View.Status::frame).filter(ExploredJigRules::homed).isPresent();
    boolean left = facts.left() != NOT_LEFT && Math.abs(facts.left()) > LEAVE_MAX;
    return left || facts.path() > (proven ? PATH_MAX : SEEK_MAX);
  }

  private static boolean homed(HeadFrame.Status line) {
    return line.has(HeadFlag.HOMED);
  }

  private static boolean movedAlone(ExploredPlace before, InterlockInputs in, ExploredPlace after) {
    boolean stood =
        comparable(before, in)
            && before.facts().silent() == 0
            && before.facts().jig().off() == STANDS;
    if (!stood || after.interlocks().trip().isPresent()) {
      return false;
    }
    int last = before.status().orElseThrow().frame().positionMicroMetres();
    return in.status().orElseThrow().frame().positionMicroMetres() != last;
  }

  private static Optional<String> when(boolean broken, String rule) {
    return broken ? Optional.of(rule) : Optional.empty();
  }
}
