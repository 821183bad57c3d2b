package lodestep.device;

import java.util.List;
import java.util.Optional;
import lodestep.port.ActEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;

/**
 * One pulse of a coil, from the durable intent to the head's report: intent, whatever the source
 * needs first ({@link ProveState}, {@link FillState}, {@link FeedState}), token, fire window, gate,
 * report. The head's window and the gate end it, whatever feeds the coil. Pure and total.
 */
public sealed interface PulseState extends Act
    permits ProveState, FillState, FeedState, PulseState.Common {

  /** What does not change during the pulse. */
  PulsePlan plan();

  /** Begins a pulse whose intent has just been handed to the ledger. */
  static PulseState begin(PulsePlan plan, long nowNs) {
    return new AwaitIntent(plan, nowNs);
  }

  @Override
  default ActEvent.Intent intent() {
    return plan().intent();
  }

  @Override
  default Optional<ActResult> result() {
    return Optional.empty();
  }

  /**
   * "Not fired" unless the gate may have been driven; then "unverified" until a report is found.
   */
  @Override
  default ActResult cut(String why) {
    return new PulseResult(plan(), Outcome.NOT_FIRED, 0, Optional.empty(), why);
  }

  @Override
  default Optional<ActResult> reported(View view) {
    return PulseSteps.reportIn(view, plan().intentNumber())
        .map(report -> PulseSteps.judge(plan(), report.token(), report));
  }

  @Override
  default Outputs resting() {
    return plan().relays();
  }

  /** What pulses of every source have in common. */
  sealed interface Common extends PulseState {}

  /** Waits until the intent is on disk; nothing is energised before. */
  record AwaitIntent(PulsePlan plan, long sinceNs) implements Common {
    @Override
    public ActStep step(View view) {
      if (view.ledger().fault().isPresent()) {
        return PulseSteps.notFired(
            plan, "the ledger cannot be written: " + view.ledger().fault().get());
      }
      if (view.ledger().durableTo() >= plan.intentNumber()) {
        return PulseSteps.to(plan.prepare(view.nowNs()), plan.preparing(), true);
      }
      if (view.nowNs() - sinceNs > plan.limits().ledgerWaitNs()) {
        return PulseSteps.notFired(plan, "the intent was not on disk in time");
      }
      return PulseSteps.to(this, Outputs.ALL_LOW, false);
    }
  }

  /** Waits for the single-use token. */
  record AwaitToken(PulsePlan plan, long sinceNs) implements Common {
    @Override
    public ActStep step(View view) {
      for (ReceivedFrame received : view.frames()) {
        if (received.frame() instanceof HeadFrame.TokenGrant grant
            && grant.intentNumber() == plan.intentNumber()) {
          return PulseSteps.to(new Meet(plan, grant.token(), view.nowNs()), plan.holding(), true);
        }
        if (PulseSteps.refused(received, plan)) {
          return PulseSteps.notFired(plan, "the head gave no token");
        }
      }
      if (view.nowNs() - sinceNs > plan.limits().reportWaitNs()) {
        return PulseSteps.notFired(plan, "the head did not answer the request for a token");
      }
      return PulseSteps.to(this, plan.holding(), true);
    }
  }

  /** Asks for the window so that it opens as the bank meets the asked voltage. */
  record Meet(PulsePlan plan, int token, long sinceNs) implements Common {

    /** From asking to the closed switch: the head's step, its next status line, one scan. */
    private static final double WINDOW_LEAD_SECONDS = 0.020;

    @Override
    public ActStep step(View view) {
      if (view.nowNs() - sinceNs > plan.limits().reportWaitNs()) {
        return PulseSteps.notFired(plan, "the token grew too old");
      }
      if (plan.secondsToMeet(view) > WINDOW_LEAD_SECONDS) {
        return PulseSteps.to(this, plan.holding(), true);
      }
      HeadRequest open =
          new HeadRequest.OpenWindow(token, plan.intentNumber(), plan.highestMilliVolts());
      return new ActStep(
          new AwaitWindow(plan, token, view.nowNs()), plan.holding(), true, List.of(open));
    }
  }

  /** Waits until the head shows the window open. */
  record AwaitWindow(PulsePlan plan, int token, long sinceNs) implements Common {
    @Override
    public ActStep step(View view) {
      for (ReceivedFrame received : view.frames()) {
        if (PulseSteps.refused(received, plan)) {
          return PulseSteps.notFired(plan, "the head refused the fire window");
        }
      }
      if (PulseSteps.freshStatus(view) && PulseSteps.has(view, HeadFlag.WINDOW)) {
        Outputs fire = plan.holding().and(OutputLine.COIL_FIRE);
        return PulseSteps.to(new Fire(plan, token, view.nowNs(), 0), fire, true);
      }
      if (view.nowNs() - sinceNs > plan.limits().windowWaitNs()) {
        return PulseSteps.notFired(plan, "the fire window did not open");
      }
      return PulseSteps.to(this, plan.holding(), true);
    }
  }

  /**
   * Holds the gate until the pulse is over.
   *
   * @param drivenSinceNs when the gate was first read back high; 0 while it has not been
   */
  record Fire(PulsePlan plan, int token, long sinceNs, long drivenSinceNs) implements Common {
    @Override
    public ActStep step(View view) {
      long driven = drivenSinceNs;
      if (driven == 0 && view.driven().isHigh(OutputLine.COIL_FIRE)) {
        driven = view.nowNs();
      }
      if (driven == 0 && view.nowNs() - sinceNs > plan.limits().windowWaitNs()) {
        return PulseSteps.notFired(plan, "the gate was not allowed in time");
      }
      Optional<HeadFrame.PulseReport> report = PulseSteps.reportIn(view, plan.intentNumber());
      if (report.isPresent()) {
        return PulseSteps.ended(plan, token, report.get());
      }
      if (driven != 0 && view.nowNs() - driven >= plan.fireForNs()) {
        return PulseSteps.after(new AwaitReport(plan, token, view.nowNs(), false), view, List.of());
      }
      Outputs fire = plan.holding().and(OutputLine.COIL_FIRE);
      return PulseSteps.to(new Fire(plan, token, sinceNs, driven), fire, true);
    }

    /**
     * {@inheritDoc} The gate was asked for in the very scan that led here, so it may have been high
     * before anybody read it back: only the head can say that it was not.
     */
    @Override
    public ActResult cut(String why) {
      return new PulseResult(plan, Outcome.UNVERIFIED, token, Optional.empty(), why);
    }
  }

  /** The gate is closed and the bank bled; waits for the report, and asks once for a lost one. */
  record AwaitReport(PulsePlan plan, int token, long sinceNs, boolean asked) implements Common {
    @Override
    public ActStep step(View view) {
      Optional<HeadFrame.PulseReport> report = PulseSteps.reportIn(view, plan.intentNumber());
      if (report.isPresent()) {
        return PulseSteps.ended(plan, token, report.get());
      }
      if (view.nowNs() - sinceNs <= plan.limits().reportWaitNs()) {
        return PulseSteps.after(this, view, List.of());
      }
      if (asked) {
        PulseResult result =
            new PulseResult(
                plan, Outcome.UNVERIFIED, token, Optional.empty(), "the head sent no pulse report");
        return PulseSteps.to(new Ended(plan, result), plan.relays(), false);
      }
      return PulseSteps.after(
          new AwaitReport(plan, token, view.nowNs(), true),
          view,
          List.of(new HeadRequest.AskPulse(plan.intentNumber())));
    }

    @Override
    public ActResult cut(String why) {
      return new PulseResult(plan, Outcome.UNVERIFIED, token, Optional.empty(), why);
    }
  }

  /**
   * Over; the relays stay where they are until the bank has bled.
   *
   * @param keep those relays
   */
  record Ended(PulsePlan plan, PulseResult ended, Outputs keep) implements Common {

    /** With the pulse's own relays. */
    Ended(PulsePlan plan, PulseResult ended) {
      this(plan, ended, plan.relays());
    }

    @Override
    public ActStep step(View view) {
      return PulseSteps.to(this, keep, false);
    }

    @Override
    public Outputs resting() {
      return keep;
    }

    @Override
    public Optional<ActResult> result() {
      return Optional.of(ended);
    }

    @Override
    public ActResult cut(String why) {
      return ended;
    }
  }
}
