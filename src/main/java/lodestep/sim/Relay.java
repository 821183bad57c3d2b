package lodestep.sim;

import java.util.SplittableRandom;

/**
 * A small power relay in steps of one millisecond: its contacts travel, bounce, stick and weld.
 *
 * <p>The times are those usual in the trade for small power relays (common practice, no source);
 * each travel is drawn a millisecond longer or shorter. The break contact opens before the make
 * contact closes, so in mid-travel neither is closed. The mirror contact is the break contact and
 * follows the armature: it cannot close while the make contact is welded. Confined to its plant.
 */
final class Relay {

  private static final int BREAK_OPENS_MS = 5;
  private static final int MAKE_CLOSES_MS = 8;
  private static final int MAKE_OPENS_MS = 3;
  private static final int BREAK_CLOSES_MS = 5;
  private static final int BOUNCE_MS = 1;

  private final SplittableRandom random;
  private final int bit;
  private boolean target;
  private boolean travelling;
  private int travelMs;
  private int lateMs;
  private boolean makeClosed;
  private boolean breakClosed = true;

  /**
   * A relay at rest, released.
   *
   * @param bit this relay's bit in the fault masks
   */
  Relay(int bit, SplittableRandom random) {
    this.bit = bit;
    this.random = random;
  }

  /** One millisecond with the relay's coil fed or not. */
  void step(boolean coilFed, FaultState faults) {
    boolean fed = effective(coilFed, faults);
    if (fed == target && !travelling) {
      return;
    }
    if (fed != target) {
      target = fed;
      travelling = true;
      travelMs = 0;
      lateMs = random.nextInt(3) - 1;
    }
    travelMs++;
    if (target) {
      operate();
    } else {
      release();
    }
  }

  private boolean effective(boolean coilFed, FaultState faults) {
    int relays = faults.relaysStuckPulled | faults.relaysStuckReleased | faults.relaysWelded;
    if ((relays & bit) == 0) {
      return coilFed;
    }
    if ((faults.relaysStuckPulled & bit) != 0) {
      return true;
    }
    if ((faults.relaysStuckReleased & bit) != 0) {
      return false;
    }
    return coilFed || makeClosed;
  }

  private void operate() {
    if (travelMs >= BREAK_OPENS_MS + lateMs) {
      breakClosed = false;
    }
    int bounceFromMs = MAKE_CLOSES_MS + lateMs;
    if (travelMs >= bounceFromMs + BOUNCE_MS) {
      makeClosed = true;
      travelling = false;
    } else if (travelMs >= bounceFromMs) {
      makeClosed = random.nextBoolean();
    }
  }

  private void release() {
    if (travelMs >= MAKE_OPENS_MS + lateMs) {
      makeClosed = false;
    }
    int bounceFromMs = BREAK_CLOSES_MS + lateMs;
    if (travelMs >= bounceFromMs + BOUNCE_MS) {
      breakClosed = true;
      travelling = false;
    } else if (travelMs >= bounceFromMs) {
      breakClosed = random.nextBoolean();
    }
  }

  /** Whether the contact that closes when the coil is fed is closed. */
  boolean makeClosed() {
    return makeClosed;
  }

  /** Whether the contact that closes when the coil is not fed, the mirror contact, is closed. */
  boolean breakClosed() {
    return breakClosed;
  }
}
