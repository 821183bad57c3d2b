package lodestep.interlock;

/**
 * Whether a pulse has drawn the bank down. Armed when the gate is raised, disarmed when the bank is
 * seen to have fallen or when the head reports that its gate never saw the pulse.
 *
 * @param from the bank before the pulse
 * @param stuck whether it should have fallen by now
 */
record PulseFallWatch(Mark from, boolean stuck) {

  static final PulseFallWatch IDLE = new PulseFallWatch(Mark.NONE, false);

  /**
   * A pulse takes more than this from any bank of this rig: the largest bank through the largest
   * series resistor loses about a fifth in the gate's time, the reference build a third and more.
   */
  static final double FALL_FRACTION = 0.1;

  /** Below this a fall cannot be told from the converter's noise. */
  static final int SMALLEST_MILLI_VOLTS = 50;

  PulseFallWatch step(Seen seen, int bankBeforeMilliVolts, boolean notFired) {
    if (seen.drive().fireRose(seen.nowNs())) {
      boolean small = bankBeforeMilliVolts < SMALLEST_MILLI_VOLTS;
      return small ? IDLE : new PulseFallWatch(new Mark(bankBeforeMilliVolts, seen.nowNs()), false);
    }
    if (notFired) {
      return IDLE;
    }
    if (!from.isMade() || !seen.news()) {
      return this;
    }
    if (seen.bankMilliVolts() <= (1 - FALL_FRACTION) * from.milliVolts()) {
      return IDLE;
    }
    return new PulseFallWatch(
        from, seen.nowNs() - from.atNs() > seen.figures().limits().bankFallNs());
  }
}
