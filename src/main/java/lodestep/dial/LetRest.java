package lodestep.dial;

import java.util.Optional;
import lodestep.dial.Move.Finish;
import lodestep.port.InputLine;
import lodestep.port.View;
import lodestep.quantity.TimeSpan;

/**
 * The magnet would be accepted, and is let rest first, as long after its last pulse as is asked;
 * then it is read and judged again. Nothing is energised.
 *
 * @param pulsedAtNs when the newest pulse ended, or the attempt began
 */
record LetRest(Dial dial, long pulsedAtNs) implements DialState {

  private static final double NS = 1e-9;

  /** Whether a magnet that would end so is to rest first. */
  static boolean due(Dial dial, Finish finish) {
    Optional<TimeSpan> asked = dial.work().keep().readAfter();
    return finish.verdict() == Verdict.ACCEPTED && asked.isPresent() && !dial.progress().rested();
  }

  @Override
  public DialStep step(View view) {
    if (!view.contacts().closed(InputLine.WORK_SEAT)) {
      return DialStep.quiet(
          new Halted(dial, "the magnet was taken out while it was let rest, before its verdict"));
    }
    double rested = (view.nowNs() - pulsedAtNs) * NS;
    if (rested < asked().seconds()) {
      return DialStep.quiet(this);
    }
    Dial ready = dial.with(dial.progress().afterRest());
    return DialStep.quiet(Settle.after(ready, "after a while", view.nowNs()));
  }

  private TimeSpan asked() {
    return dial.work().keep().readAfter().orElseThrow();
  }

  @Override
  public String sentence() {
    return "letting it rest for "
        + asked().written()
        + " before it is judged; leave it in its nest";
  }
}
