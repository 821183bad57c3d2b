package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.dial.Zero;
import lodestep.measure.SettledReading;
import lodestep.port.Command;
import lodestep.port.GaugeEvent.GaugeJudged;
import lodestep.port.GaugeEvent.ReferenceRead;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;

/**
 * A check of the gauge by a reference magnet, guided: zero, reading as found, and where that is out
 * of control the cause looked for and a reading as left. Pure and total; nothing is energised.
 */
public sealed interface CheckJob extends Guided
    permits CheckJob.Opening,
        CheckSeat.EmptySeat,
        CheckSeat.TakingZero,
        CheckJob.Seating,
        CheckJob.Reading,
        CheckJob.Looking,
        CheckJob.Mending,
        CheckJob.Done {

  /** How the check stands. */
  Check check();

  /** What follows from this view, while nobody ends it. */
  JobStep next(View view);

  /**
   * What goes from state to state.
   *
   * @param calibration ledger number of the calibration
   * @param zero in use
   * @param mended whether something was mended since the reading as found
   */
  record Check(CheckWork work, long calibration, Optional<Zero> zero, boolean mended) {

    Check with(Zero taken) {
      return new Check(work, calibration, Optional.of(taken), mended);
    }

    private double tesla(HeadFrame.Status status) {
      return HandSteps.tesla(status, work.calibration(), zero);
    }
  }

  /**
   * A check about to begin.
   *
   * @param prologue events to be appended first; the calibration's the last of them
   */
  static CheckJob begin(CheckWork work, List<LedgerEvent> prologue) {
    return begin(work, prologue, false);
  }

  /**
   * A check about to begin.
   *
   * @param mended whether something was mended since the reference was read last, such as the
   *     calibration: the reading is one as left then
   */
  static CheckJob begin(CheckWork work, List<LedgerEvent> prologue, boolean mended) {
    return new Opening(new Check(work, 0, Optional.empty(), mended), List.copyOf(prologue));
  }

  @Override
  default JobStep step(View view) {
    boolean ended =
        view.commands().contains(Command.FINISH) || view.commands().contains(Command.STOP);
    return ended && !over()
        ? HandSteps.to(
            new Done(check(), Optional.empty(), List.of("ended by a person, not judged")))
        : next(view);
  }

  @Override
  default Optional<Zero> zero() {
    return check().zero();
  }

  @Override
  default boolean over() {
    return this instanceof Done;
  }

  @Override
  default boolean mayLeaveOut() {
    return this instanceof Mending;
  }

  /** Writes the first entries. */
  record Opening(Check check, List<LedgerEvent> prologue) implements CheckJob {
    @Override
    public JobStep next(View view) {
      long calibration = view.nextNumber() + prologue.size() - 1;
      Check begun = new Check(check.work(), calibration, Optional.empty(), check.mended());
      return HandSteps.to(new CheckSeat.EmptySeat(begun, ""), prologue);
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.WAIT);
    }

    @Override
    public String sentence() {
      return "Opening the record.";
    }
  }

  /** Waits for the reference magnet. */
  record Seating(Check check) implements CheckJob {
    @Override
    public JobStep next(View view) {
      return HandSteps.goOn(view)
          ? HandSteps.to(Reading.fresh(check, view.nowNs()))
          : HandSteps.to(this);
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.SEAT);
    }

    @Override
    public String sentence() {
      return "Put the reference "
          + check.work().reference().name()
          + " in the "
          + check.work().nest().name()
          + ", its "
          + (check.work().reference().value().tesla() > 0 ? "north" : "south")
          + " face to the gauge, and press Enter.";
    }
  }

  /** Waits until the reading has settled. */
  record Reading(Check check, ReadAtHand reading) implements CheckJob {

    static Reading fresh(Check check, long nowNs) {
      CheckWork work = check.work();
      return new Reading(check, ReadAtHand.unhurried(work.calibration(), work.limits(), nowNs));
    }

    @Override
    public JobStep next(View view) {
      return reading.step(
          view,
          check::tesla,
          now -> new Reading(check, now),
          why -> new Looking(check, why),
          settled -> judged(settled, view));
    }

    private JobStep judged(SettledReading settled, View view) {
      CheckWork work = check.work();
      SettledReading reading =
          work.calibration().counted(settled, check.zero().orElseThrow().gauge());
      List<String> against = work.with(reading, check.mended()).objections();
      List<LedgerEvent> events = new ArrayList<>();
      events.add(read(reading, view));
      events.add(
          new GaugeJudged(
              work.reference().name(),
              work.nest().name(),
              view.nextNumber(),
              against.isEmpty(),
              String.join("; ", against)));
      Check known =
          new Check(
              work.after(reading, check.mended(), against.isEmpty()),
              check.calibration(),
              check.zero(),
              check.mended());
      // As left is the last word: who mends once more begins another check.
      return HandSteps.to(
          against.isEmpty() || check.mended()
              ? new Done(known, Optional.of(reading), against)
              : new Mending(known, reading, against),
          events);
    }

    private LedgerEvent read(SettledReading reading, View view) {
      CheckWork work = check.work();
      return new ReferenceRead(
          work.reference().name(),
          work.nest().name(),
          check.mended() ? CheckWork.AS_LEFT : CheckWork.AS_FOUND,
          reading.value().microTesla(),
          Math.round(reading.standardUncertainty().tesla() * 1e9),
          reading.samples(),
          view.status().map(status -> (long) status.frame().gaugeCentiDegC()).orElse(0L),
          work.nest().standOff().microMetres(),
          check.zero().orElseThrow().number(),
          check.calibration(),
          work.reference().value().microTesla(),
          Math.round(work.reference().standardUncertainty().tesla() * 1e9),
          work.reference().date());
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.WAIT);
    }

    @Override
    public String sentence() {
      return "Hands off: reading the reference " + check.work().reference().name() + ".";
    }
  }

  /** No reading: a person must look, and then it is read again. */
  record Looking(Check check, String why) implements CheckJob {
    @Override
    public JobStep next(View view) {
      return HandSteps.goOn(view)
          ? HandSteps.to(Reading.fresh(check, view.nowNs()))
          : HandSteps.to(this);
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.LOOK);
    }

    @Override
    public String sentence() {
      return why + " Then press Enter.";
    }
  }

  /** Out of control: the cause is looked for, and then it is checked again. */
  record Mending(Check check, SettledReading reading, List<String> against) implements CheckJob {
    @Override
    public JobStep next(View view) {
      if (view.commands().contains(Command.SKIP)) {
        return HandSteps.to(new Done(check, Optional.of(reading), against));
      }
      if (!HandSteps.goOn(view)) {
        return HandSteps.to(this);
      }
      Check again = new Check(check.work(), check.calibration(), Optional.empty(), true);
      return HandSteps.to(new CheckSeat.EmptySeat(again, ""));
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.LOOK);
    }

    @Override
    public String sentence() {
      return String.format(
          Locale.ROOT,
          "Out of control: %s. Look for the cause (dirt in the nest, the wrong spacer or magnet, a"
              + " magnet nearby, a loose gauge), mend it and press Enter for a reading as left; or"
              + " type n and Enter to leave it so.",
          String.join("; ", against));
    }
  }

  /**
   * It is over.
   *
   * @param last reading that was judged; empty if there was none
   * @param against what the gauge is out of control for; empty if it is in control
   */
  record Done(Check check, Optional<SettledReading> last, List<String> against)
      implements CheckJob {
    public Done {
      against = List.copyOf(against);
    }

    @Override
    public JobStep next(View view) {
      return HandSteps.to(this);
    }

    /** Whether the check was made and the gauge found in control. */
    public boolean inControl() {
      return last.isPresent() && against.isEmpty();
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.TAKE_OUT);
    }

    @Override
    public String sentence() {
      return inControl()
          ? "The gauge is in control."
          : "The gauge is not in control: " + String.join("; ", against) + ".";
    }
  }
}
