package lodestep.bench;

import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import lodestep.config.Limits;
import lodestep.dial.Quiet;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.SettledReading;
import lodestep.measure.Settling;
import lodestep.measure.SettlingRule;
import lodestep.measure.WarmthWatch;
import lodestep.port.JobStep;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.FluxDensity;

/**
 * The gauge comes to rest over what a person has put in the nest. Any thread, immutable.
 *
 * @param quietSinceNs since when nothing disturbs the gauge
 * @param warmth watched beside, where a warm magnet must not pass for a cold one; empty where the
 *     reading is not to take that long
 */
record ReadAtHand(
    GaugeCalibration calibration,
    Limits limits,
    long sinceNs,
    long quietSinceNs,
    Settling settling,
    Optional<WarmthWatch> warmth) {

  /** A hand that has just let go still shakes the nest. */
  private static final long QUIET_NS = 300_000_000L;

  private static final long LONGEST_NS = 30_000_000_000L;

  static ReadAtHand begin(GaugeCalibration calibration, Limits limits, long nowNs) {
    return new ReadAtHand(
        calibration, limits, nowNs, nowNs, fresh(calibration, nowNs), Optional.empty());
  }

  /** One that takes a quarter of a minute, and knows a magnet that is warmer than the nest. */
  static ReadAtHand unhurried(GaugeCalibration calibration, Limits limits, long nowNs) {
    return new ReadAtHand(
        calibration,
        limits,
        nowNs,
        nowNs,
        fresh(calibration, nowNs),
        Optional.of(WarmthWatch.NONE));
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
          going.apply(
              new ReadAtHand(
                  calibration,
                  limits,
                  sinceNs,
                  view.nowNs(),
                  anew,
                  warmth.map(watched -> WarmthWatch.NONE))));
    }
    if (view.nowNs() - quietSinceNs < QUIET_NS) {
      return HandSteps.to(going.apply(this));
    }
    Settling more = settling;
    Optional<WarmthWatch> watched = warmth;
    for (ReceivedFrame received : view.frames()) {
      if (received.frame() instanceof HeadFrame.Status status) {
        double value = tesla.applyAsDouble(status);
        more = more.with(value, received.receivedAtNs());
        watched = watched.map(watch -> watch.with(value, received.receivedAtNs()));
      }
    }
    ReadAtHand next = new ReadAtHand(calibration, limits, sinceNs, quietSinceNs, more, watched);
    return more.outcome()
        .match(
            continues -> HandSteps.to(going.apply(next)),
            settled -> next.cold(settled.reading(), going, look, read),
            not -> HandSteps.to(look.apply("The gauge did not come to rest: " + not.why() + ".")));
  }

  /** The settled reading, unless it is watched for longer and the magnet is seen to be warm. */
  private JobStep cold(
      SettledReading reading,
      Function<ReadAtHand, Guided> going,
      Function<String, Guided> look,
      Function<SettledReading, JobStep> read) {
    if (warmth.isEmpty()) {
      return read.apply(reading);
    }
    WarmthWatch watch = warmth.get();
    if (!watch.over()) {
      return HandSteps.to(going.apply(this));
    }
    OptionalDouble drift = watch.drift();
    return drift.isEmpty()
        ? read.apply(reading)
        : HandSteps.to(look.apply(warm(drift.getAsDouble())));
  }

  private static String warm(double teslaPerSecond) {
    return String.format(
        Locale.ROOT,
        "It is warmer or colder than the nest: the reading still creeps by %+.1f G a minute. Leave"
            + " it in the nest for a few minutes, hands off.",
        new FluxDensity(60 * teslaPerSecond).gauss());
  }
}
