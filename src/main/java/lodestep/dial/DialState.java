package lodestep.dial;

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
import lodestep.port.LedgerEvent;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;

/**
 * Dialing one magnet, from seated and released by the pedal to its verdict: settle and read, ask
 * the planner, intent, act, settle and read again. Pure and total.
 */
public sealed interface DialState {

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
    return Optional.of(List.of(Entries.verdict(dial(), Verdict.TRIPPED, why)));
  }

  /** Begins an attempt on the magnet in the nest. */
  static DialState begin(Dial dial, long nowNs) {
    return Settle.after(dial, "as found", nowNs);
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
      if (!Quiet.is(view, dial.work().limits())) {
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
              settled -> read(settled.reading(), view),
              unsettled -> DialStep.quiet(new Halted(dial, unsettled.why())));
    }

    private DialStep read(SettledReading reading, View view) {
      LedgerEvent event = Entries.reading(dial, stage, reading, view);
      Dial known = Learning.afterReading(dial, reading).asked();
      MoveQuestion question =
          new MoveQuestion(
              known.questions(),
              known.work(),
              known.progress(),
              known.memory(),
              known.zero(),
              Gauge.coilTemperature(view));
      return new DialStep(
          new AwaitMove(known, view.nowNs()),
          Outputs.ALL_LOW,
          false,
          List.of(event),
          List.of(),
          Optional.of(question));
    }

    @Override
    public String sentence() {
      return "reading the magnet";
    }
  }

  /** Waits for the planner. */
  record AwaitMove(Dial dial, long sinceNs) implements DialState {

    private static final long LONGEST_NS = 10_000_000_000L;

    @Override
    public DialStep step(View view) {
      if (view.plan().isPresent()
          && view.plan().get() instanceof MoveAnswer answer
          && answer.number() == dial.questions()) {
        return answer.move().match(fire -> fire(fire, view), this::finish);
      }
      if (view.nowNs() - sinceNs > LONGEST_NS) {
        return DialStep.quiet(new Halted(dial, "the planner gave no answer"));
      }
      return DialStep.quiet(this);
    }

    private DialStep fire(Fire move, View view) {
      Dial counted = dial.with(dial.progress().counting(move.purpose()));
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

    private DialStep finish(Finish finish) {
      return DialStep.quiet(
          new Finished(dial, finish),
          List.of(Entries.verdict(dial, finish.verdict(), finish.why())));
    }

    @Override
    public String sentence() {
      return "choosing the next pulse";
    }
  }

  /** An act of a field source is under way. */
  record Acting(Dial dial, Fire move, Act act) implements DialState {
    @Override
    public DialStep step(View view) {
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
      DialState next =
          result.outcome() == Outcome.DELIVERED
              ? Settle.after(known(result), Entries.stageAfter(move.purpose()), view.nowNs())
              : new Halted(dial, "pulse " + result.outcome().word() + ": " + result.why());
      return new DialStep(
          next, act.resting(), false, List.of(result.entry(view)), List.of(), Optional.empty());
    }

    /** What is known after a delivered act. */
    private Dial known(ActResult result) {
      RigMemory memory = result.lesson().map(dial.memory()::after).orElse(dial.memory());
      Fire delivered = new Fire(move.purpose(), result.field(), move.drivesNorth());
      return dial.with(memory).with(dial.progress().fired(delivered));
    }

    @Override
    public String sentence() {
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
      return List.of(Entries.verdict(dial, Verdict.TRIPPED, why));
    }

    @Override
    public String sentence() {
      return "halted: " + why;
    }
  }
}
