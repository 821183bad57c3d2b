package lodestep.interlock;

import java.util.Optional;
import lodestep.port.Trip;

/**
 * The latched trip and how far its reset has come. The first cause is kept. A reset is the arm key
 * seen off and then on again, each for long enough not to be a bounce, with no cause present all
 * the while; a cause that comes back makes the key begin anew. A wire that flickers is no key: each
 * level has to be seen steadily, scan after scan, so a late scan, which may have missed what lay
 * between, makes that level begin anew.
 *
 * @param turn how far the key has been turned
 * @param sinceNs since when it has been there
 */
record Latch(Optional<Trip> trip, Turn turn, long sinceNs) {

  /** Where the key is on its way to a reset. */
  enum Turn {
    /** Not yet turned off since the cause went. */
    WAITING,
    /** Off, but perhaps only for a bounce. */
    GOING_OFF,
    /** Seen off. */
    OFF,
    /** On again, but perhaps only for a bounce. */
    GOING_ON,
    /** Turned: the trip is cleared. */
    TURNED
  }

  static final Latch CLEAR = new Latch(Optional.empty(), Turn.WAITING, 0);

  /** Longer than any contact bounces or any interference lasts; starting value. */
  static final long STEADY_NS = 50_000_000L;

  static Latch of(Trip trip) {
    return new Latch(Optional.of(trip), Turn.WAITING, 0);
  }

  /**
   * The next stage of the reset.
   *
   * @param fresh whether this scan followed the one before in time, on contacts read in it
   */
  Latch step(boolean causePresent, boolean keyOn, boolean fresh, long nowNs) {
    if (trip.isEmpty()) {
      return this;
    }
    boolean steady = nowNs - sinceNs >= STEADY_NS;
    Turn next = causePresent ? Turn.WAITING : fresh ? turned(keyOn, steady) : settledBefore();
    if (next == Turn.TURNED) {
      return CLEAR;
    }
    return next == turn ? this : new Latch(trip, next, nowNs);
  }

  private Turn settledBefore() {
    return switch (turn) {
      case WAITING, GOING_OFF -> Turn.WAITING;
      case OFF, GOING_ON -> Turn.OFF;
      case TURNED -> Turn.TURNED;
    };
  }

  private Turn turned(boolean keyOn, boolean steady) {
    return switch (turn) {
      case WAITING -> keyOn ? Turn.WAITING : Turn.GOING_OFF;
      case GOING_OFF -> keyOn ? Turn.WAITING : steady ? Turn.OFF : Turn.GOING_OFF;
      case OFF -> keyOn ? Turn.GOING_ON : Turn.OFF;
      case GOING_ON -> keyOn ? (steady ? Turn.TURNED : Turn.GOING_ON) : Turn.OFF;
      case TURNED -> Turn.TURNED;
    };
  }
}
