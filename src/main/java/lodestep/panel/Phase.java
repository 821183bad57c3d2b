package lodestep.panel;

import java.util.Locale;
import lodestep.bench.BatchJob;
import lodestep.bench.BatchVerdict;
import lodestep.bench.Guided;
import lodestep.bench.Standby;
import lodestep.port.HandAsk;
import lodestep.port.View;

/** What kind of moment it is at the rig: by it the page says what can be done. */
enum Phase {
  /** The program has found an error in itself. */
  FAILED,
  /** A trip stands. */
  TRIPPED,
  /** The trip is cleared; a person must say "go on". */
  RESUME,
  /** Nothing is under way. */
  IDLE,
  /** Waits for a magnet, the lid, the key and the pedal. */
  LOAD,
  /** The gauge takes its zero over the empty nest. */
  ZERO,
  /** A person asked to wait. */
  PAUSED,
  /** A magnet is at work. */
  WORK,
  /** Hands are asked for in the middle of it. */
  HANDS,
  /** Guided readings: a person is asked to do something, and to say so. */
  GUIDED,
  /** Guided readings: hands off while the gauge is read. */
  READING,
  /** A verdict is shown. */
  VERDICT,
  /** A person must look. */
  ATTENTION,
  /** The batch is over. */
  DONE;

  String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  static Phase of(Look look) {
    if (look.failed().isPresent()) {
      return FAILED;
    }
    if (look.view().trip().isPresent()) {
      return TRIPPED;
    }
    if (look.job() instanceof Standby) {
      return IDLE;
    }
    if (look.job() instanceof Guided guided) {
      Phase goes = guided.cue().ask() == HandAsk.WAIT ? READING : GUIDED;
      return guided.over() ? over(look.view()) : goes;
    }
    return look.job() instanceof BatchJob job ? of(job) : WORK;
  }

  /** It is over when it is safe on disk: whoever looks at the record then finds all of it. */
  private static Phase over(View view) {
    return view.ledger().durableTo() >= view.nextNumber() - 1 ? DONE : READING;
  }

  private static Phase of(BatchJob job) {
    if (job instanceof BatchJob.Loading loading) {
      Phase loads = loading.ready() ? LOAD : ZERO;
      return loading.paused() ? PAUSED : loads;
    }
    if (job instanceof BatchJob.Tripped) {
      return RESUME;
    }
    if (job instanceof BatchJob.Attention) {
      return ATTENTION;
    }
    if (job instanceof BatchVerdict.Showing) {
      return VERDICT;
    }
    if (job instanceof BatchJob.Done) {
      return DONE;
    }
    return job.cue().ask() == HandAsk.WAIT ? WORK : HANDS;
  }
}
