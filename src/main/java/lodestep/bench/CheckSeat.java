package lodestep.bench;

import java.util.List;
import lodestep.dial.Zero;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.JobStep;
import lodestep.port.View;

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
      return HandSteps.to(
          new TakingZero(
              check,
              ZeroAtHand.begin(check.work().calibration(), check.work().limits(), view.nowNs())));
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.LEAVE_EMPTY);
    }

    @Override
    public String sentence() {
      return HandSteps.joined(news, HandSteps.emptySentence(check.work().nest().name()));
    }
  }

  /** Takes the zero. */
  record TakingZero(CheckJob.Check check, ZeroAtHand taking) implements CheckJob {

    @Override
    public JobStep next(View view) {
      return taking.step(
          view,
          now -> new TakingZero(check, now),
          news -> new EmptySeat(check, news),
          zero ->
              HandSteps.to(
                  new CheckJob.Seating(check.with(new Zero(zero, view.nextNumber()))),
                  List.of(HandSteps.zeroTaken(zero, check.calibration(), view))));
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
