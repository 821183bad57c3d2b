package lodestep.sim;

/**
 * When the head holds its permit relay, and what latches it off. Confined to its head.
 *
 * <p>The relay is held while all of these are true: the newest heartbeat is at most 230 ms old and
 * asks for the permit; chain, both lids and stop loop are closed and have been for 50 ms (an
 * opening acts at once, a closing must be stable); coil temperature known and below its highest;
 * bank at or below the cap; not latched.
 *
 * <p>It latches when any of the head's own checks fails, its own step comes late, or the heartbeats
 * stay away, <em>while the relay is held</em>; when the stop byte comes; and when the first
 * heartbeat after a start already asks for the permit, for such a host has not noticed the start. A
 * latch is cleared by a heartbeat that asks for the permit, if all checks are good at that moment
 * and the heartbeat before it did not ask: an edge given after the cause has gone. An edge given
 * too early is spent; the host must stop asking once more. Opening the lid while no permit is held
 * latches nothing.
 *
 * <p>It serves one session, which is one start of a host, for as long as that one's heartbeats are
 * fresh. What another asks meanwhile is not done and latches.
 */
final class HeadPermit {

  /**
   * A heartbeat older than this is none. With the relay's fall and the way of the line the permit's
   * contact is open 250 ms after the host sent its last one.
   */
  static final long HEARTBEAT_FRESH_MS = 230;

  /** A step that comes later than this after the one before is of a program that has hung. */
  static final long LOOP_LATE_MS = 20;

  /** Contacts must have been closed this long to count as closed. */
  static final long CONTACTS_STABLE_MS = 50;

  /** So long after a request of another session it is told. */
  static final long STRANGER_TOLD_MS = 1_000;

  private static final long NEVER = Long.MIN_VALUE / 2;

  private static final int NO_HEARTBEAT = -1;

  private int session;
  private int sequence = NO_HEARTBEAT;
  private long heartbeatAtMs = NEVER;
  private long strangerAtMs = NEVER;
  private long contactsOpenAtMs;
  private long steppedAtMs;
  private boolean checksGood;
  private boolean asked;
  private boolean seenNotAsking;
  private boolean latched;
  private boolean held;

  /**
   * A millisecond on the head's clock, with what it sees.
   *
   * @param clockMs by a timer that runs on while the program hangs
   */
  void step(long clockMs, boolean contactsClosed, boolean measuredGood) {
    if (!contactsClosed) {
      contactsOpenAtMs = clockMs;
    }
    boolean fresh = clockMs - heartbeatAtMs <= HEARTBEAT_FRESH_MS;
    checksGood = contactsClosed && clockMs - contactsOpenAtMs >= CONTACTS_STABLE_MS && measuredGood;
    boolean onTime = clockMs - steppedAtMs <= LOOP_LATE_MS;
    steppedAtMs = clockMs;
    if (held && !(fresh && onTime && contactsClosed && measuredGood)) {
      latch();
    }
    held = fresh && asked && checksGood && !latched;
  }

  /**
   * Whether what this session asks is to be done: it is the one served, or none is. If not, it
   * latches.
   */
  boolean heeds(long clockMs, int asking) {
    boolean live = clockMs - heartbeatAtMs <= HEARTBEAT_FRESH_MS;
    if (!live || asking == session) {
      return true;
    }
    strangerAtMs = clockMs;
    latch();
    return false;
  }

  /** Whether a request of another session came within the last second. */
  boolean strangerSince(long clockMs) {
    return clockMs - strangerAtMs < STRANGER_TOLD_MS;
  }

  /**
   * A heartbeat has come, of a session that is heeded; another than the last begins anew. One with
   * the sequence of the last is a repeat and refreshes nothing.
   */
  void heartbeat(long clockMs, int ofSession, int ofSequence, boolean permitAsked) {
    if (ofSession != session) {
      session = ofSession;
      sequence = NO_HEARTBEAT;
      asked = false;
      seenNotAsking = false;
    }
    if (ofSequence != sequence) {
      sequence = ofSequence;
      heartbeat(clockMs, permitAsked);
    }
  }

  private void heartbeat(long clockMs, boolean permitAsked) {
    heartbeatAtMs = clockMs;
    if (!permitAsked) {
      asked = false;
      seenNotAsking = true;
    } else if (!seenNotAsking && !latched) {
      latch();
    } else if (latched) {
      latched = !(seenNotAsking && checksGood);
      asked = !latched;
      seenNotAsking = !latched;
    } else {
      asked = true;
    }
  }

  /** Lets go and stays off until the latch is cleared. */
  void latch() {
    latched = true;
    held = false;
    asked = false;
    seenNotAsking = false;
    // Nothing clears it before the next step has seen it, and with it the window.
    checksGood = false;
  }

  /** Whether the relay is held. */
  boolean held() {
    return held;
  }

  /** Whether the head has latched itself off. */
  boolean latched() {
    return latched;
  }

  /** Whether the head's own checks were good in the latest step. */
  boolean checksGood() {
    return checksGood;
  }
}
