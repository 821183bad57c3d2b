package lodestep.interlock;

/**
 * Whether the bank falls while it is being bled. A bank bled from V<sub>0</sub> through R falls as
 * V<sub>0</sub> exp(-t / RC); one that stands above V<sub>0</sub> exp(-t / 2RC) falls less than
 * half as fast, and the bleed contact is not closed. Goes on for as long as the bank is not held,
 * so that a bank which comes back is seen too.
 *
 * @param from the bank when the hold was dropped, or when it was first known after the start
 * @param slow whether it stands too high
 */
record BleedWatch(Mark from, boolean slow) {

  static final BleedWatch IDLE = new BleedWatch(Mark.NONE, false);

  /** What may stay: offset of the converter and the capacitors' after-effect; starting value. */
  static final int REST_MILLI_VOLTS = 500;

  BleedWatch step(Seen seen) {
    if (seen.drive().hold()) {
      return IDLE;
    }
    if (!from.isMade()) {
      return seen.known()
          ? new BleedWatch(new Mark(seen.bankMilliVolts(), seen.nowNs()), false)
          : this;
    }
    boolean now = seen.news() ? tooHigh(seen) : slow;
    return now == slow ? this : new BleedWatch(from, now);
  }

  private boolean tooHigh(Seen seen) {
    long bledForNs = seen.nowNs() - from.atNs();
    if (seen.bankMilliVolts() <= REST_MILLI_VOLTS
        || bledForNs <= seen.figures().limits().bankFallNs()) {
      return false;
    }
    double timeConstantsHalved = bledForNs / (2 * seen.figures().bleedTimeConstantNs());
    return seen.bankMilliVolts() > from.milliVolts() * Math.exp(-timeConstantsHalved);
  }
}
