package lodestep.device;

import java.util.List;
import java.util.Optional;
import lodestep.port.InputLine;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;

/**
 * One shot of the pulse coil, from the durable intent to the head's report. Pure and total.
 *
 * <p>Order: intent durable, relays set dry, bleed contact opened, bank filled a little above the
 * asked voltage, fill relay opened, bleeder lets it fall, token, fire window as the measured
 * voltage meets the asked one, gate, report. The bank is let go the moment the gate closes.
 */
public sealed interface ShotState extends Act {

  /** What does not change during the shot. */
  ShotPlan plan();

  /** Begins a shot whose intent has just been handed to the ledger. */
  static ShotState begin(ShotPlan plan, long nowNs) {
    return new AwaitIntent(plan, nowNs);
  }

  @Override
  default LedgerEvent.Intent intent() {
    return plan().intent();
  }

  @Override
  default Optional<ActResult> result() {
    return Optional.empty();
  }

  /** "Not fired" unless the gate was driven, and then "unverified" until a report is found. */
  @Override
  default ActResult cut(String why) {
    return new ShotResult(plan(), Outcome.NOT_FIRED, 0, Optional.empty(), why);
  }

  @Override
  default Optional<ActResult> reported(View view) {
    return ShotSteps.reportIn(view, plan().intentNumber())
        .map(report -> ShotSteps.judge(plan(), report.token(), report));
  }

  @Override
  default Outputs resting() {
    return plan().relays();
  }

  /** Waits until the intent is on disk; nothing is energised before. */
  record AwaitIntent(ShotPlan plan, long sinceNs) implements ShotState {
    @Override
    public ActStep step(View view) {
      if (view.ledger().fault().isPresent()) {
        return ShotSteps.notFired(
            plan, "the ledger cannot be written: " + view.ledger().fault().get());
      }
      if (view.ledger().durableTo() >= plan.intentNumber()) {
        return ShotSteps.to(new SetRelays(plan, view.nowNs(), view.nowNs()), plan.relays(), true);
      }
      if (view.nowNs() - sinceNs > plan.limits().ledgerWaitNs()) {
        return ShotSteps.notFired(plan, "the intent was not on disk in time");
      }
      return ShotSteps.to(this, Outputs.ALL_LOW, false);
    }
  }

  /** Sets changeover and range relay dry and waits until they have been in place long enough. */
  record SetRelays(ShotPlan plan, long sinceNs, long inPlaceSinceNs) implements ShotState {
    @Override
    public ActStep step(View view) {
      long inPlaceSince = ShotSteps.relaysInPlace(plan, view) ? inPlaceSinceNs : view.nowNs();
      boolean settled = view.nowNs() - inPlaceSince >= plan.limits().relaySettleNs();
      if (settled && ShotSteps.has(view, HeadFlag.PERMIT)) {
        return ShotSteps.to(new OpenBleed(plan, view.nowNs()), plan.holding(), true);
      }
      // Changing them may have to wait for the bank to bleed to its low level first.
      if (view.nowNs() - sinceNs > plan.limits().bankHeldNs()) {
        return ShotSteps.notFired(plan, "relays or permit were not in place in time");
      }
      return ShotSteps.to(new SetRelays(plan, sinceNs, inPlaceSince), plan.relays(), true);
    }
  }

  /** Opens the bleed contact before filling, so that supply and bleed path never meet. */
  record OpenBleed(ShotPlan plan, long sinceNs) implements ShotState {
    @Override
    public ActStep step(View view) {
      if (!view.contacts().closed(InputLine.BLEED_CONTACT)) {
        return ShotSteps.to(new Fill(plan, view.nowNs(), 0, 0), filling(), true);
      }
      if (view.nowNs() - sinceNs > plan.limits().bankHeldNs()) {
        return ShotSteps.notFired(plan, "the bleed contact did not open");
      }
      return ShotSteps.to(this, plan.holding(), true);
    }

    private Outputs filling() {
      return plan.holding().and(OutputLine.BANK_FILL);
    }
  }

