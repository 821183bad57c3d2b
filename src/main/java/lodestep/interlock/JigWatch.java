package lodestep.interlock;

import lodestep.port.OutputLine;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;

/**
 * Whether the jig moves when and as far as it may, and whether its switches fit its position. The
 * head counts the steps and stops at a switch by itself; here it is watched doing so.
 *
 * @param bootId the head's run that these figures are of
 * @param positionMicroMetres in the newest line
 * @param stood whether that line was sent well after the driver was switched off
 * @param restMicroMetres where it stood in the first such line, or after it was last seen to move
 * @param moved whether it has moved from there in this very scan
 * @param pathMicroMetres way since the driver was switched on, there and back counted
 * @param homed whether the position was proven in the newest line
 * @param doubted whether a switch has shown that the count is wrong although the head holds it
 *     proven: until it finds home, or gives the count up, or the switches fit for long at rest
 * @param fits while it is doubted, since when the switches fit again with the driver off
 * @param farClosed whether the far switch was closed in the newest line
 * @param leftAtMicroMetres count at which a switch was first seen open since the driver was
 *     switched on with the position not proven; {@link #NOT_LEFT} while it is not
 * @param wrongWay whether the newest line shows that it went the wrong way, or did not go
 * @param lost whether a proven position was lost in this very scan
 * @param wrong switches that do not fit the position, or each other
 */
