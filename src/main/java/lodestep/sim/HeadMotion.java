package lodestep.sim;

import java.util.Optional;
import lodestep.protocol.RefusalReason;

/**
 * The head's part of the jig: how many steps it makes in each millisecond, where it stops by a
 * limit switch, and how it counts its position, as PROTOCOL.md says under "Jig". All in whole
 * numbers, so that the firmware makes the very same steps. Confined to its head.
 */
final class HeadMotion {

  /**
   * The jig that a head was built for.
   *
   * @param pitchNanoMetres way of one turn of the screw, &gt; 0
   * @param stepsPerTurn &gt; 0
   * @param travelMicroMetres from the home switch to the far switch
   * @param microMetresPerSecond the carriage's fastest, &gt; 0
   */
  record Build(
      int pitchNanoMetres, int stepsPerTurn, int travelMicroMetres, int microMetresPerSecond) {

    long steps(long microMetres) {
      long nearest = 2 * microMetres * NANO_PER_MICRO * stepsPerTurn + pitchNanoMetres;
      return Math.floorDiv(nearest, 2L * pitchNanoMetres);
    }

    long microMetres(long steps) {
      long by = (long) stepsPerTurn * NANO_PER_MICRO;
      return Math.floorDiv(2 * steps * pitchNanoMetres + by, 2 * by);
    }
  }

  /**
   * What the motion looks at in one millisecond.
   *
   * @param homeClosed the home switch: away from home
   * @param farClosed the far switch: away from the far end
   */
  record Inputs(boolean permit, boolean enabled, boolean homeClosed, boolean farClosed) {}

  private static final int NANO_PER_MICRO = 1000;

  /** Speed at which a motor starts and stops without a ramp, and finds a switch. */
  private static final int CREEP_PER_SECOND = 1_000;

  /** While home is sought and the count not proven: the motor's way round is not known either. */
  private static final int SEEK_PER_SECOND = 5_000;

  /** A tenth of a metre per second each second. */
  private static final int RAMP_PER_MS = 100;

  private static final long RAMP = 100_000;

  /** From here to home it creeps. */
  private static final int CREEP_FROM = 1_000;

  /** Within this a switch that the carriage moves away from has to close. */
  private static final int LEAVE = 2_000;

  /** A count that differs further from the switch's place has lost steps. */
  private static final int SHIFT_MAX = 100;

  /** A switch that flickers or catches noise opens for less; home stays open behind the switch. */
  private static final int HOME_OPEN_MS = 10;

  private enum Way {
    STANDS,
    GOES_TO,
    LEAVES_HOME,
    SEEKS_HOME,
    BACKS_OFF,
    CREEPS_HOME
  }

  private final Optional<Build> jig;
  private final Build build;
  private Way way = Way.STANDS;
  private long steps;
  private long targetSteps;
  private long goneSteps;
  private long openedSteps;
  private int openMs;
  private long due;
  private int speed;
  private boolean down;
  private boolean farWasClosed;
  private boolean homed;

  HeadMotion(Optional<Build> jig) {
    this.jig = jig;
    this.build = jig.orElse(new Build(1, 1, 0, 0));
  }

  /** Begins a move, or says why not; 0 finds home. */
  Optional<RefusalReason> moveTo(int microMetres, Inputs in) {
    if (jig.isEmpty()) {
      return Optional.of(RefusalReason.NOT_SAFE);
    }
    if (!in.permit()) {
      return Optional.of(RefusalReason.NO_PERMIT);
    }
    boolean unknown = microMetres != 0 && !homed;
    boolean outside = microMetres < 0 || microMetres > build.travelMicroMetres();
    if (unknown || outside || !in.enabled()) {
      return Optional.of(RefusalReason.NOT_SAFE);
    }
    farWasClosed = in.farClosed();
    boolean went = way != Way.STANDS;
    boolean wentDown = wantsDown();
    long gone = goneSteps;
    if (microMetres == 0) {
      begin(in.homeClosed() ? Way.SEEKS_HOME : Way.LEAVES_HOME);
    } else {
      begin(Way.GOES_TO);
      targetSteps = build.steps(microMetres);
    }
    // Whoever asks again and again gets no longer way on past a switch than who asks once.
    goneSteps = went && wentDown == wantsDown() ? gone : 0;
    return Optional.empty();
  }

  private void begin(Way next) {
    way = next;
    goneSteps = 0;
    openMs = 0;
  }

  /** Ends the move; it is not taken up again. */
  void stop() {
    way = Way.STANDS;
    speed = 0;
    due = 0;
  }

