package lodestep.bench;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lodestep.config.Limits;
import lodestep.dial.Quiet;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.GaugeZero;
import lodestep.measure.SettlingRule;
import lodestep.measure.Zeroing;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.FluxDensity;

/**
 * The gauge takes its zero over an empty nest, with a person beside it. Any thread, immutable.
 *
 * @param last the zero of this run that it replaces; empty for the first
 */
record ZeroAtHand(
    GaugeCalibration calibration,
    Limits limits,
    Optional<GaugeZero> last,
    long sinceNs,
    Zeroing zeroing) {

  private static final long LONGEST_NS = 15_000_000_000L;

  static ZeroAtHand begin(GaugeCalibration calibration, Limits limits, long nowNs) {
    return begin(calibration, limits, Optional.empty(), nowNs);
  }

  static ZeroAtHand begin(
      GaugeCalibration calibration, Limits limits, Optional<GaugeZero> last, long nowNs) {
    Zeroing zeroing = Zeroing.start(SettlingRule.zero(calibration), nowNs);
    return new ZeroAtHand(calibration, limits, last, nowNs, zeroing);
  }

  /**
   * One scan.
   *
   * @param going the state that goes on with it
   * @param again the state that asks for the empty nest anew, and says why in a sentence
   * @param taken what follows from a zero
   */
  JobStep step(
      View view,
      Function<ZeroAtHand, Guided> going,
      Function<String, Guided> again,
      Function<GaugeZero, JobStep> taken) {
    if (view.nowNs() - sinceNs > LONGEST_NS) {
      return HandSteps.to(again.apply("No zero: the head is silent."));
    }
    Zeroing more = zeroing;
    for (ReceivedFrame received : view.frames()) {
      if (received.frame() instanceof HeadFrame.Status status
          && received.receivedAtNs() - sinceNs >= 0
          && Quiet.is(view, limits)) {
        more = more.with(status.hallCounts(), received.receivedAtNs());
      }
    }
    Zeroing now = more;
    return now.outcome()
        .match(
            continues ->
                HandSteps.to(going.apply(new ZeroAtHand(calibration, limits, last, sinceNs, now))),
            zero -> judged(zero.zero(), again, taken),
            not -> refused(0, "no zero: " + not.why(), again));
  }

  private JobStep judged(
      GaugeZero zero, Function<String, Guided> again, Function<GaugeZero, JobStep> taken) {
    double tesla = Math.abs(zero.counts()) / calibration.countsPerTesla();
    double jump =
        last.map(before -> Math.abs(zero.counts() - before.counts())).orElse(0.0)
            / calibration.countsPerTesla();
    if (tesla > HandSteps.OFFSET_MAX_TESLA) {
      return refused(
          zero.counts(),
          "the gauge reads "
              + new FluxDensity(tesla).inGauss()
              + " with the seat said to be empty; take every magnet away from it",
          again);
    }
    return jump > limits.zeroJump().tesla()
        ? refused(
            zero.counts(),
            "the gauge's zero jumped by "
                + new FluxDensity(jump).inGauss()
                + "; see that no magnet, steel or phone lies near the nest; if the gauge itself was"
                + " moved, end this (q) and begin anew",
            again)
        : taken.apply(zero);
  }

  private JobStep refused(double counts, String why, Function<String, Guided> again) {
    return HandSteps.to(
        again.apply(HandSteps.capital(why) + "."),
        List.of(
            new LedgerEvent.ZeroRefused(
                Math.round(counts * 1e3),
                Math.round(last.map(GaugeZero::counts).orElse(0.0) * 1e3),
                why)));
  }
}
