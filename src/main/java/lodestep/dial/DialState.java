package lodestep.dial;

import java.util.List;
import java.util.Optional;
import lodestep.device.Pulse;
import lodestep.device.ShotPlan;
import lodestep.device.ShotResult;
import lodestep.device.ShotResult.Outcome;
import lodestep.device.ShotState;
import lodestep.device.ShotStep;
import lodestep.dial.Move.Finish;
import lodestep.dial.Move.Fire;
import lodestep.measure.SettledReading;
import lodestep.measure.Settling;
import lodestep.port.LedgerEvent;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.Temperature;

/**
 * Dialing one magnet, from seated and released by the pedal to its verdict: settle and read, ask
 * the planner, intent, shot, settle and read again. Pure and total.
 */
public sealed interface DialState {

  /** What follows from this view. */
  DialStep step(View view);

  /** The attempt as it stands. */
  Dial dial();

  /** One short sentence: what happens now. */
  String sentence();

  /**
   * The entries that close the attempt after a trip: the open pulse's end, by the head's report if
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
      Temperature coil = Gauge.coilTemperature(view);
      Dial counted = dial.with(dial.progress().counting(move.purpose()));
      Pulse pulse =
          dial.work().drive().pulse(move.field(), move.drivesNorth(), coil, dial.memory());
      ShotPlan shot =
          new ShotPlan(
              pulse,
              view.nextNumber(),
              Entries.expectedAmps(dial, pulse, coil),
              dial.work().drive().bank(),
              dial.work().limits());
      LedgerEvent intent = Entries.intent(counted, move, shot);
      DialState next = new Shooting(counted, move, ShotState.begin(shot, view.nowNs()));
      return DialStep.quiet(next, List.of(intent));
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

  /** A pulse is on its way. */
  record Shooting(Dial dial, Fire move, ShotState shot) implements DialState {
    @Override
    public DialStep step(View view) {
      ShotStep step = shot.step(view);
      if (step.next() instanceof ShotState.Ended ended) {
        return ended(ended.result(), view);
      }
      return new DialStep(
          new Shooting(dial, move, step.next()),
          step.wanted(),
          step.permit(),
          List.of(),
          step.requests(),
          Optional.empty());
    }

    private DialStep ended(ShotResult result, View view) {
      List<LedgerEvent> events = List.of(Entries.pulseEnded(dial, shot.plan(), result, view));
      if (result.outcome() != Outcome.DELIVERED) {
        return new DialStep(
            new Halted(dial, "pulse " + result.outcome().word() + ": " + result.why()),
            shot.plan().relays(),
            false,
            events,
            List.of(),
            Optional.empty());
      }
      double peakAmps = Entries.peakAmps(shot.plan(), result);
      double ratio = peakAmps * dial.memory().ratio(shot.plan().pulse().full());
      Dial known =
          dial.with(
                  dial.memory()
                      .withRatio(
                          shot.plan().pulse().full(), ratio / shot.plan().expectedPeakAmps()))
              .with(
                  dial.progress()
                      .fired(
                          new Fire(
                              move.purpose(),
                              dial.work().drive().fieldOf(peakAmps),
                              move.drivesNorth())));
      return new DialStep(
          Settle.after(known, Entries.stageAfter(move.purpose()), view.nowNs()),
          shot.plan().relays(),
          false,
          events,
          List.of(),
          Optional.empty());
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
      Optional<ShotResult> reported = shot.reported(view);
      ShotResult result = reported.orElse(shot.cut(why));
      boolean awaited =
          reported.isEmpty()
              && result.outcome() == Outcome.UNVERIFIED
              && view.nowNs() - sinceNs <= dial.work().limits().reportWaitNs();
      return awaited
          ? Optional.empty()
          : Optional.of(
              List.of(
                  Entries.pulseEnded(dial, shot.plan(), result, view),
                  Entries.verdict(dial, Verdict.TRIPPED, why)));
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
