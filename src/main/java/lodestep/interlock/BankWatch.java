package lodestep.interlock;

import lodestep.port.TripCause;

/**
 * Whether the bank does what is commanded and nothing else.
 *
 * @param lastMilliVolts the bank in the scan before, so that a pulse is judged from what it began
 *     with
 */
record BankWatch(
    RisingWatch rising,
    PulseFallWatch pulse,
    BleedWatch bleed,
    FillWatch fill,
    int lastMilliVolts) {

  static final BankWatch POWER_ON =
      new BankWatch(RisingWatch.IDLE, PulseFallWatch.IDLE, BleedWatch.IDLE, FillWatch.IDLE, 0);

  BankWatch step(Seen seen, boolean notFired) {
    if (!seen.news() && !notFired && !seen.drive().changed(seen.nowNs())) {
      return this;
    }
    return new BankWatch(
        rising.step(seen),
        pulse.step(seen, lastMilliVolts, notFired),
        bleed.step(seen),
        fill.step(seen),
        seen.news() ? seen.bankMilliVolts() : lastMilliVolts);
  }

  long causes(Seen seen) {
    boolean over = seen.known() && seen.bankMilliVolts() > seen.figures().bankOverMilliVolts();
    boolean heldTooLong =
        seen.drive().hold()
            && !seen.drive().fire()
            && seen.nowNs() - seen.drive().heldSinceNs() > seen.figures().limits().bankHeldNs();
    return Causes.when(over, TripCause.BANK_OVER_VOLTAGE)
        | Causes.when(pulse.stuck() || bleed.slow(), TripCause.BANK_NOT_FALLING)
        | Causes.when(rising.rising(), TripCause.BANK_RISING)
        | Causes.when(fill.slow(), TripCause.BANK_NOT_FILLING)
        | Causes.when(heldTooLong, TripCause.BANK_HELD_TOO_LONG);
  }
}