record JigWatch(
    int bootId,
    int positionMicroMetres,
    boolean stood,
    int restMicroMetres,
    boolean moved,
    long pathMicroMetres,
    boolean homed,
    boolean doubted,
    Persisting fits,
    boolean farClosed,
    int leftAtMicroMetres,
    boolean wrongWay,
    boolean lost,
    Persisting wrong) {

  private static final int NO_BOOT = -1;
  private static final int NOT_LEFT = Integer.MIN_VALUE;

  static final JigWatch POWER_ON =
      new JigWatch(
          NO_BOOT,
          0,
          false,
          0,
          false,
          0,
          false,
          false,
          Persisting.NONE,
          false,
          NOT_LEFT,
          false,
          false,
          Persisting.NONE);

  /** A line may still be on its way when the driver is switched off; starting value. */
  static final long STANDS_AFTER_NS = 100_000_000L;

  /** More than this is no rounding of the head's steps; starting value. */
  static final int MOVED_MICRO_METRES = 20;

  /** A switch must fit the position within this; starting value. */
  static final int SWITCH_MICRO_METRES = 500;

  /** The far switch's place is only known as the drawing gives it; starting value. */
  static final int FAR_MICRO_METRES = 3_000;

  /** Parked means this near to the park position; starting value. */
  static final int PARKED_MICRO_METRES = 50;

  /** The home switch found this near to the count proves it, as in the head. */
  static final int HOME_MICRO_METRES = 100;

  /** The head stops at 2 mm when a switch does not close behind the carriage. */
  static final int LEAVES_MICRO_METRES = 1_900;

  /** Contacts and lines may differ this long; starting value. */
  static final long WRONG_NS = 50_000_000L;

  /** So long no contact that bounces lets every line show it as it should be; starting value. */
  static final long FITS_NS = 200_000_000L;

  private static final int BOTH_OPEN = 1;
  private static final int HOME = 2;
  private static final int FAR = 4;

  JigWatch step(Seen seen) {
    if (!seen.figures().jig().present()) {
      return this;
    }
    boolean off = !seen.driven(OutputLine.JIG_ENABLE);
    if (!seen.news()) {
      boolean counts = pathMicroMetres > 0 || leftAtMicroMetres != NOT_LEFT;
      return lost || moved || wrongWay || (off && counts) ? quiet(off) : this;
    }
    int now = seen.head().positionMicroMetres();
    boolean sameRun = seen.head().bootId() == bootId;
    Persisting fit = fits.step(doubted && off && fit(seen, HOME | FAR) ? 1 : 0, seen.nowNs());
    boolean doubt = sameRun && doubt(seen, fit);
    // In the line with which doubt begins the switch still counts as wrong, so that it trips.
    boolean beginsToDoubt = doubt && !doubted;
    boolean proven = seen.says(HeadFlag.HOMED) && !doubt;
    boolean stands = sameRun && standing(seen);
    boolean away = stood && stands && Math.abs(now - restMicroMetres) > MOVED_MICRO_METRES;
    // The count begins anew where the head proves it; that leap is no way. A doubt ends without.
    int step = proven && !homed && !doubted ? 0 : Math.abs(now - positionMicroMetres);
    long way = sameRun && !off ? pathMicroMetres + step : 0;
    return new JigWatch(
        seen.head().bootId(),
        now,
        stands,
        stood && stands && !away ? restMicroMetres : now,
        away,
        way,
        proven,
        doubt,
        doubt ? fit : Persisting.NONE,
        seen.says(HeadFlag.JIG_FAR),
        sameRun && !off ? leftAt(seen, now, proven) : NOT_LEFT,
        sameRun && !off && wrongWay(seen, now, proven),
        sameRun && (homed || doubted) && !seen.says(HeadFlag.HOMED),
        wrong.step(wrongSwitches(seen, proven || beginsToDoubt), seen.nowNs()));
  }

  /**
   * Whether the head's count cannot be right, whatever it says. It has tripped then, and must not
   * go on as a cause: only on its way home can the head find out.
   */
  private boolean doubt(Seen seen, Persisting fit) {
    boolean shown = (wrong.bits() & (HOME | FAR)) != 0 && wrong.longerThan(WRONG_NS, seen.nowNs());
    boolean mended = fit.longerThan(FITS_NS, seen.nowNs());
    boolean found =
        !seen.says(HeadFlag.JIG_HOME)
            && Math.abs(seen.head().positionMicroMetres()) <= HOME_MICRO_METRES;
    return seen.says(HeadFlag.HOMED) && !found && (shown || doubted) && !mended;
  }

  /** Whether these switches, as they stand, do not contradict the count. */
  private static boolean fit(Seen seen, int switches) {
    return (wrongSwitches(seen, true) & switches) == 0;
  }

  private JigWatch quiet(boolean off) {
    return new JigWatch(
        bootId,
        positionMicroMetres,
        stood,
        restMicroMetres,
        false,
        off ? 0 : pathMicroMetres,
        homed,
        doubted,
        fits,
        farClosed,
        off ? NOT_LEFT : leftAtMicroMetres,
        false,
        false,
        wrong);
  }

  /** Where the count stood when it began to leave an open switch. */
  private int leftAt(Seen seen, int now, boolean proven) {
    boolean leaves = !proven && !(seen.says(HeadFlag.JIG_HOME) && seen.says(HeadFlag.JIG_FAR));
    return !leaves ? NOT_LEFT : leftAtMicroMetres == NOT_LEFT ? now : leftAtMicroMetres;
  }

  /**
   * With the position not proven all that tells the way are the two switches: home is counted
   * downwards and must not open the far one, and an open switch must close within 2 mm.
   */
  private boolean wrongWay(Seen seen, int now, boolean proven) {
    boolean toFarEnd =
        farClosed && !seen.says(HeadFlag.JIG_FAR) && now < positionMicroMetres && !homed;
    int from = leftAt(seen, now, proven);
    return toFarEnd || (from != NOT_LEFT && Math.abs(now - from) > LEAVES_MICRO_METRES);
  }

  /** Whether the newest line was sent well after the driver was switched off. */
  private static boolean standing(Seen seen) {
    long lineAtNs = seen.nowNs() - seen.headAgeNs();
    return !seen.driven(OutputLine.JIG_ENABLE)
        && lineAtNs - seen.drive().jigSinceNs() > STANDS_AFTER_NS;
  }

  private static int wrongSwitches(Seen seen, boolean proven) {
    boolean homeOpen = !seen.says(HeadFlag.JIG_HOME);
    boolean farOpen = !seen.says(HeadFlag.JIG_FAR);
    int both = homeOpen && farOpen ? BOTH_OPEN : 0;
    if (!proven) {
      return both;
    }
    int at = seen.head().positionMicroMetres();
    int far = seen.figures().jig().travelMicroMetres();
    boolean home = homeOpen ? at > SWITCH_MICRO_METRES : at < -SWITCH_MICRO_METRES;
    boolean end = farOpen ? at < far - FAR_MICRO_METRES : at > far + FAR_MICRO_METRES;
    return both | (home ? HOME : 0) | (end ? FAR : 0);
  }

  /** Whether the jig is known to stand where it disturbs nothing; a rig with none always is. */
  boolean parked(Seen seen) {
    JigFigures jig = seen.figures().jig();
    return !jig.present()
        || (seen.says(HeadFlag.HOMED)
            && !doubted
            && seen.says(HeadFlag.JIG_HOME)
            && seen.says(HeadFlag.JIG_FAR)
            && !seen.driven(OutputLine.JIG_ENABLE)
            && Math.abs(seen.head().positionMicroMetres() - jig.parkMicroMetres())
                <= PARKED_MICRO_METRES);
  }

  /** Whether there is a jig whose switches make sense: not both open. */
  static boolean fit(Seen seen) {
    return seen.figures().jig().present()
        && (seen.says(HeadFlag.JIG_HOME) || seen.says(HeadFlag.JIG_FAR));
  }

  private boolean tooFar(JigFigures jig) {
    return pathMicroMetres > (homed ? jig.pathMicroMetresMax() : jig.homingMicroMetresMax());
  }

  long causes(Seen seen) {
    JigFigures jig = seen.figures().jig();
    if (!jig.present()) {
      return 0;
    }
    boolean energy = seen.drive().hold() || seen.drive().fire() || seen.drive().fill();
    return Causes.when(moved, TripCause.JIG_MOVED)
        | Causes.when(wrong.longerThan(WRONG_NS, seen.nowNs()), TripCause.JIG_SWITCH_WRONG)
        | Causes.when(lost, TripCause.JIG_LOST)
        | Causes.when(wrongWay, TripCause.JIG_WRONG_WAY)
        | Causes.when(tooFar(jig), TripCause.JIG_TRAVEL)
        | Causes.when(seen.known() && energy && !parked(seen), TripCause.JIG_NOT_PARKED);
  }
}
