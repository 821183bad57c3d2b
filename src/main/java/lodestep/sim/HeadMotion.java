package lodestep.sim;

import java.util.Optional;
import lodestep.config.JigConfig;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.RefusalReason;

/**
 * The head's part of the jig: it makes the steps, stops at a limit switch and counts its position,
 * as PROTOCOL.md says under "Jig". Confined to its head.
 */
final class HeadMotion {

  /** A count that differs further from the switch's place has lost steps. */
  private static final double SHIFT_MAX_METRES = 100e-6;

  /** Within this the carriage must have left a switch that was open. */
  private static final double LEAVE_METRES = 2e-3;

  /** While the home switch is sought, and in the last millimetre before it. */
  private static final double SEEK_METRES_PER_MS = 5e-6;

  private static final double CREEP_METRES_PER_MS = 1e-6;
  private static final double CREEP_FROM_METRES = 1e-3;

  /** Longer than the way of any jig. */
  private static final double SEEK_MAX_METRES = 0.33;

  private static final long NO_INTENT = 0L;

  private enum Way {
    STANDS,
    GOES_TO,
    LEAVES_HOME,
    SEEKS_HOME,
    BACKS_OFF,
    CREEPS_HOME
  }

  private final Plant plant;
  private final Optional<Carriage> carriage;
  private final double stepMetres;
  private final double metresPerMs;
  private Way way = Way.STANDS;
  private long steps;
  private long targetSteps;
  private double due;
  private double goneMetres;
  private boolean homed;

  HeadMotion(Plant plant, Optional<JigConfig> jig) {
    this.plant = plant;
    this.carriage = plant.carriage();
    this.stepMetres = jig.map(config -> config.screw().stepMetres()).orElse(1e-6);
    this.metresPerMs = jig.map(config -> config.screw().millimetresPerSecond() * 1e-6).orElse(0.0);
  }

  /** A request to move; a refusal, or nothing when it is begun. */
  Optional<HeadFrame> moveTo(HeadRequest.MoveTo asked, boolean permit, int bootId) {
    Optional<RefusalReason> reason = refusal(asked, permit);
    if (reason.isPresent()) {
      return Optional.of(new HeadFrame.Refused(bootId, reason.get(), NO_INTENT));
    }
    goneMetres = 0;
    if (asked.positionMicroMetres() == 0) {
      way = carriage.orElseThrow().homeClosed() ? Way.SEEKS_HOME : Way.LEAVES_HOME;
    } else {
      way = Way.GOES_TO;
      targetSteps = Math.round(asked.positionMicroMetres() * 1e-6 / stepMetres);
    }
    return Optional.empty();
  }

  private Optional<RefusalReason> refusal(HeadRequest.MoveTo asked, boolean permit) {
    if (carriage.isEmpty()) {
      return Optional.of(RefusalReason.NOT_SAFE);
    }
    if (!permit) {
      return Optional.of(RefusalReason.NO_PERMIT);
    }
    boolean unknown = !homed && asked.positionMicroMetres() != 0;
    return unknown || !plant.jigLineHigh() ? Optional.of(RefusalReason.NOT_SAFE) : Optional.empty();
  }

  /** A millisecond: the steps that are due. */
  void step(boolean permit) {
    if (way == Way.STANDS) {
      return;
    }
    if (!permit || !plant.jigLineHigh()) {
      way = Way.STANDS;
      return;
    }
    due += speed() / stepMetres;
    while (due >= 1 && way != Way.STANDS) {
      due -= 1;
      oneStep();
    }
    if (way == Way.STANDS) {
      due = 0;
    }
  }

  private double speed() {
    return switch (way) {
      case STANDS -> 0;
      case GOES_TO -> metresPerMs;
      case LEAVES_HOME, BACKS_OFF, CREEPS_HOME -> CREEP_METRES_PER_MS;
      case SEEKS_HOME ->
          !homed
              ? Math.min(metresPerMs, SEEK_METRES_PER_MS)
              : steps * stepMetres > CREEP_FROM_METRES ? metresPerMs : CREEP_METRES_PER_MS;
    };
  }

  private void oneStep() {
    boolean down =
        switch (way) {
          case STANDS, SEEKS_HOME, CREEPS_HOME -> false;
          case GOES_TO -> targetSteps > steps;
          case LEAVES_HOME, BACKS_OFF -> true;
        };
    if (way == Way.GOES_TO && targetSteps == steps) {
      way = Way.STANDS;
      return;
    }
    if (stopped(down)) {
      return;
    }
    steps += down ? 1 : -1;
    goneMetres += stepMetres;
    plant.stepJig(down);
    boolean closed = carriage.orElseThrow().homeClosed();
    switch (way) {
      case LEAVES_HOME -> next(closed, Way.SEEKS_HOME);
      case SEEKS_HOME -> next(!closed, homed ? Way.STANDS : Way.BACKS_OFF);
      case BACKS_OFF -> next(closed, Way.CREEPS_HOME);
      case CREEPS_HOME -> next(!closed, Way.STANDS);
      case STANDS, GOES_TO -> {}
    }
  }

  private void next(boolean there, Way following) {
    if (!there) {
      return;
    }
    goneMetres = 0;
    way = following;
    if (following == Way.STANDS) {
      atHome();
    }
  }

  /** The home switch has opened: the count begins here, or shows that steps were lost. */
  private void atHome() {
    if (homed && Math.abs(steps) * stepMetres > SHIFT_MAX_METRES) {
      homed = false;
      return;
    }
    homed = true;
    steps = 0;
  }

  /** Whether a limit switch, or a way too long, ends the move before this step. */
  private boolean stopped(boolean down) {
    Carriage jig = carriage.orElseThrow();
    boolean atEnd = down ? !jig.farClosed() : way == Way.GOES_TO && !jig.homeClosed();
    boolean behind = down ? !jig.homeClosed() : !jig.farClosed();
    boolean stuck = behind && goneMetres > LEAVE_METRES;
    boolean endless = goneMetres > SEEK_MAX_METRES;
    if (atEnd || stuck || endless) {
      // A switch that opens where it should not is the host's to judge; the count stands.
      homed = homed && !endless;
      way = Way.STANDS;
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
    return (int) Math.round(steps * stepMetres * 1e6);
  }
}
