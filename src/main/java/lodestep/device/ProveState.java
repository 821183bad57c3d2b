package lodestep.device;

import java.util.Optional;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;

/**
 * Gives the interlocks what they must see before a bank may be filled for a pulse: with the relays
 * as for a charge it is filled a little, held with the fill relay let go, and bled. Whether that
 * proves anything is theirs to say; what breaks in it trips with its own cause. A healthy rig lets
 * no current through the coil, so the magnet in the nest is not touched.
 */
public sealed interface ProveState extends PulseState {

  /** Well below the low level, so that a fill relay which welds now is cut before it gets there. */
  int FILL_TO_MILLI_VOLTS = 6_000;

  /** What may be left in the bank when the proof begins. */
  int EMPTY_MILLI_VOLTS = 2_000;

  /** Release of the fill relay, and twice what the interlocks want to see. */
  long HOLD_NS = 150_000_000L;

  @Override
  ShotPlan plan();

  @Override
  default Optional<String> aside() {
    return Optional.of("proving fill contact, switch and bleed with the bank almost empty");
  }

  /** Begins a proof. */
  static ActStep begin(ShotPlan plan, View view) {
    return PulseSteps.to(new SetPath(plan, view.nowNs(), view.nowNs()), plan.proving(), true);
  }

  /** The interlocks have not seen what they must. */
  private static ActStep unproven(ShotPlan plan, String why) {
    return PulseSteps.notFired(plan, "fill contact, switch and bleed could not be proven: " + why);
  }

  private static boolean late(ShotPlan plan, long sinceNs, View view) {
    return view.nowNs() - sinceNs > plan.limits().bankHeldNs();
  }

  /** Sets the relays as for a charge, dry, and lets the bank run empty. */
  record SetPath(ShotPlan plan, long sinceNs, long inPlaceSinceNs) implements ProveState {
    @Override
    public ActStep step(View view) {
      boolean ready =
          PulseSteps.relaysInPlace(plan.proving(), view)
              && PulseSteps.bankMilliVolts(view) <= EMPTY_MILLI_VOLTS;
      long since = ready ? inPlaceSinceNs : view.nowNs();
      boolean settled = view.nowNs() - since >= plan.limits().relaySettleNs();
      if (settled && PulseSteps.has(view, HeadFlag.PERMIT)) {
        return PulseSteps.to(new OpenBleed(plan, view.nowNs()), holding(plan), true);
      }
      if (late(plan, sinceNs, view)) {
        return unproven(plan, "relays, permit or an empty bank were not there in time");
      }
      return PulseSteps.to(new SetPath(plan, sinceNs, since), plan.proving(), true);
    }
  }

  private static Outputs holding(ShotPlan plan) {
    return plan.proving().and(OutputLine.BANK_HOLD);
  }

  /** Opens the bleed contact. */
  record OpenBleed(ShotPlan plan, long sinceNs) implements ProveState {
    @Override
    public ActStep step(View view) {
      if (!view.contacts().closed(InputLine.BLEED_CONTACT)) {
        Outputs filling = holding(plan).and(OutputLine.BANK_FILL);
        return PulseSteps.to(new FillLittle(plan, view.nowNs(), 0, 0), filling, true);
      }
      return late(plan, sinceNs, view)
          ? unproven(plan, "the bleed contact did not open")
          : PulseSteps.to(this, holding(plan), true);
    }
  }

  /**
   * Fills to {@link #FILL_TO_MILLI_VOLTS}.
   *
   * @param lastMilliVolts bank at the last status line, 0 before the first
   * @param milliVoltsPerSecond rise seen between the last two lines
   */
  record FillLittle(ShotPlan plan, long sinceNs, int lastMilliVolts, double milliVoltsPerSecond)
      implements ProveState {
    @Override
    public ActStep step(View view) {
      int now = PulseSteps.bankMilliVolts(view);
      double rate = FillState.rate(view, lastMilliVolts, milliVoltsPerSecond);
      if (now + rate * FillState.RELEASE_SECONDS >= FILL_TO_MILLI_VOLTS) {
        return PulseSteps.to(new Stand(plan, view.nowNs()), holding(plan), true);
      }
      if (late(plan, sinceNs, view)) {
        return unproven(plan, "the bank was not filled");
      }
      int last = PulseSteps.freshStatus(view) ? now : lastMilliVolts;
      return PulseSteps.to(
          new FillLittle(plan, sinceNs, last, rate), holding(plan).and(OutputLine.BANK_FILL), true);
    }
  }

  /** Holds the bank with the fill relay let go: nothing may flow. */
  record Stand(ShotPlan plan, long sinceNs) implements ProveState {
    @Override
    public ActStep step(View view) {
      boolean open = view.contacts().closed(InputLine.FILL_CONTACT);
      if (open && view.nowNs() - sinceNs >= HOLD_NS) {
        return PulseSteps.to(new Bleed(plan, view.nowNs()), plan.proving(), true);
      }
      return late(plan, sinceNs, view)
          ? unproven(plan, "the fill contact did not open")
          : PulseSteps.to(this, holding(plan), true);
    }
  }

  /** Lets the bank bleed; once the interlocks have seen all of it, the pulse is prepared. */
  record Bleed(ShotPlan plan, long sinceNs) implements ProveState {
    @Override
    public ActStep step(View view) {
      if (view.bankProven()) {
        return PulseSteps.to(
            new FillState.SetRelays(plan, view.nowNs(), view.nowNs()), plan.relays(), true);
      }
      return view.nowNs() - sinceNs > plan.limits().ledgerWaitNs()
          ? unproven(plan, "not all of it was seen in time")
          : PulseSteps.to(this, plan.proving(), true);
    }
  }
}
