package lodestep.interlock;

import java.util.List;
import lodestep.port.OutputLine;
import lodestep.port.ReceivedFrame;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;

/**
 * The coil's current: one sign in a pulse, none otherwise; and one pulse in a fire window.
 *
 * @param awaited whether the report of a pulse is due; a report asked for from an earlier run of
 *     the program says nothing about what is driven now and is not judged
 * @param reverse whether the changeover relay was driven to reverse when the gate was raised
 * @param windowUsed whether the gate was lowered in the window that is still open
 * @param wrongSign whether a report of this very scan showed current of the wrong sign
 * @param notFired whether a report of this very scan said that the gate never saw the pulse
 */
record PulseWatch(
    boolean awaited, boolean reverse, boolean windowUsed, boolean wrongSign, boolean notFired) {

  static final PulseWatch POWER_ON = new PulseWatch(false, false, false, false, false);

  /** After this the freewheeling current of any coil here has died; starting value. */
  static final long CURRENT_DIES_NS = 50_000_000L;

  PulseWatch step(Seen seen) {
    boolean rose = seen.drive().fireRose(seen.nowNs());
    boolean due = awaited || rose;
    boolean way = rose ? seen.driven(OutputLine.COIL_REVERSE) : reverse;
    boolean wrong = false;
    boolean missed = false;
    List<ReceivedFrame> frames = seen.in().frames();
    for (int i = 0; i < frames.size(); i++) {
      if (due && frames.get(i).frame() instanceof HeadFrame.PulseReport report) {
        wrong |= wrongSign(report, way, seen.figures());
        missed |= !report.fired();
        due = false;
      }
    }
    PulseWatch next = new PulseWatch(due, way, used(seen), wrong, missed);
    return next.equals(this) ? this : next;
  }

  private boolean used(Seen seen) {
    boolean over = seen.news() && !seen.says(HeadFlag.WINDOW);
    return !over && (windowUsed || seen.drive().fireFell(seen.nowNs()));
  }

  /** Forward current drives the face north, and so does the changeover relay at rest. */
  private static boolean wrongSign(HeadFrame.PulseReport report, boolean way, Figures figures) {
    int right = way ? report.peakReverseMilliAmps() : report.peakForwardMilliAmps();
    int wrong = way ? report.peakForwardMilliAmps() : report.peakReverseMilliAmps();
    return wrong > figures.limits().wrongSignFraction() * right
        && wrong > figures.currentZeroMilliAmps();
  }

  /** Whether the window is open and may still be fired in. */
  boolean windowOpen(Seen seen) {
    return seen.says(HeadFlag.WINDOW) && !windowUsed;
  }

  long causes(Seen seen) {
    // By the line's own time: the last line of a head that fell silent in a pulse is no fault.
    long lineAtNs = seen.nowNs() - seen.headAgeNs();
    boolean quiet = !seen.drive().fire() && lineAtNs - seen.drive().fireSinceNs() > CURRENT_DIES_NS;
    return Causes.when(wrongSign, TripCause.WRONG_SIGN_CURRENT)
        | Causes.when(quiet && seen.known() && seen.coilCurrent(), TripCause.CURRENT_UNCOMMANDED);
  }
}
