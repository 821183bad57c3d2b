package lodestep.dial;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.device.Act;
import lodestep.device.ActResult;
import lodestep.device.ActStep;
import lodestep.device.Outcome;
import lodestep.dial.Move.Finish;
import lodestep.dial.Move.Fire;
import lodestep.measure.SettledReading;
import lodestep.measure.Settling;
import lodestep.port.ActEvent;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.LedgerEvent;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;

/**
 * Dialing one magnet, from seated and released by the pedal to its verdict: settle and read, ask
 * the planner, intent, act, settle and read again. Pure and total.
 */
public sealed interface DialState
    permits DialState.Settle,
        DialState.AwaitMove,
        DialState.Rest,
        ChargeByHand,
        DialState.Acting,
        DialState.Finished,
        DialState.Halted,
        LetEvenOut,
        LetRest {

  /** What follows from this view. */
  DialStep step(View view);

  /** The attempt as it stands. */
  Dial dial();

  /** One short sentence: what happens now. */
  String sentence();

  /**
   * The entries that close the attempt after a trip: the open act's end, by the head's report if
   * that comes within its time, and the verdict. Empty while the report is still awaited.
   *
   * @param sinceNs when the trip came
   */
  default Optional<List<LedgerEvent>> closing(View view, long sinceNs, String why) {
    return Optional.of(Entries.tripped(dial(), why));
  }

  /**
   * The attempt with what these entries, which close it after a trip, tell of the rig.
   *
   * @param closing as {@link #closing} gave them
   */
  default Dial dial(List<LedgerEvent> closing) {
    return dial();
  }

  /** What is asked of the person at the bench now. */
  default HandCue cue() {
    return HandCue.of(HandAsk.WAIT);
  }

  /** Begins an attempt on the magnet in the nest. */
  static DialState begin(Dial dial, long nowNs) {
    if (dial.work().chargedBeforeSeated()) {
      Fire charge = dial.work().chargeByHand();
      Dial charged =
          dial.with(dial.progress().counting(Purpose.CHARGE))
              .with(dial.progress().counting(Purpose.CHARGE).fired(charge));
      return Settle.after(charged, Entries.stageAfter(Purpose.CHARGE), nowNs);
    }
    String stage = dial.work().again().isPresent() ? "read again" : "as found";
    return Settle.after(dial, stage, nowNs);
  }

  /** Waits for quiet, then until the reading has settled. */
  record Settle(Dial dial, String stage, long sinceNs, long quietSinceNs, Settling settling)
      implements DialState {

    /** Eddies and the gauge's own recovery from clipping are over by then. */
    private static final long QUIET_NS = 100_000_000L;

    /** No bank bleeds and no gauge drifts this long unless something is wrong. */
    private static final long LONGEST_NS = 60_000_000_000L;

    static Settle after(Dial dial, String stage, long nowNs) {
      return new Settle(dial, stage, nowNs, nowNs, Gauge.settling(dial, nowNs));
    }

    @Override
    public DialStep step(View view) {
      if (view.nowNs() - sinceNs > LONGEST_NS) {
        return DialStep.quiet(new Halted(dial, "the gauge did not come to rest"));
      }
      if (!Quiet.is(view, dial.work().limits(), dial.work().knockDown())) {
        return DialStep.quiet(
            new Settle(dial, stage, sinceNs, view.nowNs(), Gauge.settling(dial, view.nowNs())));
      }
      if (view.nowNs() - quietSinceNs < QUIET_NS) {
        return DialStep.quiet(this);
      }
      Settling more = settling;
      for (ReceivedFrame received : view.frames()) {
        if (received.frame() instanceof HeadFrame.Status status) {
          more = more.with(Gauge.tesla(dial, status), received.receivedAtNs());
        }
      }
      Settling now = more;
      return now.outcome()
          .match(
              continues -> DialStep.quiet(new Settle(dial, stage, sinceNs, quietSinceNs, now)),
              settled -> LetEvenOut.orTaken(this, settled.reading(), view),
              unsettled -> DialStep.quiet(new Halted(dial, unsettled.why())));
    }

    Settle with(Dial known) {
      return new Settle(known, stage, sinceNs, quietSinceNs, settling);
    }

    /** The reading goes on record, and the planner is asked what follows. */
    DialStep taken(SettledReading reading, View view) {
      List<LedgerEvent> events = new ArrayList<>();
      if (stage.equals(Entries.stageAfter(Purpose.CHARGE)) && dial.work().charge().isEmpty()) {
        events.add(Entries.chargedByHand(dial, reading));
      }
      events.add(Entries.reading(dial, stage, reading, view));
      Dial known = Learning.afterReading(dial, reading).asked();
      if (dial.work().again().isPresent()) {
        Rereading compared = Entries.rereading(known, reading, view);
        events.add(Entries.reread(known, compared, view.nextNumber() + events.size() - 1));
        return DialStep.quiet(new Finished(known, compared.finish()), events);
      }
      MoveQuestion question =
          new MoveQuestion(
              known.questions(),
              known.work(),
              known.progress(),
              known.memory(),
              known.zero(),
              Gauge.coilTemperature(view));
      return DialStep.asking(new AwaitMove(known, view.nowNs(), sinceNs), events, question);
    }

    @Override
    public String sentence() {
      return "reading the magnet";
    }
  }

  /**
   * Waits for the planner.
   *
   * @param pulsedAtNs when the newest pulse ended, or the attempt began
   */
  record AwaitMove(Dial dial, long sinceNs, long pulsedAtNs) implements DialState {

    private static final long LONGEST_NS = 10_000_000_000L;

    @Override
    public DialStep step(View view) {
      if (view.plan().isPresent()
          && view.plan().get() instanceof MoveAnswer answer
          && answer.number() == dial.questions()) {
        return answer
            .move()
            .match(fire -> Rest.orFire(dial, fire, view), finish -> finish(finish, view));
      }
      if (view.nowNs() - sinceNs > LONGEST_NS) {
        return DialStep.quiet(new Halted(dial, "the planner gave no answer"));
      }
      return DialStep.quiet(this);
    }

    private DialStep finish(Finish finish, View view) {
      if (LetRest.due(dial, finish)) {
        return new LetRest(dial, pulsedAtNs).step(view);
      }
      Finish told = Kept.told(dial, finish);
      return DialStep.quiet(
          new Finished(dial, told), List.of(Entries.verdict(dial, told.verdict(), told.why())));
    }

    @Override
    public String sentence() {
      return "choosing the next pulse";
    }
  }

  /** The coil is warm: the act waits until it has cooled. */
  record Rest(Dial dial, Fire move, long sinceNs) implements DialState {

    static DialStep orFire(Dial dial, Fire move, View view) {
      return due(dial, move, view, false)
          ? DialStep.quiet(new Rest(dial, move, view.nowNs()))
          : fire(dial, move, view);
    }

    @Override
    public DialStep step(View view) {
      if (view.nowNs() - sinceNs > Cooling.LONGEST_NS) {
        return DialStep.quiet(new Halted(dial, "the coil does not cool"));
      }
      return due(dial, move, view, true) ? DialStep.quiet(this) : fire(dial, move, view);
    }

    @Override
    public String sentence() {
      return "letting the coil cool";
    }

    /** A charge by hand warms no coil. */
    private static boolean byHand(Dial dial, Fire move) {
      return move.purpose() == Purpose.CHARGE && dial.work().charge().isEmpty();
    }

    private static boolean due(Dial dial, Fire move, View view, boolean waiting) {
      return !byHand(dial, move)
          && Cooling.due(dial.work().source(move.purpose()), Gauge.coilTemperature(view), waiting);
    }

    private static DialStep fire(Dial dial, Fire move, View view) {
      Dial counted = dial.with(dial.progress().counting(move.purpose()));
      if (byHand(dial, move)) {
        return DialStep.quiet(ChargeByHand.asking(counted, move));
      }
      RigNow now = new RigNow(Gauge.coilTemperature(view), dial.memory());
      Act act =
          dial.work()
              .source(move.purpose())
              .begin(
                  Entries.order(counted, move),
                  view.nextNumber(),
                  now,
                  dial.work().limits(),
                  view.nowNs());
      return DialStep.quiet(new Acting(counted, move, act), List.of(act.intent()));
    }
  }

  /** An act of a field source is under way. */
  record Acting(Dial dial, Fire move, Act act) implements DialState {
    @Override
    public DialStep step(View view) {
      Acting now = new Acting(dial.seen(view), move, act);
      // At its beginning, or by the proof that it has just had: never once it fires.
      Optional<String> worn = now.dial().memory().wear().refusal(view.bankProven());
      return worn.isPresent() ? now.ended(act.cut(worn.get()), view) : now.on(view);
    }

    private DialStep on(View view) {
      ActStep step = act.step(view);
      Optional<ActResult> result = step.next().result();
      if (result.isPresent()) {
        return ended(result.get(), view);
      }
      return new DialStep(
          new Acting(dial, move, step.next()),
          step.wanted(),
          step.permit(),
          List.of(),
          step.requests(),
          Optional.empty());
    }

    private DialStep ended(ActResult result, View view) {
      ActEvent.ActEnded entry = result.entry(view);
      return new DialStep(
          next(result, carried(entry), view),
          act.resting(),
          false,
          List.of(entry),
          List.of(),
          Optional.empty());
    }

    private DialState next(ActResult result, Dial carried, View view) {
      if (result.outcome() != Outcome.DELIVERED) {
        return new Halted(dial, "pulse " + result.outcome().word() + ": " + result.why());
      }
      return carried
          .memory()
          .wear()
          .coils()
          .sentence()
          .<DialState>map(why -> new Halted(carried, why))
          .orElseGet(
              () ->
                  Settle.after(
                      known(carried, result), Entries.stageAfter(move.purpose()), view.nowNs()));
    }

    private Dial carried(ActEvent.ActEnded entry) {
      return dial.ended(dial.work().source(move.purpose()), act.intent(), entry);
    }

    /** What is known after a delivered act. */
    private Dial known(Dial carried, ActResult result) {
      RigMemory memory = result.lesson().map(carried.memory()::after).orElse(carried.memory());
      Fire delivered = new Fire(move.purpose(), result.field(), move.drivesNorth());
      return carried.with(memory).with(carried.progress().fired(delivered));
    }

    @Override
    public Dial dial(List<LedgerEvent> closing) {
      for (LedgerEvent event : closing) {
        if (event instanceof ActEvent.ActEnded ended) {
          return carried(ended);
        }
      }
      return dial;
    }

    @Override
    public String sentence() {
      return act.aside().orElseGet(this::purpose);
    }

    private String purpose() {
      return switch (move.purpose()) {
        case CHARGE -> "charging";
        case KNOCK_DOWN -> "knocking down with " + move.field().written();
        case DEMAGNETISE -> "demagnetising, now " + move.field().written();
        case PROOF -> "proving that a weaker pulse leaves it alone";
      };
    }

    @Override
    public Optional<List<LedgerEvent>> closing(View view, long sinceNs, String why) {
      Optional<ActResult> reported = act.reported(view);
      ActResult result = reported.orElse(act.cut(why));
      boolean awaited =
          reported.isEmpty()
              && result.outcome() == Outcome.UNVERIFIED
              && view.nowNs() - sinceNs <= dial.work().limits().reportWaitNs();
      return awaited
          ? Optional.empty()
          : Optional.of(List.of(result.entry(view), Entries.verdict(dial, Verdict.TRIPPED, why)));
    }
  }

  /** The attempt is over and its verdict on record. */
  record Finished(Dial dial, Finish finish) implements DialState {
    @Override
    public DialStep step(View view) {
      return DialStep.quiet(this);
    }

    @Override
    public String sentence() {
      return finish.verdict().word();
    }
  }

  /** Something went wrong that is no trip: a person must look before it goes on. */
  record Halted(Dial dial, String why) implements DialState {
    @Override
    public DialStep step(View view) {
      return DialStep.quiet(this);
    }

    /** The verdict that closes the attempt: the magnet is open and begins again with a charge. */
    public List<LedgerEvent> closing() {
      return Entries.tripped(dial, why);
    }

    @Override
    public String sentence() {
      return "halted: " + why;
    }
  }
}
