package lodestep.bench;

import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import lodestep.config.Limits;
import lodestep.dial.Quiet;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.SettledReading;
import lodestep.measure.Settling;
import lodestep.measure.SettlingRule;
import lodestep.port.JobStep;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;

/**
 * The gauge comes to rest over what a person has put in the nest. Any thread, immutable.
 *
 * @param quietSinceNs since when nothing disturbs the gauge
 */
record ReadAtHand(
    GaugeCalibration calibration,
    Limits limits,
    long sinceNs,
    long quietSinceNs,
    Settling settling) {

  /** A hand that has just let go still shakes the nest. */
  private static final long QUIET_NS = 300_000_000L;

  private static final long LONGEST_NS = 30_000_000_000L;

  static ReadAtHand begin(GaugeCalibration calibration, Limits limits, long nowNs) {
    return new ReadAtHand(calibration, limits, nowNs, nowNs, fresh(calibration, nowNs));
  }

  private static Settling fresh(GaugeCalibration calibration, long nowNs) {
    return Settling.start(
        SettlingRule.reading(calibration, SettlingRule.READING_WANDER_TESLA), nowNs);
  }

  /**
   * One scan.
   *
   * @param tesla what a line of the head reads
   * @param going the state that goes on with it
   * @param look the state in which a person looks for what the sentence says
   * @param read what follows from a settled reading
   */
  JobStep step(
      View view,
      ToDoubleFunction<HeadFrame.Status> tesla,
      Function<ReadAtHand, Guided> going,
      Function<String, Guided> look,
      Function<SettledReading, JobStep> read) {
    if (view.nowNs() - sinceNs > LONGEST_NS) {
      return HandSteps.to(
          look.apply("The head is silent or disturbed; see to its cable and supply."));
    }
    if (!Quiet.is(view, limits)) {
      Settling anew = fresh(calibration, view.nowNs());
      return HandSteps.to(
          going.apply(new ReadAtHand(calibration, limits, sinceNs, view.nowNs(), anew)));
    }
    if (view.nowNs() - quietSinceNs < QUIET_NS) {
      return HandSteps.to(going.apply(this));
    }
    Settling more = settling;
    for (ReceivedFrame received : view.frames()) {
      if (received.frame() instanceof HeadFrame.Status status) {
        more = more.with(tesla.applyAsDouble(status), received.receivedAtNs());
      }
    }
    Settling now = more;
    return now.outcome()
        .match(
            continues ->
                HandSteps.to(
                    going.apply(new ReadAtHand(calibration, limits, sinceNs, quietSinceNs, now))),
            settled -> read.apply(settled.reading()),
            not -> HandSteps.to(look.apply("The gauge did not come to rest: " + not.why() + ".")));
  }
}
