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
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.FluxDensity;

/**
 * A series of readings, guided: a magnet is placed as asked, read once it has settled, and the next
 * placing asked for. Pure and total; nothing is energised. The gauge itself sees that a magnet has
 * left the nest before it counts as placed anew, and a zero grown old is taken again while the nest
 * is empty.
 */
public sealed interface SeriesJob extends Guided {

  /** A reading below this is an empty nest or a magnet that tells nothing of a placing. */
  FluxDensity LEAST = FluxDensity.ofGauss(20);

  /** How the series stands. */
  Series series();

  /** What follows from this view, while nobody ends it. */
  JobStep next(View view);

  /**
   * What goes from state to state.
   *
   * @param number of the event that began the series
   * @param calibration ledger number of the calibration
   * @param zero in use
   * @param zeroAtNs when it was taken
   * @param taken readings so far, oldest first; none for those on record from earlier
   */
  record Series(
      SeriesWork work,
      long number,
      long calibration,
      Optional<Zero> zero,
      long zeroAtNs,
      List<SettledReading> taken) {

    /** Beyond this age the wander of the gauge shows in a series. */
    private static final long ZERO_OLD_NS = 60_000_000_000L;

    public Series {
      taken = List.copyOf(taken);
    }

    /** How many readings there are, those on record from earlier too. */
    public int done() {
      return work.done() + taken.size();
    }

    /** Whether all have been taken. */
    public boolean complete() {
      return done() == work.placings().size();
    }

    Placing now() {
      return work.placings().get(done());
    }

    Optional<FluxDensity> before() {
      return taken.isEmpty() ? Optional.empty() : Optional.of(taken.get(taken.size() - 1).value());
    }

    /** What is placed now, as it read first; of those read since the job began. */
    Optional<FluxDensity> first() {
      for (int at = 0; at < taken.size(); at++) {
        if (work.placings().get(work.done() + at).name().equals(now().name())) {
          return Optional.of(taken.get(at).value());
        }
      }
      return Optional.empty();
    }

    boolean zeroOld(long nowNs) {
      return nowNs - zeroAtNs > ZERO_OLD_NS;
    }

    Series opened(long begun, long calibrationNumber) {
      return new Series(work, begun, calibrationNumber, zero, zeroAtNs, taken);
    }

    Series with(Zero fresh, long nowNs) {
      return new Series(work, number, calibration, Optional.of(fresh), nowNs, taken);
    }

    Series with(SettledReading reading) {
      List<SettledReading> more = new ArrayList<>(taken);
      more.add(reading);
      return new Series(work, number, calibration, zero, zeroAtNs, more);
    }

    double tesla(HeadFrame.Status status) {
      return HandSteps.tesla(status, work.calibration(), zero);
    }

    /** Which of how many: "3 of 12". */
    String count() {
      return (done() + 1) + " of " + work.placings().size();
    }
  }

  /**
   * A series about to begin, or to go on.
   *
   * @param prologue events to be appended first; the calibration's the last of them
   */
  static SeriesJob begin(SeriesWork work, List<LedgerEvent> prologue) {
    Series fresh = new Series(work, work.number(), 0, Optional.empty(), 0, List.of());
    return new Opening(fresh, List.copyOf(prologue));
  }

  @Override
  default JobStep step(View view) {
    boolean ended =
        view.commands().contains(Command.FINISH) || view.commands().contains(Command.STOP);
    return ended && !over() ? HandSteps.to(new Done(series())) : next(view);
  }

