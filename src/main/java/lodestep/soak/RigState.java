package lodestep.soak;

import lodestep.bench.BatchJob;
import lodestep.bench.BatchVerdict;
import lodestep.device.FillState;
import lodestep.device.ProveState;
import lodestep.device.PulseState;
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
  PROOF,
  /** Setting changeover and range relay. */
  RELAYS,
  /** Opening the bleed contact. */
  HOLD,
  /** Filling the bank. */
  FILL,
  /** The fill relay opens. */
  FILL_OPENS,
  /** The bank falls to the asked voltage. */
  FALL,
  /** Waiting for the token. */
  TOKEN,
  /** Meeting the asked voltage. */
  MEET,
  /** Waiting for the window. */
  WINDOW,
  /** The gate is driven. */
  FIRE,
  /** Waiting for the head's report. */
  REPORT,
  /** Writing the verdict. */
  RECORDING,
  /** Showing the verdict. */
  SHOWING,
  /** Tripped. */
  TRIPPED,
  /** Waiting for a person. */
  ATTENTION,
  /** The batch is over. */
  DONE;

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
    return OPENING;
  }

  private static RigState of(DialState dial) {
    if (dial instanceof DialState.Acting acting && acting.act() instanceof PulseState shot) {
      return of(shot);
    }
    return dial instanceof DialState.AwaitMove ? CHOOSING : READING;
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
    } else if (shot instanceof PulseState.AwaitToken) {
      return TOKEN;
    } else if (shot instanceof PulseState.Meet) {
      return MEET;
    } else if (shot instanceof PulseState.AwaitWindow) {
      return WINDOW;
    }
    return shot instanceof PulseState.Fire ? FIRE : REPORT;
  }
}
