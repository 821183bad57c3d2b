package lodestep.device;

import java.util.List;
import java.util.Optional;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadRequest;

/**
 * What a pulse of a switched coil needs before its token. Nothing but the switch ends such a pulse,
 * so the switch is proven first: with the ladder at a low level the feed is put on, and the coil
 * must stay dead. Then the feed is let go, relays and ladder are set dry to the pulse's level, and
 * the feed is put on again.
 */
public sealed interface FeedState extends PulseState {

  /** A shorted switch would show in this time: several status lines. */
  long PROOF_NS = 60_000_000L;

  /** Current that a shorted switch lets through has long risen by then: many times L over R. */
  long RISEN_NS = 30_000_000L;

  /** Operate and bounce of a small relay, with margin. */
  long FEED_STEADY_NS = 40_000_000L;

  /** Why nothing will be fired. */
  enum Lack {
    /** The pulse goes on. */
    NONE("the feed did not die away"),
    BLOCKING("the coil carried current with its switch open"),
    FEED_RELAY("the feed relay did not operate"),
    UNSEEN("no line of the head showed the coil dead with the feed on"),
    SUPPLY("the supply is off or too weak");

    private final String words;

    Lack(String words) {
      this.words = words;
    }

    /** As it stands in the record; of a pulse that goes on, what then hinders it. */
    String words() {
      return words;
    }
  }

  @Override
  SwitchedPlan plan();

  /** Whether the feed relay is driven, and its mirror contact says so. */
  private static boolean operated(View view) {
    return view.driven().isHigh(OutputLine.COIL_ON)
        && !view.contacts().closed(InputLine.BLEED_CONTACT);
  }

  /** Since when something holds that holds now, or 0. */
  private static long since(boolean now, long sinceNs, View view) {
    return !now ? 0 : sinceNs == 0 ? view.nowNs() : sinceNs;
  }

  /** Sets changeover and the ladder's low level dry. */
  record SetProof(SwitchedPlan plan, long sinceNs, long inPlaceSinceNs) implements FeedState {
    @Override
    public ActStep step(View view) {
      Outputs relays = plan.preparing();
      long since = PulseSteps.relaysInPlace(relays, view) ? inPlaceSinceNs : view.nowNs();
      boolean settled = view.nowNs() - since >= plan.limits().relaySettleNs();
      if (settled && PulseSteps.has(view, HeadFlag.PERMIT)) {
        return PulseSteps.to(
            new Prove(plan, view.nowNs(), 0), relays.and(OutputLine.COIL_ON), true);
      }
      if (view.nowNs() - sinceNs > plan.limits().bankHeldNs()) {
        return PulseSteps.notFired(plan, "relays or permit were not in place in time");
      }
      return PulseSteps.to(new SetProof(plan, sinceNs, since), relays, true);
    }
  }

  /**
   * Feed on, gate low: the coil must carry nothing, and the head must have said so since. A head
   * that is silent for some lines proves nothing, and is missed only later.
   *
   * @param onSinceNs since when the feed relay has been driven and seen to have operated; 0 while
   *     it is not. The interlocks may withdraw it for some scans without a trip.
   */
  record Prove(SwitchedPlan plan, long sinceNs, long onSinceNs) implements FeedState {
    @Override
    public ActStep step(View view) {
      long onSince = since(operated(view), onSinceNs, view);
      if (PulseSteps.coilCarries(plan, view)) {
        return LetGo.givingUp(plan, view, plan.preparing(), Lack.BLOCKING);
      }
      boolean shown = onSince != 0 && PulseSteps.lineSince(onSince + RISEN_NS, view);
      if (shown && view.nowNs() - onSince >= PROOF_NS) {
        return PulseSteps.to(new LetGo(plan, view.nowNs()), plan.preparing(), true);
      }
      if (view.nowNs() - sinceNs > plan.limits().reportWaitNs()) {
        Lack lack = onSince == 0 ? Lack.FEED_RELAY : Lack.UNSEEN;
        return LetGo.givingUp(plan, view, plan.preparing(), lack);
      }
      return PulseSteps.to(
          new Prove(plan, sinceNs, onSince), plan.preparing().and(OutputLine.COIL_ON), true);
    }

