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

/** The states of work by hand before the magnet is in the nest. */
final class HandSeat {

  private HandSeat() {}

  /** Waits for an empty seat, which only a person can vouch for. */
  record EmptySeat(Hand hand, String news) implements HandJob {
    @Override
    public JobStep next(View view) {
      if (HandSteps.goOn(view)) {
        Zeroing zeroing = Zeroing.start(SettlingRule.zero(hand.work().calibration()), view.nowNs());
        return HandSteps.to(new TakingZero(hand, view.nowNs(), zeroing));
      }
      return HandSteps.to(this);
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.LEAVE_EMPTY);
    }

    @Override
    public String sentence() {
      return HandSteps.joined(
          news,
          "Leave the nest empty and every magnet an arm's length away, then press Enter: the gauge"
              + " takes its zero.");
    }
  }

  /** Takes the zero. */
  record TakingZero(Hand hand, long sinceNs, Zeroing zeroing) implements HandJob {

    private static final long LONGEST_NS = 15_000_000_000L;

    @Override
    public JobStep next(View view) {
      if (view.nowNs() - sinceNs > LONGEST_NS) {
        return HandSteps.to(new EmptySeat(hand, "No zero: the head is silent."));
      }
      Zeroing more = zeroing;
      for (ReceivedFrame received : view.frames()) {
        if (received.frame() instanceof HeadFrame.Status status
            && received.receivedAtNs() - sinceNs >= 0
            && Quiet.is(view, hand.work().limits())) {
          more = more.with(status.hallCounts(), received.receivedAtNs());
        }
      }
      Zeroing now = more;
      return now.outcome()
          .match(
              continues -> HandSteps.to(new TakingZero(hand, sinceNs, now)),
              taken -> judged(taken.zero(), view),
              not -> refused(0, "no zero: " + not.why()));
    }

    private JobStep judged(GaugeZero zero, View view) {
      double tesla = Math.abs(zero.counts()) / hand.work().calibration().countsPerTesla();
      if (tesla > HandSteps.OFFSET_MAX_TESLA) {
        return refused(
            zero.counts(),
            "the gauge reads "
                + new FluxDensity(tesla).inGauss()
                + " with the seat said to be empty; take every magnet away from it");
      }
      Hand zeroed = hand.with(new Zero(zero, view.nextNumber()));
      return HandSteps.to(
          new HandJob.Seating(zeroed),
          List.of(HandSteps.zeroTaken(zero, hand.calibrationNumber(), view)));
    }

    private JobStep refused(double counts, String why) {
      return HandSteps.to(
          new EmptySeat(hand, HandSteps.capital(why) + "."),
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
