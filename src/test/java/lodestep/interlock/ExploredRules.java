package lodestep.interlock;

import java.util.Optional;
import lodestep.config.Limits;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;

/**
 * What must hold in every state and step. The rules are made from what came in and went out, and
 * from facts kept by themselves; they ask nothing of the interlocks but whether a trip stands.
 */
final class ExploredRules {

  private static final int FILL = Outputs.high(OutputLine.BANK_FILL).highBits();

  /** The feed relay of a switched coil does what the hold does for a bank. */
  private static final int ON = Outputs.high(OutputLine.COIL_ON).highBits();

  private static final int HOLD = Outputs.high(OutputLine.BANK_HOLD).highBits() | ON;
  private static final int JIG = Outputs.high(OutputLine.JIG_ENABLE).highBits();
  private static final int FIRE = Outputs.high(OutputLine.COIL_FIRE).highBits();
  private static final int ENERGY = FILL | HOLD | FIRE | JIG;
  private static final int LADDER =
      Outputs.high(OutputLine.LADDER_1, OutputLine.LADDER_2).highBits();
  private static final int RELAYS =
      Outputs.high(OutputLine.COIL_REVERSE, OutputLine.COIL_FULL).highBits() | LADDER;

  /** Without a bank the head's input is linked closed and the host has none. */
  private static final int FILL_CONTACT = HeadFlag.FILL_CONTACT.bit();

  private static final int BANK_CAP_MILLI_VOLTS = 50_000;
  private static final int BANK_LOW_MILLI_VOLTS = 10_000;
  private static final int CURRENT_ZERO_MILLI_AMPS = 50;
  private static final int COIL_CENTI_DEG_C_MAX = 7_000;

  /** What a dying current adds to a pulse. */
  private static final long LENGTH_MARGIN_NS = 40 * ExploredRig.MS;

  private final ExploredKind kind;
  private final long scanNs;
  private final Limits limits;

  ExploredRules(ExploredKind kind, long scanNs, Limits limits) {
    this.kind = kind;
    this.scanNs = scanNs;
    this.limits = limits;
  }

  /** The facts after this scan. */
  ExploredPlace.Facts facts(
      ExploredPlace before, InterlockInputs in, InterlockStep judged, Outputs driven) {
    ExploredPlace.Facts old = before.facts();
    boolean reset = judged.reset().isPresent();
    boolean news = in.status().isPresent() && in.status().get().receivedAtNs() == in.nowNs();
    boolean fires = (driven.highBits() & FIRE) != 0;
    boolean held = (driven.highBits() & HOLD) != 0 && !fires;
    boolean still = ((driven.highBits() ^ before.driven().highBits()) & RELAYS) == 0;
    return new ExploredPlace.Facts(
        in.contacts().closed(InputLine.LID_A) ? Math.min(2, old.aClosed() + 1) : 0,
        in.contacts().closed(InputLine.LID_B) ? Math.min(2, old.bClosed() + 1) : 0,
        still ? Math.min(2, old.still() + 1) : 0,
        turn(judged, old.turn(), in.contacts().closed(InputLine.ARM_KEY)),
        openedInUse(before, in) || (old.mustStop() && !reset),
        held ? Math.min(old.held() + 1, heldMost() + 1) : 0,
        news ? 0 : Math.min(old.silent() + 1, 5),
        kind.bank() ? proof(before, in, judged) : 0,
        fires && kind.switched() ? Math.min(old.gate() + 1, gateMost() + 1) : 0,
        kind.jig() ? ExploredJigRules.facts(before, in, driven) : ExploredJigRules.Facts.NONE);
  }

  /** A low bank has to stand while it is held, in two lines, and to be gone when it is let go. */
  private static int proof(ExploredPlace before, InterlockInputs in, InterlockStep judged) {
    boolean ended =
        !in.contacts().closed(InputLine.LID_A)
            || !in.contacts().closed(InputLine.LID_B)
            || judged.next().trip().isPresent()
            || otherRun(before, in);
    if (ended || in.status().isEmpty()) {
      return 0;
    }
    int old = before.facts().proof();
    HeadFrame.Status line = in.status().get().frame();
    int driven = before.driven().highBits();
    boolean stands =
        (driven & ENERGY) == Outputs.high(OutputLine.BANK_HOLD).highBits()
            && line.bankMilliVolts() > 0
            && line.bankMilliVolts() <= BANK_LOW_MILLI_VOLTS
            && Math.abs(line.coilMilliAmps()) <= CURRENT_ZERO_MILLI_AMPS;
    boolean gone = (driven & ENERGY) == 0 && line.bankMilliVolts() == 0;
    return old == 2 || (old == 1 && gone) ? 2 : stands ? 1 : (driven & FILL) != 0 ? 0 : old;
  }