  /** A millisecond: the steps that it makes in it, positive towards the work. */
  int step(Inputs in) {
    if (way != Way.STANDS && !(in.permit() && in.enabled())) {
      stop();
    }
    lookAtSwitches(in);
    if (way == Way.GOES_TO && targetSteps == steps) {
      stop();
    }
    if (way == Way.STANDS) {
      return 0;
    }
    boolean turns = wantsDown() != down && speed > CREEP_PER_SECOND;
    boolean goesDown = turns ? down : wantsDown();
    if (ended(in, goesDown)) {
      return 0;
    }
    speed = nextSpeed(turns);
    down = goesDown;
    due += (long) speed * build.stepsPerTurn();
    long count = due / build.pitchNanoMetres();
    due -= count * build.pitchNanoMetres();
    if (way == Way.GOES_TO && !turns) {
      count = Math.min(count, Math.abs(targetSteps - steps));
    }
    goneSteps += count;
    steps += down ? count : -count;
    return (int) (down ? count : -count);
  }

  private void lookAtSwitches(Inputs in) {
    switch (way) {
      case STANDS, GOES_TO -> {}
      case LEAVES_HOME -> next(in.homeClosed(), Way.SEEKS_HOME);
      case SEEKS_HOME -> seek(in);
      case BACKS_OFF -> next(in.homeClosed(), Way.CREEPS_HOME);
      case CREEPS_HOME -> creep(in.homeClosed());
    }
    farWasClosed |= in.farClosed();
  }

  private void next(boolean there, Way following) {
    if (there) {
      begin(following);
    }
  }

  private void seek(Inputs in) {
    if (!in.homeClosed() && homed) {
      atHome();
    } else if (!in.homeClosed()) {
      begin(Way.BACKS_OFF);
    } else if (farWasClosed && !in.farClosed()) {
      // Sent home and come to the other end: the motor turns the wrong way.
      homed = false;
      stop();
    }
  }

  /** Home is where the switch opened for good: one that closes again was none. */
  private void creep(boolean homeClosed) {
    openedSteps = openMs == 0 ? steps : openedSteps;
    openMs = homeClosed ? 0 : openMs + 1;
    if (openMs >= HOME_OPEN_MS) {
      stop();
      homed = true;
      steps -= openedSteps;
    }
  }

  /**
   * Where the count is proven the switch has opened: it begins here, or shows that steps were lost.
   */
  private void atHome() {
    stop();
    if (Math.abs(steps) > build.steps(SHIFT_MAX)) {
      homed = false;
      return;
    }
    steps = 0;
  }

  private boolean wantsDown() {
    return switch (way) {
      case STANDS, SEEKS_HOME, CREEPS_HOME -> false;
      case GOES_TO -> targetSteps > steps;
      case LEAVES_HOME, BACKS_OFF -> true;
    };
  }

  /** Up and down a ramp, so that it is slow where it has to be. */
  private int nextSpeed(boolean turns) {
    boolean seeks = way == Way.SEEKS_HOME;
    boolean ahead = way == Way.GOES_TO || (seeks && homed);
    int fastest = build.microMetresPerSecond();
    int slow = Math.min(CREEP_PER_SECOND, fastest);
    int top = ahead ? fastest : seeks ? Math.min(SEEK_PER_SECOND, fastest) : slow;
    long left =
        seeks
            ? build.microMetres(steps) - CREEP_FROM
            : Math.abs(build.microMetres(targetSteps - steps));
    boolean late = ahead && (long) speed * speed - (long) slow * slow >= 2 * RAMP * left;
    boolean brakes = turns || speed > top || late;
    int next = speed + (brakes ? -RAMP_PER_MS : RAMP_PER_MS);
    return Math.max(slow, brakes ? next : Math.min(next, top));
  }

  /** Whether a limit switch, or a way too long, ends the move before these steps. */
  private boolean ended(Inputs in, boolean goesDown) {
    boolean atEnd = goesDown ? !in.farClosed() : way == Way.GOES_TO && !in.homeClosed();
    boolean behind = goesDown ? !in.homeClosed() : !in.farClosed();
    boolean stuck = behind && goneSteps > build.steps(LEAVE);
    long budget = build.travelMicroMetres() * 11L / 10 + LEAVE;
    boolean endless = goneSteps > build.steps(budget);
    if (atEnd || stuck || endless) {
      // A switch that opens where it should not is the host's to judge; the count stands.
      homed = homed && !endless;
      stop();
      return true;
    }
    return false;
  }

  /** Whether the position counts from the home switch. */
  boolean homed() {
    return homed;
  }

  /** Counted position from home, in micrometres. */
  int positionMicroMetres() {
    return jig.isPresent() ? (int) build.microMetres(steps) : 0;
  }
}