  /**
   * Fills until the bank will stand a little above the asked voltage once the relay has let go.
   *
   * @param lastMilliVolts bank at the last status line, 0 before the first
   * @param milliVoltsPerSecond rise seen between the last two lines
   */
  record Fill(ShotPlan plan, long sinceNs, int lastMilliVolts, double milliVoltsPerSecond)
      implements ShotState {

    /** From the last status line to the open contact: line age, scan and relay release. */
    private static final double RELEASE_SECONDS = 0.015;

    private static final double LINE_SECONDS = 0.010;

    @Override
    public ActStep step(View view) {
      int now = ShotSteps.bankMilliVolts(view);
      double rate = milliVoltsPerSecond;
      if (ShotSteps.freshStatus(view) && lastMilliVolts > 0) {
        rate = Math.max(0, (now - lastMilliVolts) / LINE_SECONDS);
      }
      if (now + rate * RELEASE_SECONDS >= aboveAsked(plan)) {
        return ShotSteps.to(new FillOpens(plan, view.nowNs()), plan.holding(), true);
      }
      if (view.nowNs() - sinceNs > plan.limits().bankHeldNs()) {
        return ShotSteps.notFired(plan, "the bank did not reach the asked voltage");
      }
      int last = ShotSteps.freshStatus(view) ? now : lastMilliVolts;
      return ShotSteps.to(
          new Fill(plan, sinceNs, last, rate), plan.holding().and(OutputLine.BANK_FILL), true);
    }

    private static double aboveAsked(ShotPlan plan) {
      double margin = Math.max(20, plan.pulse().asked().milliVolts() * 0.004);
      return plan.pulse().asked().milliVolts() + margin;
    }
  }

  /** Waits until the fill relay's mirror contact shows it open; tops up if the bank fell short. */
  record FillOpens(ShotPlan plan, long sinceNs) implements ShotState {

    private static final long STEADY_NS = 30_000_000L;

    @Override
    public ActStep step(View view) {
      boolean open = view.contacts().closed(InputLine.FILL_CONTACT);
      if (open && view.nowNs() - sinceNs >= STEADY_NS && ShotSteps.freshStatus(view)) {
        if (ShotSteps.bankMilliVolts(view) < plan.pulse().asked().milliVolts()) {
          Outputs filling = plan.holding().and(OutputLine.BANK_FILL);
          return ShotSteps.to(new Fill(plan, view.nowNs(), 0, 0), filling, true);
        }
        return ShotSteps.to(new Fall(plan, view.nowNs()), plan.holding(), true);
      }
      return ShotSteps.to(this, plan.holding(), true);
    }
  }

  /**
   * Lets the bleeder bring the bank down until the asked voltage is near, then asks for a token.
   */
  record Fall(ShotPlan plan, long sinceNs) implements ShotState {

    /** Well inside the token's 500 ms. */
    private static final double TOKEN_LEAD_SECONDS = 0.25;

    @Override
    public ActStep step(View view) {
      if (view.nowNs() - sinceNs > plan.limits().bankHeldNs()) {
        return ShotSteps.notFired(plan, "the bank did not fall to the asked voltage in time");
      }
      if (ShotSteps.secondsToAsked(plan, view) > TOKEN_LEAD_SECONDS) {
        return ShotSteps.to(this, plan.holding(), true);
      }
      return new ActStep(
          new AwaitToken(plan, view.nowNs()),
          plan.holding(),
          true,
          List.of(new HeadRequest.AskToken(plan.intentNumber())));
    }
  }

  /** Waits for the single-use token. */
  record AwaitToken(ShotPlan plan, long sinceNs) implements ShotState {
    @Override
    public ActStep step(View view) {
      for (ReceivedFrame received : view.frames()) {
        if (received.frame() instanceof HeadFrame.TokenGrant grant
            && grant.intentNumber() == plan.intentNumber()) {
          return ShotSteps.to(new Meet(plan, grant.token(), view.nowNs()), plan.holding(), true);
        }
        if (ShotSteps.refused(received, plan)) {
          return ShotSteps.notFired(plan, "the head gave no token");
        }
      }
      if (view.nowNs() - sinceNs > plan.limits().reportWaitNs()) {
        return ShotSteps.notFired(plan, "the head did not answer the request for a token");
      }
      return ShotSteps.to(this, plan.holding(), true);
    }
  }

  /** Asks for the window so that it opens as the bank meets the asked voltage. */
  record Meet(ShotPlan plan, int token, long sinceNs) implements ShotState {

    /** From asking to the closed switch: the head's step, its next status line, one scan. */
    private static final double WINDOW_LEAD_SECONDS = 0.020;

