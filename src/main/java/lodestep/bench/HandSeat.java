package lodestep.bench;

import java.util.List;
import lodestep.dial.Zero;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.JobStep;
import lodestep.port.View;

/** The states of work by hand before the magnet is in the nest. */
final class HandSeat {

  private HandSeat() {}

  /** Waits for an empty seat, which only a person can vouch for. */
  record EmptySeat(Hand hand, String news) implements HandJob {
    @Override
    public JobStep next(View view) {
      if (HandSteps.goOn(view)) {
        return HandSteps.to(
            new TakingZero(
                hand,
                ZeroAtHand.begin(hand.work().calibration(), hand.work().limits(), view.nowNs())));
      }
      return HandSteps.to(this);
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.LEAVE_EMPTY);
    }

    @Override
    public String sentence() {
      return HandSteps.joined(news, HandSteps.emptySentence(hand.work().row().nest().name()));
    }
  }

  /** Takes the zero. */
  record TakingZero(Hand hand, ZeroAtHand taking) implements HandJob {

    @Override
    public JobStep next(View view) {
      return taking.step(
          view,
          now -> new TakingZero(hand, now),
          news -> new EmptySeat(hand, news),
          zero ->
              HandSteps.to(
                  new HandJob.Seating(hand.with(new Zero(zero, view.nextNumber()))),
                  List.of(HandSteps.zeroTaken(zero, hand.calibrationNumber(), view))));
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.WAIT);
    }

    @Override
    public String sentence() {
      return HandSteps.ZERO_SENTENCE;
    }
  }
}
