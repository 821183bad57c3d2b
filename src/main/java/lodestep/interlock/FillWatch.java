package lodestep.interlock;

/**
 * Whether the bank fills as it should: in each window it must rise by at least half of what an RC
 * circuit of the rig's figures would. A dead supply, a stuck relay, a bleed contact that did not
 * open and a broken voltage wire all show here.
 *
 * @param mark the bank at the beginning of the window
 * @param slow whether it rose too little in the last window
 */
record FillWatch(Mark mark, boolean slow) {

  static final FillWatch IDLE = new FillWatch(Mark.NONE, false);

  static final long WINDOW_NS = 200_000_000L;

  /** Half: capacitors may have twenty per cent less or more, supplies sag; starting value. */
  static final double SLOWEST_FRACTION = 0.5;

  /** Operate time and bounce of the fill relay, with margin; starting value. */
  static final long OPERATED_FOR_NS = 30_000_000L;

  /** Near the supply's voltage the expected rise is too small to be judged. */
  static final double SMALLEST_RISE_MILLI_VOLTS = 100;

  FillWatch step(Seen seen) {
    DriveTimes drive = seen.drive();
    if (!drive.fill()) {
      return IDLE;
    }
    boolean operated = seen.nowNs() - drive.fillSinceNs() >= OPERATED_FOR_NS;
    if (!seen.news() || !operated) {
      return this;
    }
    Mark here = new Mark(seen.bankMilliVolts(), seen.nowNs());
    if (!mark.isMade()) {
      return new FillWatch(here, false);
    }
    return here.atNs() - mark.atNs() < WINDOW_NS
        ? this
        : new FillWatch(here, tooLittle(here, seen.figures()));
  }

  private boolean tooLittle(Mark here, Figures figures) {
    double timeConstants = (here.atNs() - mark.atNs()) / figures.fillTimeConstantNs();
    double expected =
        (figures.fillEndMilliVolts() - mark.milliVolts()) * -Math.expm1(-timeConstants);
    return expected > SMALLEST_RISE_MILLI_VOLTS
        && here.milliVolts() - mark.milliVolts() < SLOWEST_FRACTION * expected;
  }
}
