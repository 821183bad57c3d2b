package lodestep.device;

import java.util.List;
import java.util.Optional;
import lodestep.port.ActEvent;
import lodestep.port.Outputs;
import lodestep.port.View;

/**
 * One stroke of the reverse jig: intent durable, then down in small steps to the gap, home to prove
 * that no step was lost, and to the park position. Pure and total.
 */
public sealed interface StrokeState extends Act {

  /** What stays the same. */
  StrokePlan plan();

  @Override
  default ActEvent.Intent intent() {
    return plan().intent();
  }

  @Override
  default Optional<ActResult> result() {
    return Optional.empty();
  }

  @Override
  default ActResult cut(String why) {
    return new StrokeResult(plan(), Outcome.NOT_FIRED, false, 0, why);
  }

  /** The head keeps no record of strokes. */
  @Override
  default Optional<ActResult> reported(View view) {
    return Optional.empty();
  }

  @Override
  default Outputs resting() {
    return Outputs.ALL_LOW;
  }

  /** A stroke whose intent is being handed to the ledger. */
  static StrokeState begin(StrokePlan plan, long nowNs) {
    return new AwaitIntent(plan, nowNs);
  }

  /** Waits until the intent is durable: nothing moves before. */
  record AwaitIntent(StrokePlan plan, long sinceNs) implements StrokeState {
    @Override
    public ActStep step(View view) {
      if (view.ledger().fault().isPresent()) {
        return notFired("the ledger cannot be written: " + view.ledger().fault().get());
      }
      if (view.ledger().durableTo() >= plan.intentNumber()) {
        return quiet(new Moving(plan, plan.move(view.nowNs())));
      }
      if (view.nowNs() - sinceNs > plan.limits().ledgerWaitNs()) {
        return notFired("the intent was not on disk in time");
      }
      return quiet(this);
    }

    private ActStep notFired(String why) {
      return quiet(new Ended(plan, new StrokeResult(plan, Outcome.NOT_FIRED, false, 0, why)));
    }
  }

  /** On its way. */
  record Moving(StrokePlan plan, JigMove move) implements StrokeState {
    @Override
    public ActStep step(View view) {
      JigMove.Step step = move.step(view);
      StrokeState next =
          step.next().done() ? new Ended(plan, judged(step.next())) : new Moving(plan, step.next());
      return new ActStep(next, step.wanted(), step.permit(), step.requests());
    }

    private StrokeResult judged(JigMove over) {
      if (!over.begun()) {
        return new StrokeResult(plan, Outcome.NOT_FIRED, false, 0, over.failed().orElse(""));
      }
      Outcome outcome = over.failed().isEmpty() ? Outcome.DELIVERED : Outcome.MISFIRED;
      return new StrokeResult(
          plan, outcome, true, over.lowestMicroMetres(), over.failed().orElse(""));
    }

    @Override
    public ActResult cut(String why) {
      return move.begun()
          ? new StrokeResult(plan, Outcome.UNVERIFIED, true, move.lowestMicroMetres(), why)
          : new StrokeResult(plan, Outcome.NOT_FIRED, false, 0, why);
    }
  }

  /** Over. */
  record Ended(StrokePlan plan, StrokeResult end) implements StrokeState {
    @Override
    public ActStep step(View view) {
      return quiet(this);
    }

    @Override
    public Optional<ActResult> result() {
      return Optional.of(end);
    }

    @Override
    public ActResult cut(String why) {
      return end;
    }
  }

  private static ActStep quiet(StrokeState next) {
    return new ActStep(next, Outputs.ALL_LOW, false, List.of());
  }
}