    @Override
    public Outputs resting() {
      return plan.preparing();
    }
  }

  /**
   * Feed off until its relay is seen released and it reads low: relays may move only then.
   *
   * @param offSinceNs since when its contact has said that it is released; 0 while it does not. A
   *     supply that has broken down reads low before that, and the relay still bounces after it.
   * @param keep relays as they stand
   * @param lack why nothing will be fired, if so
   */
  record LetGo(SwitchedPlan plan, long sinceNs, long offSinceNs, Outputs keep, Lack lack)
      implements FeedState {

    LetGo(SwitchedPlan plan, long sinceNs) {
      this(plan, sinceNs, 0, plan.preparing(), Lack.NONE);
    }

    static ActStep givingUp(SwitchedPlan plan, View view, Outputs keep, Lack lack) {
      return PulseSteps.to(new LetGo(plan, view.nowNs(), 0, keep, lack), keep, true);
    }

    @Override
    public ActStep step(View view) {
      boolean off = view.contacts().closed(InputLine.BLEED_CONTACT);
      long offSince = since(off, offSinceNs, view);
      boolean low =
          off
              && view.nowNs() - offSince >= FEED_STEADY_NS
              && PulseSteps.freshStatus(view)
              && PulseSteps.bankMilliVolts(view) <= plan.limits().bankLow().milliVolts();
      if (low && lack == Lack.NONE) {
        return PulseSteps.to(new SetLevel(plan, view.nowNs(), view.nowNs()), plan.relays(), true);
      }
      if (low || view.nowNs() - sinceNs > plan.limits().ledgerWaitNs()) {
        PulseResult none =
            new PulseResult(plan, Outcome.NOT_FIRED, 0, Optional.empty(), lack.words());
        return PulseSteps.to(new PulseState.Ended(plan, none, keep), keep, false);
      }
      return PulseSteps.to(new LetGo(plan, sinceNs, offSince, keep, lack), keep, true);
    }

    @Override
    public Outputs resting() {
      return keep;
    }
  }

  /** Sets the pulse's level dry. */
  record SetLevel(SwitchedPlan plan, long sinceNs, long inPlaceSinceNs) implements FeedState {
    @Override
    public ActStep step(View view) {
      long since = PulseSteps.relaysInPlace(plan.relays(), view) ? inPlaceSinceNs : view.nowNs();
      if (view.nowNs() - since >= plan.limits().relaySettleNs()) {
        return PulseSteps.to(new FeedOn(plan, view.nowNs(), view.nowNs()), plan.holding(), true);
      }
      if (view.nowNs() - sinceNs > plan.limits().ledgerWaitNs()) {
        return PulseSteps.notFired(plan, "the relays were not in place in time");
      }
      return PulseSteps.to(new SetLevel(plan, sinceNs, since), plan.relays(), true);
    }
  }

  /** Feed on at the pulse's level; asks for a token when it stands. */
  record FeedOn(SwitchedPlan plan, long sinceNs, long steadySinceNs) implements FeedState {

    /** Below this part of its voltage the supply is off, or its relay does not pass. */
    private static final double LEAST_FRACTION = 0.5;

    @Override
    public ActStep step(View view) {
      boolean up =
          operated(view)
              && PulseSteps.bankMilliVolts(view)
                  >= LEAST_FRACTION * plan.supply().voltage().milliVolts();
      long steady = up ? steadySinceNs : view.nowNs();
      if (view.nowNs() - steady >= FEED_STEADY_NS) {
        return new ActStep(
            new PulseState.AwaitToken(plan, view.nowNs()),
            plan.holding(),
            true,
            List.of(new HeadRequest.AskToken(plan.intentNumber())));
      }
      if (view.nowNs() - sinceNs > plan.limits().reportWaitNs()) {
        return LetGo.givingUp(plan, view, plan.relays(), Lack.SUPPLY);
      }
      return PulseSteps.to(new FeedOn(plan, sinceNs, steady), plan.holding(), true);
    }
  }
}
