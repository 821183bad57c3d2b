package lodestep.interlock;

import lodestep.port.InputLine;
import lodestep.port.TripCause;

/**
 * The lid's two contacts. Open acts at once; closed counts only when it has lasted, and only on a
 * lid that has been seen open: a lid that never opens may be a shimmed or welded switch.
 */
record LidWatch(
    boolean a,
    boolean b,
    long aSinceNs,
    long bSinceNs,
    Persisting disagree,
    boolean seenOpen,
    long seenOpenAtNs) {

  static final LidWatch POWER_ON = new LidWatch(false, false, 0, 0, Persisting.NONE, false, 0);

  /** Both contacts of one lid open within its travel; starting value. */
  static final long DISAGREE_NS = 200_000_000L;

  /** Bounce of a safety switch, with margin; starting value. */
  static final long CLOSED_FOR_NS = 50_000_000L;

  /** A working day: the longest that the switch may go without having been seen to open. */
  static final long PROVEN_FOR_NS = 8L * 3600 * 1_000_000_000L;

  LidWatch step(Seen seen) {
    boolean nowA = seen.closed(InputLine.LID_A);
    boolean nowB = seen.closed(InputLine.LID_B);
    Persisting nextDisagree = disagree.step(nowA != nowB ? 1 : 0, seen.nowNs());
    boolean open = !nowA && !nowB;
    if (nowA == a && nowB == b && nextDisagree.equals(disagree) && !open) {
      return this;
    }
    return new LidWatch(
        nowA,
        nowB,
        nowA == a ? aSinceNs : seen.nowNs(),
        nowB == b ? bSinceNs : seen.nowNs(),
        nextDisagree,
        seenOpen || open,
        open ? seen.nowNs() : seenOpenAtNs);
  }

  boolean aClosed(long nowNs) {
    return a && nowNs - aSinceNs >= CLOSED_FOR_NS;
  }

  boolean bClosed(long nowNs) {
    return b && nowNs - bSinceNs >= CLOSED_FOR_NS;
  }

  /** Runs out only while nothing is energised: it asks for a look at the lid, not for a stop. */
  boolean proven(Seen seen) {
    return seenOpen && (seen.energised() || seen.nowNs() - seenOpenAtNs <= PROVEN_FOR_NS);
  }

  long causes(Seen seen) {
    return Causes.when(!(a && b) && seen.inUse(), TripCause.LID_OPENED)
        | Causes.when(
            disagree.longerThan(DISAGREE_NS, seen.nowNs()), TripCause.LID_CONTACTS_DISAGREE);
  }
}
