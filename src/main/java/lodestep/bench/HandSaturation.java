package lodestep.bench;

import java.util.Optional;

/**
 * Whether the charge by hand was a full one. Any thread, immutable.
 *
 * <p>A magnet is full when a stronger charge moves its reading by less than 1 % (IEC 60404-5, from
 * memory). The program cannot measure how strong the jaws are: it asks for stronger ones and
 * compares, and a person who has none says so.
 *
 * @param lastTesla reading after the newest charge, along the pole asked for
 * @param asked how often a stronger charge was asked for
 */
record HandSaturation(Optional<Double> lastTesla, int asked, State state) {

  /** How it stands. */
  enum State {
    /** Nothing is known yet. */
    OPEN,
    /** A stronger charge did not move it. */
    PROVEN,
    /** Nothing stronger was at hand, or each charge moved it further. */
    NOT_PROVEN
  }

  static final HandSaturation NONE = new HandSaturation(Optional.empty(), 0, State.OPEN);

  /** A reading that a stronger charge moves by less than this part is that of a full charge. */
  private static final double FULL_FRACTION = 0.01;

  /** A person who has brought stronger jaws so often has no others. */
  private static final int ASKED_MAX = 3;

  /** A stronger charge is about to be asked for. */
  HandSaturation asking() {
    return new HandSaturation(lastTesla, asked + 1, state);
  }

  /** There is nothing stronger to charge with. */
  HandSaturation givenUp() {
    return new HandSaturation(lastTesla, asked, State.NOT_PROVEN);
  }

  /** After a charge that reads so, along the pole asked for; negative when it went wrong. */
  HandSaturation after(double alongTesla) {
    return new HandSaturation(Optional.of(alongTesla), asked, stateAfter(alongTesla));
  }

  private State stateAfter(double alongTesla) {
    boolean same = movedFraction(alongTesla).map(moved -> moved < FULL_FRACTION).orElse(false);
    if (state == State.NOT_PROVEN) {
      return state;
    }
    if (same && (asked > 0 || state == State.PROVEN)) {
      return State.PROVEN;
    }
    return asked >= ASKED_MAX ? State.NOT_PROVEN : State.OPEN;
  }

  /** By what part of it a reading differs from the one before; empty where there is none. */
  Optional<Double> movedFraction(double alongTesla) {
    return lastTesla
        .filter(last -> alongTesla > 0)
        .map(last -> Math.abs(alongTesla - last) / alongTesla);
  }
}
