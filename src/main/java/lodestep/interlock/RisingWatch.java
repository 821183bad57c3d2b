package lodestep.interlock;

/**
 * Whether the bank rises with the fill relay released: a welded relay. The voltage is compared with
 * the lowest since a mark that is made anew every {@link #WINDOW_NS}.
 *
 * @param mark lowest voltage since the window began
 * @param rising whether the bank has risen by more than the limit since the mark
 */
record RisingWatch(Mark mark, boolean rising) {

  static final RisingWatch IDLE = new RisingWatch(Mark.NONE, false);

  static final long WINDOW_NS = 100_000_000L;

  /** Far more than three sigma of the head's converter, about 1 mV each; starting value. */
  static final int RISE_MILLI_VOLTS = 200;

  /** Release and bounce of a small power relay, with margin; starting value. */
  static final long RELEASED_FOR_NS = 30_000_000L;

  /** After a pulse the capacitors' own resistance lets the voltage spring back; starting value. */
  static final long PULSE_OVER_FOR_NS = 100_000_000L;

  RisingWatch step(Seen seen) {
    if (!seen.news()) {
      return this;
    }
    if (!idle(seen)) {
      return IDLE;
    }
    Mark here = new Mark(seen.bankMilliVolts(), seen.nowNs());
    if (!mark.isMade() || here.milliVolts() <= mark.milliVolts()) {
      return new RisingWatch(here, false);
    }
    boolean up = here.milliVolts() - mark.milliVolts() > RISE_MILLI_VOLTS;
    boolean over = seen.nowNs() - mark.atNs() >= WINDOW_NS;
    return over ? new RisingWatch(here, up) : new RisingWatch(mark, up);
  }

  private static boolean idle(Seen seen) {
    DriveTimes drive = seen.drive();
    return !drive.fill()
        && seen.nowNs() - drive.fillSinceNs() >= RELEASED_FOR_NS
        && !drive.fire()
        && seen.nowNs() - drive.fireSinceNs() >= PULSE_OVER_FOR_NS;
  }
}
