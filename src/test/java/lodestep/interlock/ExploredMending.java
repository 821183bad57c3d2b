package lodestep.interlock;

import java.util.Optional;

/**
 * Whether a rig comes to work again from a state, with everything mended: the lid opened and
 * closed, the key turned off and on once, and work ordered. What had to stay hidden until it works
 * again may take two attempts more. A way that leads to what another has come to at the same point
 * is followed no further: what became of that one is known.
 *
 * @param <S> a state
 */
final class ExploredMending<S> {

  /** A machine that can be mended. */
  interface Mended<S> extends Explorer.Machine<S> {

    /** A scan without a fault in which a person does this and orders nothing. */
    S rest(S place, long hand);

    /** A scan on the way to being ready. */
    S prepare(S place);

    /** A scan in which work is ordered. */
    S order(S place);

    boolean ready(S place);

    boolean busy(S place);

    /** Whether what was ordered has been done. */
    boolean worked(S place);

    /** Whether it still carries what was broken before and can be seen only when it works. */
    boolean hidden(S place);

    Optional<String> trip(S place);
  }

  private static final long LID = Deviation.LID_A_OPEN.bit() | Deviation.LID_B_OPEN.bit();

  /** What is hidden spoils a first one and shows itself in a second. */
  private static final int ATTEMPTS = 3;

  private final Mended<S> machine;
  private final int readyScans;
  private final KnownStates known = new KnownStates();

  /** One rig's; ready is bound to come within so many scans of the reset. */
  ExploredMending(Mended<S> machine, int readyScans) {
    this.machine = machine;
    this.readyScans = readyScans;
  }

  /** Why it does not; empty if it does, or if another has told. */
  Optional<String> stuck(S from) {
    S place = rest(rest(from, 1, LID), 3, 0);
    for (int attempt = 0; attempt < ATTEMPTS; attempt++) {
      Attempt<S> made = attempt(reset(place), attempt);
      if (made.why().isEmpty() || !machine.hidden(place)) {
        return made.why();
      }
      place = made.end();
    }
    return Optional.of("a fault that stays hidden, " + machine.trip(place).orElse("no trip"));
  }

  private record Attempt<S>(S end, Optional<String> why) {}

  private Attempt<S> attempt(S from, int attempt) {
    S place = from;
    int mark = 2 * readyScans * attempt;
    for (int scan = 0; scan < readyScans && !machine.ready(place); scan++) {
      if (told(place, mark + scan)) {
        return new Attempt<>(place, Optional.empty());
      }
      place = machine.prepare(place);
    }
    if (!machine.ready(place)) {
      return new Attempt<>(
          place, Optional.of("LIV-1: not ready, " + machine.trip(place).orElse("no trip")));
    }
    place = machine.order(place);
    boolean worked = machine.worked(place);
    for (int scan = 0; scan < readyScans && machine.busy(place); scan++) {
      if (!worked && told(place, mark + readyScans + scan)) {
        return new Attempt<>(place, Optional.empty());
      }
      place = machine.rest(place, 0);
      worked |= machine.worked(place);
    }
    return new Attempt<>(
        place,
        worked && !machine.busy(place)
            ? Optional.empty()
            : Optional.of("LIV-2: it did not come, " + machine.trip(place).orElse("no trip")));
  }

  private S reset(S from) {
    return rest(rest(from, 3, Deviation.KEY_OFF.bit()), 3, 0);
  }

  private S rest(S from, int scans, long hand) {
    S place = from;
    for (int scan = 0; scan < scans; scan++) {
      place = machine.rest(place, hand);
    }
    return place;
  }

  private boolean told(S place, int scan) {
    Fingerprint print = new Fingerprint().put(scan);
    machine.describe(place, print);
    return !known.add(print, 0, 0);
  }
}
