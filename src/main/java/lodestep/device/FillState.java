package lodestep.device;

import java.util.List;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadRequest;

/**
 * What a shot of the bank needs before its token: relays set dry, bleed contact opened, bank filled
 * a little above the asked voltage, fill relay opened, the bleeder lets it fall. The bank is let go
 * the moment the gate closes.
 */
public sealed interface FillState extends PulseState {

  /** From the last status line to the open contact: line age, scan and relay release. */
  double RELEASE_SECONDS = 0.015;

  /** From one status line to the next. */
  double LINE_SECONDS = 0.010;

  @Override
  ShotPlan plan();

  /** Rise of the bank in millivolts a second, anew with each line after the first. */
  static double rate(View view, int lastMilliVolts, double before) {
    return PulseSteps.freshStatus(view) && lastMilliVolts > 0
        ? Math.max(0, (PulseSteps.bankMilliVolts(view) - lastMilliVolts) / LINE_SECONDS)
        : before;
  }

  /**
   * Once the bank is proven, sets changeover and range relay dry and waits until they have been in
   * place long enough.
   */
  record SetRelays(ShotPlan plan, long sinceNs, long inPlaceSinceNs) implements FillState {
    @Override
    public ActStep step(View view) {
      if (!view.bankProven()) {
        return ProveState.begin(plan, view);
      }
      long inPlaceSince =
          PulseSteps.relaysInPlace(plan.relays(), view) ? inPlaceSinceNs : view.nowNs();
      boolean settled = view.nowNs() - inPlaceSince >= plan.limits().relaySettleNs();
      if (settled && PulseSteps.has(view, HeadFlag.PERMIT)) {
        return PulseSteps.to(new OpenBleed(plan, view.nowNs()), plan.holding(), true);
      }
      // Changing them may have to wait for the bank to bleed to its low level first.
      if (view.nowNs() - sinceNs > plan.limits().bankHeldNs()) {
        return PulseSteps.notFired(plan, "relays or permit were not in place in time");
      }
      return PulseSteps.to(new SetRelays(plan, sinceNs, inPlaceSince), plan.relays(), true);
    }
  }

  /** Opens the bleed contact before filling, so that supply and bleed path never meet. */
  record OpenBleed(ShotPlan plan, long sinceNs) implements FillState {
    @Override
    public ActStep step(View view) {
      if (!view.contacts().closed(InputLine.BLEED_CONTACT)) {
        return PulseSteps.to(new Fill(plan, view.nowNs(), 0, 0), filling(), true);
      }
      if (view.nowNs() - sinceNs > plan.limits().bankHeldNs()) {
        return PulseSteps.notFired(plan, "the bleed contact did not open");
      }
      return PulseSteps.to(this, plan.holding(), true);
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
      implements FillState {

    @Override
    public ActStep step(View view) {
      int now = PulseSteps.bankMilliVolts(view);
      double rate = rate(view, lastMilliVolts, milliVoltsPerSecond);
      if (now + rate * RELEASE_SECONDS >= aboveAsked(plan)) {
        return PulseSteps.to(new FillOpens(plan, view.nowNs()), plan.holding(), true);
      }
      if (view.nowNs() - sinceNs > plan.limits().bankHeldNs()) {
        return PulseSteps.notFired(plan, "the bank did not reach the asked voltage");
      }
      int last = PulseSteps.freshStatus(view) ? now : lastMilliVolts;
      return PulseSteps.to(
          new Fill(plan, sinceNs, last, rate), plan.holding().and(OutputLine.BANK_FILL), true);
    }

    private static double aboveAsked(ShotPlan plan) {
      double margin = Math.max(20, plan.pulse().asked().milliVolts() * 0.004);
      return plan.pulse().asked().milliVolts() + margin;
    }
  }

  /** Waits until the fill relay's mirror contact shows it open; tops up if the bank fell short. */
  record FillOpens(ShotPlan plan, long sinceNs) implements FillState {

    private static final long STEADY_NS = 30_000_000L;

    @Override
    public ActStep step(View view) {
      boolean open = view.contacts().closed(InputLine.FILL_CONTACT);
      if (open && view.nowNs() - sinceNs >= STEADY_NS && PulseSteps.freshStatus(view)) {
        if (PulseSteps.bankMilliVolts(view) < plan.pulse().asked().milliVolts()) {
          Outputs filling = plan.holding().and(OutputLine.BANK_FILL);
          return PulseSteps.to(new Fill(plan, view.nowNs(), 0, 0), filling, true);
        }
        return PulseSteps.to(new Fall(plan, view.nowNs()), plan.holding(), true);
      }
      return PulseSteps.to(this, plan.holding(), true);
    }
  }

  /**
   * Lets the bleeder bring the bank down until the asked voltage is near, then asks for a token.
   */
  record Fall(ShotPlan plan, long sinceNs) implements FillState {

    /** Well inside the token's 500 ms. */
    private static final double TOKEN_LEAD_SECONDS = 0.25;

    @Override
    public ActStep step(View view) {
      if (view.nowNs() - sinceNs > plan.limits().bankHeldNs()) {
        return PulseSteps.notFired(plan, "the bank did not fall to the asked voltage in time");
      }
      if (plan.secondsToMeet(view) > TOKEN_LEAD_SECONDS) {
        return PulseSteps.to(this, plan.holding(), true);
      }
      return new ActStep(
          new PulseState.AwaitToken(plan, view.nowNs()),
          plan.holding(),
          true,
          List.of(new HeadRequest.AskToken(plan.intentNumber())));
    }
  }
}
