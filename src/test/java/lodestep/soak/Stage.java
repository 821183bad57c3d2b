package lodestep.soak;

import java.util.ArrayList;
import java.util.List;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;

/** One rule before a rig whose every figure a test says. */
final class Stage {

  static final double COIL_KELVIN_MAX = 343.15;
  static final long INTENT = 12;
  static final int TOKEN = 77;

  final Witness w;
  private final Rule rule;
  private final List<Happening> standing = new ArrayList<>();

  /** A rig at rest for a second, lid and stop loop closed, chain closed, program up. */
  Stage(Rule rule) {
    this(rule, RigFigures.ofBank(COIL_KELVIN_MAX));
  }

  /** The same on another rig. */
  Stage(Rule rule, RigFigures rig) {
    this.rule = rule;
    this.w = new Witness(rig);
    w.contacts = Bits.PERSON_CONTACTS;
    w.chain = true;
    w.bleeding = true;
    w.hostUp = true;
    w.hostStarts = 1;
    w.coilKelvin = 295;
    w.state = RigState.LOADING;
    w.stateBefore = RigState.LOADING;
    w.ms = 1_000;
    w.scanAtMs = 1_000;
    w.statusAtMs = 1_000;
    w.pedalAtMs = 500;
  }

  /** This many milliseconds as they are; whether the rule is broken in any of them. */
  boolean brokenIn(int ms) {
    boolean broken = false;
    for (int i = 0; i < ms; i++) {
      w.ms++;
      standing.forEach(w::stands);
      broken |= rule.broken(w);
      w.scanned = false;
      w.fireRose = false;
      w.pulseBegan = false;
      w.stateBefore = w.state;
      w.trippedBefore = w.tripped;
    }
    return broken;
  }

  /** One millisecond with a scan in which this is asked for. */
  boolean brokenInScan(int asked) {
    w.scanned = true;
    w.askedBefore = w.asked;
    w.asked = asked;
    w.scanGapMs = w.ms + 1 - w.scanAtMs;
    w.scanAtMs = w.ms + 1;
    return brokenIn(1);
  }

  /** The gate is fed in this millisecond. */
  boolean brokenByFire() {
    w.fireRose = true;
    w.firing = true;
    return brokenIn(1);
  }

  /** An intent on record, durable, with its token granted and its window just asked for. */
  void intend(boolean north, long bankMilliVoltsMax) {
    w.record.appended(INTENT, intent(north, bankMilliVoltsMax));
    w.record.forgetFresh();
    w.record.acknowledged(INTENT);
    w.grantedToken = TOKEN;
    w.grantedIntent = INTENT;
    w.grantedAtMs = w.ms - 100;
    w.windowToken = TOKEN;
    w.windowIntent = INTENT;
    w.windowAskedAtMs = w.ms;
  }

  static ActEvent.PulseIntended intent(boolean north, long bankMilliVoltsMax) {
    return new ActEvent.PulseIntended(
        3,
        1,
        1,
        "charge",
        north,
        true,
        bankMilliVoltsMax - 100,
        bankMilliVoltsMax,
        90_000,
        40_000,
        "rod coil");
  }

  static ActEvent.PulseEnded ended(String outcome) {
    return new ActEvent.PulseEnded(INTENT, 3, outcome, TOKEN, 1, 0, 0, 0, 0, 0, 0, "");
  }

  /** Whether the rule is broken when the host hands these to the ledger, from this number on. */
  boolean brokenBy(long number, LedgerEvent... events) {
    long next = number;
    for (LedgerEvent event : List.of(events)) {
      w.record.appended(next, event);
      next++;
    }
    boolean broken = brokenInScan(w.asked);
    w.record.forgetFresh();
    return broken;
  }

  /** A fault stands from now on, and the rules are told. */
  void stands(HappeningKind kind, String on) {
    double value = kind.hasValue() ? kind.highest() : 0;
    Happening happening = new Happening(kind, w.ms, 60_000, on, value);
    w.edge(happening);
    standing.add(happening);
  }

  /** No fault stands any more. */
  void mended() {
    standing.clear();
  }
}