  /** Scans for which the bank may be held: the limit, the scan that sees it, and the next. */
  private int heldMost() {
    return (int) (limits.bankHeldNs() / scanNs) + 2;
  }

  /** Scans for which the gate may be high: the longest pulse, and the scan that sees it. */
  private int gateMost() {
    return (int) ((ExploredKind.A_SUPPLY.longestNs() + LENGTH_MARGIN_NS) / scanNs) + 2;
  }

  private long silentNs(ExploredPlace place) {
    return place.facts().silent() * scanNs;
  }

  private static int turn(InterlockStep judged, int old, boolean on) {
    if (judged.next().trip().isEmpty() || judged.tripped().isPresent()) {
      return 0;
    }
    return switch (old) {
      case 0 -> on ? 0 : 1;
      case 1 -> on ? 0 : 2;
      case 2 -> on ? 3 : 2;
      default -> on ? 4 : 2;
    };
  }

  /** Whether lid, stop loop, key or chain is seen open while energy is in use. */
  private static boolean openedInUse(ExploredPlace before, InterlockInputs in) {
    boolean inUse = (before.driven().highBits() & ENERGY) != 0;
    boolean opened =
        !in.contacts().closed(InputLine.LID_A)
            || !in.contacts().closed(InputLine.LID_B)
            || !in.contacts().closed(InputLine.STOP_LOOP)
            || !in.contacts().closed(InputLine.ARM_KEY)
            || (in.status().isPresent() && !in.status().get().frame().has(HeadFlag.CHAIN));
    return inUse && opened;
  }

  /** The rule that this step breaks. */
  Optional<String> broken(
      ExploredPlace before, InterlockInputs in, InterlockStep judged, ExploredPlace after) {
    return unlatched(before, in, judged, after)
        .or(() -> untripped(before, in, after))
        .or(() -> together(after.driven().highBits(), before.driven().highBits()))
        .or(() -> moved(before, in, after))
        .or(() -> energised(in, after))
        .or(() -> fired(in, before, after))
        .or(() -> kind.jig() ? ExploredJigRules.broken(before, in, after) : Optional.empty());
  }

  private static Optional<String> unlatched(
      ExploredPlace before, InterlockInputs in, InterlockStep judged, ExploredPlace after) {
    boolean stood = before.interlocks().trip().isPresent();
    boolean stands = after.interlocks().trip().isPresent();
    boolean keyOn = in.contacts().closed(InputLine.ARM_KEY);
    int energy = after.driven().highBits() & ENERGY;
    return when(stands && energy != 0, "INV-14: energised while a trip stands")
        .or(() -> when(stands && judged.permission().permit(), "INV-14: permit under a trip"))
        .or(
            () ->
                when(
                    stood && !stands && !(before.facts().turn() >= 3 && keyOn),
                    "INV-13: a trip cleared without the key turned off and on"))
        .or(
            () ->
                when(
                    after.facts().mustStop() && energy != 0,
                    "INV-09: energised after an opening in use, without a reset"));
  }

  private Optional<String> untripped(
      ExploredPlace before, InterlockInputs in, ExploredPlace after) {
    boolean stands = after.interlocks().trip().isPresent();
    boolean must =
        in.stopAsked()
            || in.programFailed()
            || in.ledger().fault().isPresent()
            || in.lateNs() > limits.scanLateTripNs()
            || !in.contacts().closed(InputLine.STOP_LOOP)
            || otherRun(before, in)
            || openedInUse(before, in);
    return when(must && !stands && heard(before), "no trip where one must be");
  }

  private static boolean otherRun(ExploredPlace before, InterlockInputs in) {
    return before.status().isPresent()
        && in.frames().stream()
            .anyMatch(one -> one.frame().bootId() != before.status().get().frame().bootId());
  }

  /** Before the head's first line nothing is allowed, and some causes are none yet. */
  private static boolean heard(ExploredPlace before) {
    return before.status().isPresent();
  }

  private Optional<String> together(int now, int before) {
    int others =
        kind.switched() ? FILL | Outputs.high(OutputLine.BANK_HOLD).highBits() : ON | LADDER;
    return when((now & (FILL | FIRE)) == (FILL | FIRE), "INV-06: filled and fired together")
        .or(() -> when((now & others) != 0, "driven what the rig does not have"))
        .or(
            () ->
                when(
                    (now & ~before & ON) != 0 && ((now | before) & FIRE) != 0,
                    "INV-05: the feed closed onto a closed switch"))
        .or(
            () ->
                when(
                    (now & (FILL | FIRE)) != 0 && (now & HOLD) == 0,
                    "INV-05: filled or fired without the hold"))
        .or(
            () ->
                when(
                    ((now ^ before) & RELAYS) != 0 && (now & FIRE) != 0,
                    "INV-07: a relay moved in the scan of the gate"));
  }

