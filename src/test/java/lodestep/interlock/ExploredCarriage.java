package lodestep.interlock;

/**
 * The drawn jig: a carriage that goes a millimetre in a scan, and the head that steps it, counts,
 * stops at switches and seeks home as PROTOCOL.md says under "Jig". A hard stop stands a millimetre
 * behind each switch.
 *
 * @param atMm where the carriage is, from the home switch
 * @param countMm where the head counts it
 * @param homed whether the head's count is proven
 * @param way what the head is doing
 * @param targetMm where to
 * @param goneMm its way since it began to do so
 * @param farWasClosed whether the far switch was closed in this move
 * @param askedMm the place that the host has asked for in the last scan; {@link #NOTHING} if none
 * @param refused whether the head declined it
 * @param sure whether nothing has disturbed the count since home was found
 * @param pastMm steps on past a switch in order, or up against the hard stop behind it, one after
 *     another: a switch that lies in between lets nobody know
 */
record ExploredCarriage(
    int atMm,
    int countMm,
    boolean homed,
    Way way,
    int targetMm,
    int goneMm,
    boolean farWasClosed,
    int askedMm,
    boolean refused,
    boolean sure,
    int pastMm) {

  enum Way {
    STANDS,
    GOES_TO,
    LEAVES_HOME,
    SEEKS_HOME,
    BACKS_OFF,
    CREEPS_HOME
  }

  static final int NOTHING = -1;

  private static final int BEHIND_MM = 1;
  private static final int LEAVE_MM = 2;
  private static final int TRAVEL_MM = ExploredKind.TRAVEL_MM;

  /** So far the head goes in one drive. */
  static final int BUDGET_MM = TRAVEL_MM * 11 / 10 + LEAVE_MM;

  /** As it was left: parked, and a head that has just begun does not know where. */
  static final ExploredCarriage POWER_ON =
      new ExploredCarriage(
          ExploredKind.PARK_MM, 0, false, Way.STANDS, 0, 0, false, NOTHING, false, false, 0);

  ExploredCarriage asked(int mm) {
    return new ExploredCarriage(
        atMm, countMm, homed, way, targetMm, goneMm, farWasClosed, mm, refused, sure, pastMm);
  }

  boolean homeClosed(long wrong) {
    return (atMm > 0 && !Deviation.HOME_WIRE_BROKEN.in(wrong))
        || Deviation.HOME_SWITCH_STAYS_CLOSED.in(wrong);
  }

  boolean farClosed(long wrong) {
    return (atMm < TRAVEL_MM && !Deviation.FAR_WIRE_BROKEN.in(wrong))
        || Deviation.FAR_SWITCH_STAYS_CLOSED.in(wrong);
  }

  /**
   * A scan.
   *
   * @param powered whether the permit is held and the driver on
   */
  ExploredCarriage step(boolean powered, long wrong) {
    if (Deviation.HEAD_RESTARTS.in(wrong)) {
      return new ExploredCarriage(
          atMm, 0, false, Way.STANDS, 0, 0, false, NOTHING, false, false, 0);
    }
    Head head = new Head(this, wrong);
    head.take(powered);
    if (!powered) {
      head.stand();
    }
    head.look();
    head.move();
    head.look();
    return head.result();
  }

  /**
   * What matters of it.
   *
   * @param fromMm place from which its count is told
   */
  void describe(int fromMm, Fingerprint to) {
    to.put(atMm).put(countMm - fromMm).put(homed).put(way.ordinal()).put(targetMm);
    to.put(goneMm).put(farWasClosed).put(askedMm).put(sure).put(pastMm);
  }

  /** The head in one scan. */
  private static final class Head {

    private final long wrong;
    private int at;
    private int count;
    private boolean homed;
    private Way way;
    private int target;
    private int gone;
    private boolean farWasClosed;
    private final int asked;
    private boolean refused;
    private boolean sure;
    private int past;

    Head(ExploredCarriage from, long wrong) {
      this.wrong = wrong;
      at = from.atMm;
      count = from.countMm;
      homed = from.homed;
      way = from.way;
      target = from.targetMm;
      gone = from.goneMm;
      farWasClosed = from.farWasClosed;
      asked = from.askedMm;
      sure = from.sure;
      past = from.pastMm;
    }

    ExploredCarriage result() {
      return new ExploredCarriage(
          at,
          count,
          homed,
          way,
          way == Way.GOES_TO ? target : 0,
          gone,
          farWasClosed,
          NOTHING,
          refused,
          sure,
          way == Way.STANDS ? 0 : past);
    }

    void take(boolean powered) {
      if (asked == NOTHING) {
        return;
      }
      refused = !powered || (asked != 0 && !homed) || asked > TRAVEL_MM;
      if (refused) {
        return;
      }
      farWasClosed = farClosed();
      boolean went = way != Way.STANDS;
      boolean wentDown = down();
      int old = gone;
      target = asked;
      begin(asked != 0 ? Way.GOES_TO : homeClosed() ? Way.SEEKS_HOME : Way.LEAVES_HOME);
      gone = went && wentDown == down() ? old : 0;
    }

    private void begin(Way next) {
      way = next;
      gone = 0;
    }

    void stand() {
      begin(Way.STANDS);
      farWasClosed = false;
    }

    private ExploredCarriage here() {
      return new ExploredCarriage(
          at, count, homed, way, target, gone, farWasClosed, NOTHING, refused, sure, past);
    }

    private boolean homeClosed() {
      return here().homeClosed(wrong);
    }

    private boolean farClosed() {
      return here().farClosed(wrong);
    }

    /** The head looks a thousand times a second: before and after the millimetre of a scan. */
    void look() {
      switch (way) {
        case STANDS -> {}
        case GOES_TO -> {
          if (target == count) {
            stand();
          }
        }
        case LEAVES_HOME -> next(homeClosed(), Way.SEEKS_HOME);
        case SEEKS_HOME -> seek();
        case BACKS_OFF -> next(homeClosed(), Way.CREEPS_HOME);
        case CREEPS_HOME -> {
          if (!homeClosed()) {
            atHome();
          }
        }
      }
      farWasClosed |= way != Way.STANDS && farClosed();
    }

    private void next(boolean there, Way following) {
      if (there) {
        begin(following);
      }
    }

    private void seek() {
      if (!homeClosed()) {
        if (homed) {
          atHome();
        } else {
          begin(Way.BACKS_OFF);
        }
      } else if (farWasClosed && !farClosed() && !runsOn()) {
        homed = false;
        stand();
      }
    }

    private boolean runsOn() {
      return Deviation.HEAD_RUNS_ON.in(wrong);
    }

    private void atHome() {
      boolean shifted = homed && count != 0;
      stand();
      homed = !shifted;
      count = homed ? 0 : count;
      sure = homed && at == 0;
    }

    private boolean down() {
      return way == Way.LEAVES_HOME
          || way == Way.BACKS_OFF
          || (way == Way.GOES_TO && target > count);
    }

    void move() {
      if (way == Way.STANDS) {
        alone();
        return;
      }
      boolean down = down();
      if (ended(down)) {
        return;
      }
      gone++;
      count += down ? 1 : -1;
      boolean turns = !Deviation.MOTOR_STALLS.in(wrong);
      boolean other = Deviation.MOTOR_TURNS_OTHER_WAY.in(wrong);
      sure &= turns && !other;
      if (turns) {
        go(down != other ? 1 : -1);
      }
    }

    /** Steps that nobody asked for, and that it counts. */
    private void alone() {
      if (Deviation.HEAD_STEPS_ALONE.in(wrong)) {
        int step = at < TRAVEL_MM ? 1 : -1;
        count += step;
        at += step;
      }
    }

    private void go(int mm) {
      boolean on = mm < 0 ? at <= 0 && !homeClosed() : at >= TRAVEL_MM && !farClosed();
      past = !on ? 0 : runsOn() ? past : past + 1;
      int to = Math.max(-BEHIND_MM, Math.min(TRAVEL_MM + BEHIND_MM, at + mm));
      sure &= to == at + mm;
      at = to;
    }

    private boolean ended(boolean down) {
      boolean atEnd = down ? !farClosed() : way == Way.GOES_TO && !homeClosed();
      boolean behind = down ? !homeClosed() : !farClosed();
      boolean stuck = behind && gone >= LEAVE_MM;
      boolean endless = gone >= BUDGET_MM;
      if (!endless && (!(atEnd || stuck) || runsOn())) {
        return false;
      }
      homed = homed && !endless;
      stand();
      return true;
    }
  }
}
