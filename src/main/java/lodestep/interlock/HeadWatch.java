package lodestep.interlock;

import java.util.List;
import lodestep.port.InputLine;
import lodestep.port.ReceivedFrame;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;

/**
 * Whether the head speaks, is still the same run of the same head, holds its permit, and sees what
 * the host sees.
 *
 * <p>What host and head see differently is timed from line to line, so that one late line does not
 * make a fault of a difference that it alone has shown.
 *
 * @param heard whether a status line has ever come; before that, silence is no trip
 * @param bootId the head's present run, {@link #NO_BOOT} before the first frame
 * @param restarted whether a new run began in this very scan
 * @param latched whether the newest line said that the head has latched itself off
 * @param latching whether it began to say so in this very scan: whatever the head has seen, it may
 *     have been over before its next line, and the pulse too; an open lid or stop loop tells why it
 *     has, and is judged by itself
 * @param disagree contacts that host and head see differently
 * @param chainOpen an open chain that neither lid nor stop loop explains
 */
record HeadWatch(
    boolean heard,
    long lastAtNs,
    int lastSequence,
    int bootId,
    boolean restarted,
    boolean latched,
    boolean latching,
    Persisting disagree,
    Persisting chainOpen) {

  private static final int NO_BOOT = -1;

  static final HeadWatch POWER_ON =
      new HeadWatch(false, 0, 0, NO_BOOT, false, false, false, Persisting.NONE, Persisting.NONE);

  HeadWatch step(Seen seen) {
    int newest = newestBoot(seen.in().frames());
    if (!seen.news()) {
      return newest == bootId && !restarted && !latching ? this : with(newest);
    }
    boolean explained = !lidClosed(seen) || !seen.closed(InputLine.STOP_LOOP);
    int chainBits = seen.says(HeadFlag.CHAIN) || explained ? 0 : 1;
    int boot = seen.head().bootId();
    boolean nowLatched = seen.says(HeadFlag.LATCHED);
    long receivedAtNs = seen.nowNs() - seen.headAgeNs();
    return new HeadWatch(
        true,
        receivedAtNs,
        seen.head().sequence(),
        boot,
        isRestart(newest) || isRestart(boot),
        nowLatched,
        heard && nowLatched && !latched && !explained,
        disagree.step(differing(seen), receivedAtNs),
        chainOpen.step(chainBits, receivedAtNs));
  }

  private HeadWatch with(int newest) {
    return new HeadWatch(
        heard,
        lastAtNs,
        lastSequence,
        newest,
        isRestart(newest),
        latched,
        false,
        disagree,
        chainOpen);
  }

  private boolean isRestart(int newest) {
    return bootId != NO_BOOT && newest != bootId;
  }

  private int newestBoot(List<ReceivedFrame> frames) {
    return frames.isEmpty() ? bootId : frames.get(frames.size() - 1).frame().bootId();
  }

  private static boolean lidClosed(Seen seen) {
    return seen.closed(InputLine.LID_A) && seen.closed(InputLine.LID_B);
  }

  /** Contacts that host and head see differently at this moment, as bits of {@link HeadFlag}. */
  static int differing(Seen seen) {
    return differing(seen, InputLine.LID_A, HeadFlag.LID_A)
        | differing(seen, InputLine.LID_B, HeadFlag.LID_B)
        | differing(seen, InputLine.STOP_LOOP, HeadFlag.STOP_LOOP)
        | fillContact(seen)
        | differing(seen, InputLine.BLEED_CONTACT, HeadFlag.BLEED_CONTACT)
        | differing(seen, InputLine.REVERSE_CONTACT, HeadFlag.REVERSE_CONTACT)
        | differing(seen, InputLine.FULL_CONTACT, HeadFlag.FULL_CONTACT);
  }

  /** Without a bank the head's input is linked closed and the host has none. */
  private static int fillContact(Seen seen) {
    return seen.figures().switched().isPresent()
        ? 0
        : differing(seen, InputLine.FILL_CONTACT, HeadFlag.FILL_CONTACT);
  }

  private static int differing(Seen seen, InputLine host, HeadFlag head) {
    return seen.closed(host) == seen.says(head) ? 0 : head.bit();
  }

  boolean silent(Seen seen) {
    return heard
        && (!seen.in().link().open()
            || seen.headAgeNs() > seen.figures().limits().statusAgeTripNs());
  }

  long causes(Seen seen) {
    long toleratedNs = seen.figures().limits().contactsDisagreeNs();
    boolean shared = seen.known() && seen.says(HeadFlag.STRANGER);
    boolean opened = seen.known() && !seen.says(HeadFlag.CHAIN) && seen.inUse();
    boolean lost = seen.known() && !seen.says(HeadFlag.PERMIT) && seen.energised();
    return Causes.when(opened || chainOpen.longerThan(toleratedNs, lastAtNs), TripCause.CHAIN_OPEN)
        | Causes.when(silent(seen), TripCause.HEAD_SILENT)
        | Causes.when(restarted, TripCause.HEAD_RESTARTED)
        | Causes.when(shared, TripCause.PORT_SHARED)
        | Causes.when(lost || latching, TripCause.PERMIT_LOST)
        | Causes.when(disagree.longerThan(toleratedNs, lastAtNs), TripCause.CONTACTS_DISAGREE);
  }
}