  private Optional<String> moved(ExploredPlace before, InterlockInputs in, ExploredPlace after) {
    if (((before.driven().highBits() ^ after.driven().highBits()) & RELAYS) == 0) {
      return Optional.empty();
    }
    boolean dry =
        silentNs(after) <= limits.statusAgeTripNs()
            && (before.driven().highBits() & FIRE) == 0
            && in.status().isPresent()
            && dry(in.status().get().frame());
    return when(!dry, "INV-07: a relay of the coil moved with current, bank or window");
  }

  private static boolean dry(HeadFrame.Status line) {
    return Math.abs(line.coilMilliAmps()) <= CURRENT_ZERO_MILLI_AMPS
        && line.bankMilliVolts() <= BANK_LOW_MILLI_VOLTS;
  }

  private Optional<String> energised(InterlockInputs in, ExploredPlace after) {
    int now = after.driven().highBits();
    if ((now & ENERGY) == 0) {
      return Optional.empty();
    }
    boolean people =
        after.facts().aClosed() == 2
            && after.facts().bClosed() == 2
            && in.contacts().closed(InputLine.STOP_LOOP)
            && in.contacts().closed(InputLine.ARM_KEY);
    boolean head = silentNs(after) <= limits.statusAgeTripNs() && in.link().open() && good(in);
    boolean filled =
        (now & FILL) == 0
            || (!in.contacts().closed(InputLine.BLEED_CONTACT)
                && in.status().get().frame().bankMilliVolts() <= BANK_CAP_MILLI_VOLTS);
    return when(!people, "INV-01: energised with lid, stop loop or key open")
        .or(() -> when(!head, "INV-08: energised without a good line of the head"))
        .or(() -> when(unproven(in, now, after), "INV-21: filled or fired without a proof"))
        .or(() -> when(!filled, "INV-12: filled with the bleed contact closed or over the cap"))
        .or(() -> when(after.facts().held() > heldMost(), "T_hold: the bank held too long"))
        .or(() -> when(after.facts().gate() > gateMost(), "INV-04: the gate high for too long"));
  }

  private boolean unproven(InterlockInputs in, int now, ExploredPlace after) {
    if (!kind.bank()) {
      return false;
    }
    boolean above =
        (now & FILL) != 0 && in.status().get().frame().bankMilliVolts() > BANK_LOW_MILLI_VOLTS;
    return (above || (now & FIRE) != 0) && after.facts().proof() < 2;
  }

  private static boolean good(InterlockInputs in) {
    if (in.status().isEmpty()) {
      return false;
    }
    HeadFrame.Status line = in.status().get().frame();
    return line.has(HeadFlag.CHAIN)
        && line.has(HeadFlag.PERMIT)
        && line.coilCentiDegC() <= COIL_CENTI_DEG_C_MAX;
  }

  private Optional<String> fired(InterlockInputs in, ExploredPlace before, ExploredPlace after) {
    if ((after.driven().highBits() & FIRE) == 0) {
      return Optional.empty();
    }
    HeadFrame.Status line = in.status().get().frame();
    boolean fresh =
        silentNs(after) <= limits.statusAgeFireNs() && in.lateNs() <= limits.scanLateFireWaitsNs();
    boolean reverse = after.driven().isHigh(OutputLine.COIL_REVERSE);
    boolean full = after.driven().isHigh(OutputLine.COIL_FULL);
    boolean settled =
        after.facts().still() >= 1
            && in.contacts().closed(InputLine.REVERSE_CONTACT) == reverse
            && in.contacts().closed(InputLine.FULL_CONTACT) == full
            && (kind.switched() || in.contacts().closed(InputLine.FILL_CONTACT))
            && !in.contacts().closed(InputLine.BLEED_CONTACT)
            && (before.driven().highBits() & FILL) == 0;
    int seen = kind.switched() ? ExploredRig.CONTACTS & ~FILL_CONTACT : ExploredRig.CONTACTS;
    int own = line.flags() & seen;
    return when(!fresh, "INV-02: fired on old inputs or in a late scan")
        .or(() -> when(!settled, "INV-01: fired with relays not arrived or the supply on"))
        .or(() -> when(!line.has(HeadFlag.WINDOW), "INV-03: fired outside the window"))
        .or(
            () ->
                when(
                    own != (ExploredRig.flags(in.contacts()) & seen),
                    "INV-01: fired while head and host see other contacts"))
        .or(
            () ->
                when(
                    line.bankMilliVolts() > BANK_CAP_MILLI_VOLTS,
                    "INV-12: fired with the bank over its cap"));
  }

  private static Optional<String> when(boolean broken, String rule) {
    return broken ? Optional.of(rule) : Optional.empty();
  }
}
