package lodestep.bench;

import java.util.List;
import lodestep.dial.Quiet;
import lodestep.dial.Zero;
import lodestep.measure.GaugeZero;
import lodestep.measure.SettlingRule;
import lodestep.measure.Zeroing;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.FluxDensity;

/** The states of a check of the gauge before the reference magnet is in the nest. */
final class CheckSeat {

  private CheckSeat() {}

  /** Waits for an empty seat, which only a person can vouch for. */
  record EmptySeat(CheckJob.Check check, String news) implements CheckJob {
    @Override
    public JobStep next(View view) {
      if (!HandSteps.goOn(view)) {
        return HandSteps.to(this);
      }
      Zeroing zeroing = Zeroing.start(SettlingRule.zero(check.work().calibration()), view.nowNs());
      return HandSteps.to(new TakingZero(check, view.nowNs(), zeroing));
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.LEAVE_EMPTY);
    }

    @Override
    public String sentence() {
      return HandSteps.joined(
          news,
          "Leave the "
              + check.work().nest().name()
              + " empty and every magnet an arm's length away, then press Enter: the gauge takes"
              + " its zero.");
    }
  }

  /** Takes the zero. */
  record TakingZero(CheckJob.Check check, long sinceNs, Zeroing zeroing) implements CheckJob {

    private static final long LONGEST_NS = 15_000_000_000L;

    @Override
    public JobStep next(View view) {
      if (view.nowNs() - sinceNs > LONGEST_NS) {
        return HandSteps.to(new EmptySeat(check, "No zero: the head is silent."));
      }
      Zeroing more = zeroing;
      for (ReceivedFrame received : view.frames()) {
        if (received.frame() instanceof HeadFrame.Status status
            && received.receivedAtNs() - sinceNs >= 0
            && Quiet.is(view, check.work().limits())) {
          more = more.with(status.hallCounts(), received.receivedAtNs());
        }
      }
      Zeroing now = more;
      return now.outcome()
          .match(
              continues -> HandSteps.to(new TakingZero(check, sinceNs, now)),
              taken -> judged(taken.zero(), view),
              not -> refused(0, "no zero: " + not.why()));
    }

    private JobStep judged(GaugeZero zero, View view) {
      double tesla = Math.abs(zero.counts()) / check.work().calibration().countsPerTesla();
      if (tesla > HandSteps.OFFSET_MAX_TESLA) {
        return refused(
            zero.counts(),
            "the gauge reads "
                + new FluxDensity(tesla).inGauss()
                + " with the seat said to be empty; take every magnet away from it");
      }
      return HandSteps.to(
          new CheckJob.Seating(check.with(new Zero(zero, view.nextNumber()))),
          List.of(HandSteps.zeroTaken(zero, check.calibration(), view)));
    }

    private JobStep refused(double counts, String why) {
      return HandSteps.to(
          new EmptySeat(check, HandSteps.capital(why) + "."),
          List.of(new LedgerEvent.ZeroRefused(Math.round(counts * 1e3), 0, why)));
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.WAIT);
    }

    @Override
    public String sentence() {
      return "Hands off: the gauge takes its zero.";
    }
  }
}
