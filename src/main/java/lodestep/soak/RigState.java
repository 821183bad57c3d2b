package lodestep.soak;

import lodestep.bench.BatchJig;
import lodestep.bench.BatchJob;
import lodestep.bench.BatchVerdict;
import lodestep.device.FeedState;
import lodestep.device.FillState;
import lodestep.device.JigMove;
import lodestep.device.ProveState;
import lodestep.device.PulseState;
import lodestep.device.StrokeState;
import lodestep.dial.ChargeByHand;
import lodestep.dial.DialState;
import lodestep.port.Job;

/** What the host is doing, as far as coverage tells states apart. */
public enum RigState {
  /** No program runs. */
  DOWN,
  /** Writing the first entries. */
  OPENING,
  /** Waiting for a magnet. */
  LOADING,
  /** Waiting for the reading to settle. */
  READING,
  /** Waiting for the planner. */
  CHOOSING,
  /** Waiting for the intent on disk. */
  INTENT,
  /** Proving fill contact, switch and bleed. */
  PROOF(Part.BANK),
  /** Setting changeover and range relay. */
  RELAYS(Part.BANK),
  /** Opening the bleed contact. */
  HOLD(Part.BANK),
  /** Filling the bank. */
  FILL(Part.BANK),
  /** The fill relay opens. */
  FILL_OPENS(Part.BANK),
  /** The bank falls to the asked voltage. */
  FALL(Part.BANK),
  /** Waiting for the token. */
  TOKEN(Part.COIL),
  /** Meeting the asked voltage. */
  MEET(Part.COIL),
  /** Waiting for the window. */
  WINDOW(Part.COIL),
  /** The gate is driven. */
  FIRE(Part.COIL),
  /** Waiting for the head's report. */
  REPORT(Part.COIL),
  /** Writing the verdict. */
  RECORDING,
  /** Showing the verdict. */
  SHOWING,
  /** Tripped. */
  TRIPPED,
  /** Waiting for a person. */
  ATTENTION,
  /** The batch is over. */
  DONE,
  /** Setting changeover and the ladder's low level, on which the switch is proven. */
  PROOF_LEVEL(Part.SUPPLY),
  /** Feed on at the low level: the switch must block. */
  FEED_PROOF(Part.SUPPLY),
  /** The feed dies away. */
  FEED_OFF(Part.SUPPLY),
  /** Setting the pulse's level. */
  LEVEL(Part.SUPPLY),
  /** Feed on at the pulse's level. */
  FEED(Part.SUPPLY),
  /** Waiting for the lid over an empty nest, before the jig is proven. */
  EMPTY_NEST(Part.JIG),
  /** The jig finds its home for the first time. */
  FIRST_HOME(Part.JIG),
  /** On the way to a height at which the jig's field is measured. */
  TO_STATION(Part.JIG),
  /** Measuring the jig's field. */
  STATION(Part.JIG),
  /** After a trip, or over something in the nest, the jig finds its home again. */
  HOMING(Part.JIG),
  /** Waiting for permit and driver. */
  DRIVER(Part.JIG),
  /** A stroke on its way down. */
  STROKE_DOWN(Part.JIG),
  /** A stroke at its lowest place. */
  STROKE_LOWEST(Part.JIG),
  /** A stroke on its way home. */
  STROKE_HOME(Part.JIG),
  /** A stroke on its way to the park position. */
  STROKE_PARK(Part.JIG),
  /** Waiting for the winder to charge the magnet. */
  BY_HAND(Part.JAWS);

  private final Part part;

  RigState() {
    this(Part.NONE);
  }

  RigState(Part part) {
    this.part = part;
  }

  /** What a rig must have for its host to be in it. */
  Part part() {
    return part;
  }

