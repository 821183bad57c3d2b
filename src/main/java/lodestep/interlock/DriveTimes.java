package lodestep.interlock;

import lodestep.port.OutputLine;
import lodestep.port.Outputs;

/**
 * What is driven, and since when each line of the coil's and the bank's path has been at its level.
 * A change counts from the first scan that sees it, at most one scan after it was driven.
 *
 * @param driven the levels of the last scan
 * @param started whether there was a scan before; all times count from the first one
 */
record DriveTimes(
    Outputs driven,
    boolean started,
    long fillSinceNs,
    long holdSinceNs,
    long relaysSinceNs,
    long fireSinceNs,
    long jigSinceNs) {

  static final DriveTimes POWER_ON = new DriveTimes(Outputs.ALL_LOW, false, 0, 0, 0, 0, 0);

  private static final int JIG = Outputs.high(OutputLine.JIG_ENABLE).highBits();

  private static final int FILL = Outputs.high(OutputLine.BANK_FILL).highBits();

  /** The relay of a switched coil's feed does what the hold does for a bank. */
  private static final int HOLD = Outputs.high(OutputLine.BANK_HOLD, OutputLine.COIL_ON).highBits();

  private static final int FIRE = Outputs.high(OutputLine.COIL_FIRE).highBits();
  private static final int RELAYS = Permission.COIL_RELAYS.highBits();

  DriveTimes step(Outputs now, long nowNs) {
    int changed = started ? now.highBits() ^ driven.highBits() : FILL | HOLD | RELAYS | FIRE | JIG;
    if (changed == 0) {
      return this;
    }
    return new DriveTimes(
        now,
        true,
        (changed & FILL) != 0 ? nowNs : fillSinceNs,
        (changed & HOLD) != 0 ? nowNs : holdSinceNs,
        (changed & RELAYS) != 0 ? nowNs : relaysSinceNs,
        (changed & FIRE) != 0 ? nowNs : fireSinceNs,
        (changed & JIG) != 0 ? nowNs : jigSinceNs);
  }

  boolean fill() {
    return (driven.highBits() & FILL) != 0;
  }

  boolean hold() {
    return (driven.highBits() & HOLD) != 0;
  }

  boolean fire() {
    return (driven.highBits() & FIRE) != 0;
  }

  /** Whether any line of bank or coil has changed in the scan before this one. */
  boolean changed(long nowNs) {
    return fillSinceNs == nowNs
        || holdSinceNs == nowNs
        || relaysSinceNs == nowNs
        || fireSinceNs == nowNs;
  }

  /** Since when the bank is held without a pulse: the hold's rise or the last pulse's end. */
  long heldSinceNs() {
    return holdSinceNs - fireSinceNs > 0 ? holdSinceNs : fireSinceNs;
  }

  /** Whether the gate was raised in the scan before this one. */
  boolean fireRose(long nowNs) {
    return fire() && fireSinceNs == nowNs;
  }

  /** Whether the gate was lowered in the scan before this one. */
  boolean fireFell(long nowNs) {
    return !fire() && fireSinceNs == nowNs;
  }
}