    @Override
    public ActStep step(View view) {
      if (view.nowNs() - sinceNs > plan.limits().reportWaitNs()) {
        return ShotSteps.notFired(plan, "the token grew too old");
      }
      if (ShotSteps.secondsToAsked(plan, view) > WINDOW_LEAD_SECONDS) {
        return ShotSteps.to(this, plan.holding(), true);
      }
      HeadRequest open =
          new HeadRequest.OpenWindow(
              token, plan.intentNumber(), plan.pulse().highest().milliVolts());
      return new ActStep(
          new AwaitWindow(plan, token, view.nowNs()), plan.holding(), true, List.of(open));
    }
  }

  /** Waits until the head shows the window open. */
  record AwaitWindow(ShotPlan plan, int token, long sinceNs) implements ShotState {
    @Override
    public ActStep step(View view) {
      for (ReceivedFrame received : view.frames()) {
        if (ShotSteps.refused(received, plan)) {
          return ShotSteps.notFired(plan, "the head refused the fire window");
        }
      }
      if (ShotSteps.freshStatus(view) && ShotSteps.has(view, HeadFlag.WINDOW)) {
        Outputs fire = plan.holding().and(OutputLine.COIL_FIRE);
        return ShotSteps.to(new Fire(plan, token, view.nowNs(), 0), fire, true);
      }
      if (view.nowNs() - sinceNs > plan.limits().windowWaitNs()) {
        return ShotSteps.notFired(plan, "the fire window did not open");
      }
      return ShotSteps.to(this, plan.holding(), true);
    }
  }

  /**
   * Holds the gate until the pulse is over.
   *
   * @param drivenSinceNs when the gate was first read back high; 0 while it has not been
   */
  record Fire(ShotPlan plan, int token, long sinceNs, long drivenSinceNs) implements ShotState {
    @Override
    public ActStep step(View view) {
      long driven = drivenSinceNs;
      if (driven == 0 && view.driven().isHigh(OutputLine.COIL_FIRE)) {
        driven = view.nowNs();
      }
      if (driven == 0 && view.nowNs() - sinceNs > plan.limits().windowWaitNs()) {
        return ShotSteps.notFired(plan, "the gate was not allowed in time");
      }
      Optional<HeadFrame.PulseReport> report = ShotSteps.reportIn(view, plan.intentNumber());
      if (report.isPresent()) {
        return ShotSteps.ended(plan, token, report.get());
      }
      if (driven != 0 && view.nowNs() - driven >= plan.limits().fireForNs()) {
        return ShotSteps.to(
            new AwaitReport(plan, token, view.nowNs(), false), plan.relays(), false);
      }
      Outputs fire = plan.holding().and(OutputLine.COIL_FIRE);
      return ShotSteps.to(new Fire(plan, token, sinceNs, driven), fire, true);
    }

    /**
     * The gate was asked for in the scan that began this state, and whoever cuts it short now has
     * not read back what became of that: the pulse may have been fired.
     */
    @Override
    public ActResult cut(String why) {
      return new ShotResult(plan, Outcome.UNVERIFIED, token, Optional.empty(), why);
    }
  }

  /** The gate is closed and the bank bled; waits for the report, and asks once for a lost one. */
  record AwaitReport(ShotPlan plan, int token, long sinceNs, boolean asked) implements ShotState {
    @Override
    public ActStep step(View view) {
      Optional<HeadFrame.PulseReport> report = ShotSteps.reportIn(view, plan.intentNumber());
      if (report.isPresent()) {
        return ShotSteps.ended(plan, token, report.get());
      }
      if (view.nowNs() - sinceNs <= plan.limits().reportWaitNs()) {
        return ShotSteps.to(this, plan.relays(), false);
      }
      if (asked) {
        ShotResult result =
            new ShotResult(
                plan, Outcome.UNVERIFIED, token, Optional.empty(), "the head sent no pulse report");
        return ShotSteps.to(new Ended(plan, result), plan.relays(), false);
      }
      return new ActStep(
          new AwaitReport(plan, token, view.nowNs(), true),
          plan.relays(),
          false,
          List.of(new HeadRequest.AskPulse(plan.intentNumber())));
    }

    @Override
    public ActResult cut(String why) {
      return new ShotResult(plan, Outcome.UNVERIFIED, token, Optional.empty(), why);
    }
  }

  /** Over; the relays stay where they are until the bank has bled. */
  record Ended(ShotPlan plan, ShotResult ended) implements ShotState {
    @Override
    public ActStep step(View view) {
      return ShotSteps.to(this, plan.relays(), false);
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
