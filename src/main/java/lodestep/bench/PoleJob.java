package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.dial.Zero;
import lodestep.measure.SettledReading;
import lodestep.port.Command;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.StockEvent.PoleTopRead;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.Temperature;

/**
 * The pole tops of a pickup are read one after the other, in the order of the strings, guided. Pure
 * and total; nothing is energised. Each reading is on record as it is taken.
 */
public sealed interface PoleJob extends Guided {

  /** How far it has come. */
  Poles poles();

  /** What follows from this view, while nobody ends it. */
  JobStep next(View view);

  /**
   * What goes from state to state.
   *
   * @param pickup its number; 0 before it is named
   * @param calibration ledger number of the calibration
   * @param zero in use
   * @param read so far, in the order of the strings
   */
  record Poles(
      PoleWork work,
      long pickup,
      long calibration,
      Optional<Zero> zero,
      List<SettledReading> read) {
    public Poles {
      read = List.copyOf(read);
    }

    private Poles with(Zero taken) {
      return new Poles(work, pickup, calibration, Optional.of(taken), read);
    }

    private Poles with(SettledReading reading) {
      List<SettledReading> more = new ArrayList<>(read);
      more.add(reading);
      return new Poles(work, pickup, calibration, zero, more);
    }

    private long pole() {
      return read.size() + 1L;
    }

    /** Whether every pole top was read. */
    public boolean whole() {
      return read.size() == work.built().poles();
    }

    private double tesla(HeadFrame.Status status) {
      double zeroCounts = zero.map(taken -> taken.gauge().counts()).orElse(0.0);
      Temperature gauge = Temperature.ofDegC(status.gaugeCentiDegC() * 1e-2);
      return work.calibration().fluxDensity(status.hallCounts(), zeroCounts, gauge).tesla();
    }
  }

  /**
   * Readings about to begin.
   *
   * @param prologue events to be appended first; the calibration's the last of them
   */
  static PoleJob begin(PoleWork work, List<LedgerEvent> prologue) {
    return new Opening(
        new Poles(work, work.pickup(), 0, Optional.empty(), List.of()), List.copyOf(prologue));
  }

  @Override
  default JobStep step(View view) {
    boolean ended =
        view.commands().contains(Command.FINISH) || view.commands().contains(Command.STOP);
    return ended && !over() ? HandSteps.to(new Done(poles())) : next(view);
  }

  @Override
  default Optional<Zero> zero() {
    return poles().zero();
  }

  @Override
  default boolean over() {
    return this instanceof Done;
  }

  @Override
  default boolean mayLeaveOut() {
    return false;
  }

  /** Writes the first entries. */
  record Opening(Poles poles, List<LedgerEvent> prologue) implements PoleJob {
    @Override
    public JobStep next(View view) {
      List<LedgerEvent> events = new ArrayList<>(prologue);
      long calibration = view.nextNumber() + events.size() - 1;
      long pickup = poles.pickup();
      if (pickup == 0) {
        pickup = view.nextNumber() + events.size();
        events.add(poles.work().built());
      }
      Poles begun = new Poles(poles.work(), pickup, calibration, Optional.empty(), List.of());
      return HandSteps.to(new Empty(begun, ""), events);
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

  /** Waits for a gauge with nothing magnetic near it, which only a person can vouch for. */
  record Empty(Poles poles, String news) implements PoleJob {
    @Override
    public JobStep next(View view) {
      if (!HandSteps.goOn(view)) {
        return HandSteps.to(this);
      }
      PoleWork work = poles.work();
      return HandSteps.to(
          new TakingZero(poles, ZeroAtHand.begin(work.calibration(), work.limits(), view.nowNs())));
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.LEAVE_EMPTY);
    }

    @Override
    public String sentence() {
      return HandSteps.joined(
          news,
          "Put the "
              + poles.work().seat()
              + " with its "
              + poles.work().spacer().written()
              + " spacer at the gauge, the pickup and every magnet an arm's length away, and press"
              + " Enter: the gauge takes its zero.");
    }
  }