  /** Whether nothing at all may be driven in it: the winder's hand may be at the nest. */
  boolean idle() {
    return switch (this) {
      case DOWN, OPENING, LOADING, SHOWING, TRIPPED, ATTENTION, DONE, EMPTY_NEST, BY_HAND -> true;
      case READING, CHOOSING, INTENT, RECORDING, STATION -> true;
      case PROOF, RELAYS, HOLD, FILL, FILL_OPENS, FALL, TOKEN, MEET, WINDOW, FIRE, REPORT -> false;
      case PROOF_LEVEL, FEED_PROOF, FEED_OFF, LEVEL, FEED -> false;
      case FIRST_HOME, TO_STATION, HOMING, DRIVER -> false;
      case STROKE_DOWN, STROKE_LOWEST, STROKE_HOME, STROKE_PARK -> false;
    };
  }

  /** The state of this job. */
  static RigState of(Job job) {
    if (job instanceof BatchJob.Dialing dialing) {
      return of(dialing.dial());
    } else if (job instanceof BatchJob.Loading) {
      return LOADING;
    } else if (job instanceof BatchJob.Tripped) {
      return TRIPPED;
    } else if (job instanceof BatchVerdict.Showing) {
      return SHOWING;
    } else if (job instanceof BatchVerdict.Recording) {
      return RECORDING;
    } else if (job instanceof BatchJob.Attention) {
      return ATTENTION;
    } else if (job instanceof BatchJob.Done) {
      return DONE;
    }
    return ofJig(job);
  }

  private static RigState ofJig(Job job) {
    if (job instanceof BatchJig.AskEmptyNest) {
      return EMPTY_NEST;
    } else if (job instanceof BatchJig.MeasureJig measure) {
      return measure.move().isEmpty()
          ? STATION
          : measure.stations().isEmpty() ? FIRST_HOME : TO_STATION;
    }
    return job instanceof BatchJig.HomeJig || job instanceof BatchJig.LeaveNest ? HOMING : OPENING;
  }

  private static RigState of(DialState dial) {
    if (dial instanceof DialState.Acting acting && acting.act() instanceof PulseState shot) {
      return of(shot);
    } else if (dial instanceof DialState.Acting acting
        && acting.act() instanceof StrokeState stroke) {
      return of(stroke);
    } else if (dial instanceof ChargeByHand) {
      return BY_HAND;
    }
    return dial instanceof DialState.AwaitMove ? CHOOSING : READING;
  }

  private static RigState of(StrokeState stroke) {
    if (!(stroke instanceof StrokeState.Moving moving)) {
      return INTENT;
    }
    JigMove move = moving.move();
    return switch (move.stage()) {
      case ENABLE -> DRIVER;
      case DWELL -> move.targetsMicroMetres().size() == 3 ? STROKE_LOWEST : STROKE_HOME;
      case GO, DONE ->
          switch (move.targetsMicroMetres().size()) {
            case 3 -> STROKE_DOWN;
            case 2 -> STROKE_HOME;
            default -> STROKE_PARK;
          };
    };
  }

  private static RigState of(PulseState shot) {
    if (shot instanceof PulseState.AwaitIntent) {
      return INTENT;
    } else if (shot instanceof ProveState) {
      return PROOF;
    } else if (shot instanceof FillState.SetRelays) {
      return RELAYS;
    } else if (shot instanceof FillState.OpenBleed) {
      return HOLD;
    } else if (shot instanceof FillState.Fill) {
      return FILL;
    } else if (shot instanceof FillState.FillOpens) {
      return FILL_OPENS;
    } else if (shot instanceof FillState.Fall) {
      return FALL;
    } else if (shot instanceof FeedState feed) {
      return of(feed);
    } else if (shot instanceof PulseState.AwaitToken) {
      return TOKEN;
    } else if (shot instanceof PulseState.Meet) {
      return MEET;
    } else if (shot instanceof PulseState.AwaitWindow) {
      return WINDOW;
    }
    return shot instanceof PulseState.Fire ? FIRE : REPORT;
  }

  private static RigState of(FeedState feed) {
    if (feed instanceof FeedState.SetProof) {
      return PROOF_LEVEL;
    } else if (feed instanceof FeedState.Prove) {
      return FEED_PROOF;
    } else if (feed instanceof FeedState.LetGo) {
      return FEED_OFF;
    }
    return feed instanceof FeedState.SetLevel ? LEVEL : FEED;
  }
}
