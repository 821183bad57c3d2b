package lodestep.interlock;

import java.util.List;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;

/**
 * What may be driven in this scan. Any thread, immutable.
 *
 * @param allowed the lines that may be high
 * @param kept the lines that must stay at their present level, high or low, because a relay must
 *     not be switched under current or with the bank filled; stronger than {@code allowed}
 * @param permit whether the head may be asked for its permit relay
 */
public record Permission(Outputs allowed, Outputs kept, boolean permit) {

  private static final int FILL = Outputs.high(OutputLine.BANK_FILL).highBits();
  private static final int HOLD = Outputs.high(OutputLine.BANK_HOLD, OutputLine.COIL_ON).highBits();
  private static final int FIRE = Outputs.high(OutputLine.COIL_FIRE).highBits();

  /** The relays of the ladder. */
  static final Outputs LADDER = new Outputs(bits(OutputLine.LADDER));

  /** Relays of the coil's path: switched dry, and kept where they are until it is dry. */
  static final Outputs COIL_RELAYS =
      new Outputs(
          Outputs.high(OutputLine.COIL_REVERSE, OutputLine.COIL_FULL).highBits()
              | LADDER.highBits());

  private static final int RELAYS = COIL_RELAYS.highBits();

  private static int bits(List<OutputLine> lines) {
    int bits = 0;
    for (OutputLine line : lines) {
      bits |= Outputs.high(line).highBits();
    }
    return bits;
  }

  private static final int JIG = Outputs.high(OutputLine.JIG_ENABLE).highBits();

  /**
   * The levels to drive. Lowers whatever is not allowed, holds the kept lines where they are, and
   * lowers what must not go together: filling and firing need the bank held, or the feed on; they
   * exclude each other, and who asks for both gets neither; so do moving the jig and holding bank
   * or feed; nothing fires in the scan in which a relay of the coil's path is moved.
   *
   * @param wanted what the job asks for
   * @param driven what was driven in the last scan
   */
  public Outputs lower(Outputs wanted, Outputs driven) {
    int keptBits = kept.highBits();
    int bits =
        (wanted.highBits() & allowed.highBits() & ~keptBits) | (driven.highBits() & keptBits);
    if ((bits & HOLD) == 0) {
      bits &= ~(FILL | FIRE);
    }
    if ((bits & FILL) != 0 && (bits & FIRE) != 0) {
      bits &= ~(FILL | FIRE);
    }
    if ((bits & JIG) != 0 && (bits & HOLD) != 0) {
      bits &= ~(JIG | HOLD | FILL | FIRE);
    }
    if (((bits ^ driven.highBits()) & RELAYS) != 0) {
      bits &= ~FIRE;
    }
    return new Outputs(bits);
  }
}