  @Override
  default Optional<Zero> zero() {
    return series().zero();
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
  record Opening(Series series, List<LedgerEvent> prologue) implements SeriesJob {
    @Override
    public JobStep next(View view) {
      List<LedgerEvent> events = new ArrayList<>(prologue);
      long calibration = view.nextNumber() + events.size() - 1;
      long number =
          series.work().opens().isPresent() ? view.nextNumber() + events.size() : series.number();
      series.work().opens().ifPresent(events::add);
      return HandSteps.to(new Emptying(series.opened(number, calibration), ""), events);
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

  /** Waits for an empty nest, which only a person can vouch for. */
  record Emptying(Series series, String news) implements SeriesJob {
    @Override
    public JobStep next(View view) {
      SeriesWork work = series.work();
      return HandSteps.goOn(view)
          ? HandSteps.to(
              new TakingZero(
                  series,
                  ZeroAtHand.begin(
                      work.calibration(),
                      work.limits(),
                      series.zero().map(Zero::gauge),
                      view.nowNs())))
          : HandSteps.to(this);
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.LEAVE_EMPTY);
    }

    @Override
    public String sentence() {
      return HandSteps.joined(news, HandSteps.emptySentence(series.work().nest().name()));
    }
  }

  /** Takes the zero. */
  record TakingZero(Series series, ZeroAtHand taking) implements SeriesJob {
    @Override
    public JobStep next(View view) {
      return taking.step(
          view,
          now -> new TakingZero(series, now),
          news -> new Emptying(series, news),
          zero ->
              HandSteps.to(
                  new Placed(series.with(new Zero(zero, view.nextNumber()), view.nowNs())),
                  List.of(HandSteps.zeroTaken(zero, series.calibration(), view))));
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.WAIT);
    }

    @Override
    public String sentence() {
      return HandSteps.ZERO_SENTENCE;
    }
  }

  /** Waits until the gauge sees that the magnet has left the nest. */
  record TakingOut(Series series) implements SeriesJob {

    /** Part of its reading below which a magnet is out of the nest, whichever way it went. */
    private static final double GONE = 0.2;

    @Override
    public JobStep next(View view) {
      double was = Math.abs(series.before().map(FluxDensity::tesla).orElse(0.0));
      for (ReceivedFrame received : view.frames()) {
        if (received.frame() instanceof HeadFrame.Status status
            && Math.abs(series.tesla(status)) < GONE * was) {
          return HandSteps.to(
              series.zeroOld(view.nowNs()) ? new Emptying(series, "") : new Placed(series));
        }
      }
      return HandSteps.to(this);
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.TAKE_OUT);
    }

    @Override
    public String sentence() {
      return "Take it right out of the " + series.work().nest().name() + ".";
    }
  }

  /** Waits until the magnet is placed as asked. */
  record Placed(Series series) implements SeriesJob {
    @Override
    public JobStep next(View view) {
      return HandSteps.goOn(view)
          ? HandSteps.to(Reading.fresh(series, view.nowNs()))
          : HandSteps.to(this);
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.SEAT);
    }

    @Override
    public String sentence() {
      return series.count() + ": " + series.now().asks() + ", and press Enter.";
    }
  }

  /** Waits until the reading has settled. */
  record Reading(Series series, ReadAtHand reading) implements SeriesJob {

    static Reading fresh(Series series, long nowNs) {
      SeriesWork work = series.work();
      return new Reading(series, ReadAtHand.begin(work.calibration(), work.limits(), nowNs));
    }

    @Override
    public JobStep next(View view) {
      return reading.step(
          view,
          series::tesla,
          now -> new Reading(series, now),
          why -> new Looking(series, why),
          settled -> judged(settled, view));
    }

    private JobStep judged(SettledReading settled, View view) {
      SettledReading counted =
          series.work().calibration().counted(settled, series.zero().orElseThrow().gauge());
      Optional<String> objection =
          counted.value().magnitude().compareTo(LEAST) < 0
              ? Optional.of(
                  "The gauge reads "
                      + counted.value().inGauss()
                      + ", which is no charged magnet in the nest: put it in.")
              : series.now().objection(counted, series.first());
      if (objection.isPresent()) {
        return HandSteps.to(new Looking(series, objection.get()));
      }
      List<LedgerEvent> events = new ArrayList<>(series.now().entries(taken(counted, view)));
      Series read = series.with(counted);
      if (read.complete()) {
        events.addAll(read.work().closes().entries(read.number(), read.taken()));
      }
      return HandSteps.to(following(read), events);
    }

    private Placing.Taken taken(SettledReading counted, View view) {
      return new Placing.Taken(
          series.number(),
          series.done() + 1,
          counted,
          view.status().map(status -> (long) status.frame().gaugeCentiDegC()).orElse(0L),
          series.zero().orElseThrow().number(),
          series.calibration(),
          view.nextNumber());
    }

    private static SeriesJob following(Series next) {
      if (next.complete()) {
        return new Done(next);
      }
      return next.now().anew() ? new TakingOut(next) : new Placed(next);
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.WAIT);
    }

    @Override
    public String sentence() {
      return "Hands off: reading " + series.now().name() + ".";
    }
  }

  /** No reading, or not that of the placing: a person must look, and then it is read again. */
  record Looking(Series series, String why) implements SeriesJob {
    @Override
    public JobStep next(View view) {
      return HandSteps.goOn(view)
          ? HandSteps.to(Reading.fresh(series, view.nowNs()))
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

  /** It is over, all read or ended by a person. */
  record Done(Series series) implements SeriesJob {
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
      int all = series.work().placings().size();
      return series.complete()
          ? "All " + all + " readings are on record."
          : "Ended by a person with " + series.done() + " of " + all + " readings on record.";
    }
  }
}