  /** Takes the zero. */
  record TakingZero(Poles poles, ZeroAtHand taking) implements PoleJob {
    @Override
    public JobStep next(View view) {
      return taking.step(
          view,
          now -> new TakingZero(poles, now),
          news -> new Empty(poles, news),
          zero ->
              HandSteps.to(
                  new Seating(poles.with(new Zero(zero, view.nextNumber()))),
                  List.of(HandSteps.zeroTaken(zero, poles.calibration(), view))));
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.WAIT);
    }

    @Override
    public String sentence() {
      return "Hands off: the gauge takes its zero.";
    }
  }

  /** Waits for the next pole top to be over the gauge. */
  record Seating(Poles poles) implements PoleJob {
    @Override
    public JobStep next(View view) {
      return HandSteps.goOn(view)
          ? HandSteps.to(Reading.fresh(poles, view.nowNs()))
          : HandSteps.to(this);
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.SEAT);
    }

    @Override
    public String sentence() {
      long pole = poles.pole();
      long all = poles.work().built().poles();
      String where =
          pole == 1 ? ", under the lowest string," : pole == all ? ", under the highest," : "";
      return "Lay "
          + poles.work().built().name()
          + " in the "
          + poles.work().seat()
          + ", the top of pole "
          + pole
          + " of "
          + all
          + where
          + " over the gauge, and press Enter.";
    }
  }

  /** Waits until the reading has settled. */
  record Reading(Poles poles, ReadAtHand reading) implements PoleJob {

    static Reading fresh(Poles poles, long nowNs) {
      PoleWork work = poles.work();
      return new Reading(poles, ReadAtHand.begin(work.calibration(), work.limits(), nowNs));
    }

    @Override
    public JobStep next(View view) {
      return reading.step(
          view,
          poles::tesla,
          now -> new Reading(poles, now),
          why -> new Looking(poles, why),
          settled -> taken(settled, view));
    }

    private JobStep taken(SettledReading settled, View view) {
      SettledReading counted =
          poles.work().calibration().counted(settled, poles.zero().orElseThrow().gauge());
      Poles more = poles.with(counted);
      return HandSteps.to(
          more.whole() ? new Done(more) : new Seating(more), List.of(entry(counted, view)));
    }

    private LedgerEvent entry(SettledReading reading, View view) {
      PoleWork work = poles.work();
      return new PoleTopRead(
          poles.pickup(),
          work.round(),
          work.stage(),
          poles.pole(),
          reading.value().microTesla(),
          Math.round(reading.standardUncertainty().tesla() * 1e9),
          reading.samples(),
          view.status().map(status -> (long) status.frame().gaugeCentiDegC()).orElse(0L),
          work.seat(),
          work.spacer().microMetres(),
          poles.zero().orElseThrow().number(),
          poles.calibration());
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.WAIT);
    }

    @Override
    public String sentence() {
      return "Hands off: reading pole " + poles.pole() + ".";
    }
  }

  /** No reading: a person must look, and then it is read again. */
  record Looking(Poles poles, String why) implements PoleJob {
    @Override
    public JobStep next(View view) {
      return HandSteps.goOn(view)
          ? HandSteps.to(Reading.fresh(poles, view.nowNs()))
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

  /** All are read, or a person has ended it. */
  record Done(Poles poles) implements PoleJob {
    @Override
    public JobStep next(View view) {
      return HandSteps.to(this);
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.TAKE_OUT);
    }

    @Override
    public String sentence() {
      int read = poles.read().size();
      return poles.whole()
          ? "All pole tops are read; take the pickup away."
          : "Ended by a person with "
              + read
              + " of "
              + poles.work().built().poles()
              + " pole tops read; a round that is not whole is on record and counts for nothing.";
    }
  }
}
