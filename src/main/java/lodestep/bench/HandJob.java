package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.dial.Purpose;
import lodestep.dial.Verdict;
import lodestep.dial.Zero;
import lodestep.measure.SettledReading;
import lodestep.port.Command;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.View;

/**
 * One magnet charged and knocked down by hand, guided by the head alone. Pure and total: a sealed
 * set of states, one transition a scan. No output is ever asked for and no permit: the program says
 * what to do, a person does it, and settled readings decide.
 *
 * <p>"Go on" ({@link Command#CONTINUE}) is a person's word that what was asked is done; an approach
 * is followed by the gauge alone, as both hands are at the magnets. "Finish" ends it in any state.
 */
public sealed interface HandJob extends Guided
    permits HandJob.Opening,
        HandSeat.EmptySeat,
        HandSeat.TakingZero,
        HandJob.Seating,
        HandJob.Charging,
        HandJob.Approaching,
        HandJob.Leaving,
        HandJob.Reading,
        HandJob.Looking,
        HandJob.Done {

  /** The magnet as it stands. */
  Hand hand();

  @Override
  default Optional<Zero> zero() {
    return hand().zero();
  }

  @Override
  default boolean over() {
    return this instanceof Done;
  }

  @Override
  default boolean mayLeaveOut() {
    return this instanceof Charging charging && charging.proving();
  }

  /** What follows from this view, while nobody ends it. */
  JobStep next(View view);

  /** {@inheritDoc} A magnet that was started and is given up is open: it is charged anew later. */
  @Override
  default JobStep step(View view) {
    boolean over = view.commands().contains(Command.FINISH);
    boolean stop = view.commands().contains(Command.STOP);
    if ((over || stop) && !(this instanceof Done)) {
      return HandSteps.end(hand(), Verdict.TRIPPED, "ended by a person", List.of());
    }
    return next(view);
  }

  @Override
  default long magnet() {
    return hand().magnet();
  }

  /**
   * Work about to begin.
   *
   * @param prologue events to be appended first; the calibration's the last of them
   */
  static HandJob begin(HandWork work, List<LedgerEvent> prologue) {
    return new Opening(Hand.of(work), List.copyOf(prologue));
  }

  /** Writes the first entries: the magnet's name, and what other gauges said of it. */
  record Opening(Hand hand, List<LedgerEvent> prologue) implements HandJob {
    @Override
    public JobStep next(View view) {
      List<LedgerEvent> events = new ArrayList<>(prologue);
      long calibration = view.nextNumber() + events.size() - 1;
      long number = view.nextNumber() + events.size();
      events.add(Entry.naming(hand.work().row(), 1, 0));
      events.addAll(Entry.besides(hand.work().row(), number));
      hand.work().typed().forEach(typed -> events.add(typed.entry(number)));
      return HandSteps.to(new HandSeat.EmptySeat(hand.named(number, calibration), ""), events);
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

  /** Waits for the magnet. */
  record Seating(Hand hand) implements HandJob {
    @Override
    public JobStep next(View view) {
      if (HandSteps.goOn(view)) {
        Hand started = hand.started();
        return HandSteps.to(
            Reading.after(started, Optional.empty(), Optional.empty(), view.nowNs()),
            List.of(HandEntries.started(started)));
      }
      return HandSteps.to(this);
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.SEAT);
    }

    @Override
    public String sentence() {
      return "Put "
          + hand.name()
          + " in the "
          + hand.work().row().nest().name()
          + ", the face that will look at the strings to the gauge, and press Enter.";
    }
  }

  /**
   * Waits for a charge between the jaws.
   *
   * @param proving whether the magnet has taken a charge, and a stronger one is to prove it full
   */
  record Charging(Hand hand, String news, boolean proving) implements HandJob {
    @Override
    public JobStep next(View view) {
      if (HandSteps.goOn(view)) {
        HandAct act = HandNext.chargeAct(hand, proving);
        return HandSteps.to(Reading.after(hand, Optional.of(act), Optional.empty(), view.nowNs()));
      }
      if (proving && view.commands().contains(Command.SKIP)) {
        Hand given = hand.with(hand.progress().with(hand.progress().saturation().givenUp()));
        String told = "That it is full is not proven.";
        return HandSteps.follow(HandNext.taken(given, told, view), given, List.of());
      }
      return HandSteps.to(this);
    }

    @Override
    public HandCue cue() {
      return HandCue.of(hand.pole() > 0 ? HandAsk.CHARGE_NORTH : HandAsk.CHARGE_SOUTH);
    }

    @Override
    public String sentence() {
      String north = hand.pole() > 0 ? "north" : "south";
      return HandSteps.joined(
          news,
          proving
              ? "Prove that it is full: charge it once more, the gauge's face "
                  + north
                  + " again, with more magnet in the jaws, put it back with the jaws an arm's"
                  + " length away, and press Enter; with nothing stronger at hand type n and Enter."
              : "Charge it between the jaws so that the gauge's face becomes "
                  + north
                  + ", put it back with the jaws an arm's length away, and press Enter.");
    }
  }

  /**
   * The opposing magnet comes closer, followed by the gauge.
   *
   * @param stopTesla pull at which the person is told to stop
   * @param stray what is seen of it
   */
  record Approaching(Hand hand, HandAct act, double stopTesla, HandStray stray, String news)
      implements HandJob {

    static Approaching from(Hand hand, HandAct act, double stopTesla, String news, View view) {
      return new Approaching(
          hand, act, stopTesla, HandStray.none(hand.along(), view.nowNs()), news);
    }

    @Override
    public JobStep next(View view) {
      HandStray seen = stray.seen(hand, view);
      if (view.nowNs() - seen.lastAtNs() > hand.work().limits().statusAgeTripNs()) {
        return HandSteps.to(
            new Looking(
                hand,
                Optional.of(act),
                Optional.of(seen.reached(stopTesla)),
                "The head is silent: take the opposing magnet right away and see to the head's"
                    + " cable and supply."));
      }
      if (seen.rises()) {
        return HandSteps.to(new Leaving(hand, act, stopTesla, seen, true));
      }
      boolean over = seen.mostTesla() >= stopTesla || seen.withdrawn(stopTesla);
      if (over || HandSteps.goOn(view)) {
        return HandSteps.to(new Leaving(hand, act, stopTesla, seen, false));
      }
      return HandSteps.to(new Approaching(hand, act, stopTesla, seen, news));
    }

    @Override
    public HandCue cue() {
      double part = Math.max(0, Math.min(1, stray.pullTesla() / stopTesla));
      return new HandCue(HandAsk.CLOSER, part);
    }

    @Override
    public String sentence() {
      String what =
          act.purpose() == Purpose.PROOF
              ? "Now the proof: the opposing magnet once more, a little less near than before."
              : "Bring the opposing magnet slowly closer from above, like poles facing.";
      return HandSteps.joined(news, what);
    }
  }

  /**
   * The opposing magnet is to go.
   *
   * @param rose whether the reading rose instead of falling
   */
  record Leaving(Hand hand, HandAct act, double stopTesla, HandStray stray, boolean rose)
      implements HandJob {
    @Override
    public JobStep next(View view) {
      HandStray seen = stray.seen(hand, view);
      if (seen.gone(hand.progress()) || HandSteps.goOn(view)) {
        HandReached reached = seen.reached(stopTesla);
        return HandSteps.to(
            Reading.after(hand, Optional.of(act), Optional.of(reached), view.nowNs()));
      }
      return HandSteps.to(new Leaving(hand, act, stopTesla, seen, rose));
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.AWAY);
    }

    @Override
    public String sentence() {
      return rose
          ? "The reading rises: unlike poles face each other. Take the opposing magnet right away"
              + " and turn it over."
          : "Stop. Take the opposing magnet right away, to an arm's length; if nothing"
              + " follows, press Enter.";
    }
  }

  /**
   * Waits until the reading has settled; it decides what comes next.
   *
   * @param act what was done before; empty for the first reading
   * @param reached how the approach went, if it was one
   */
  record Reading(
      Hand hand, Optional<HandAct> act, Optional<HandReached> reached, ReadAtHand reading)
      implements HandJob {

    static Reading after(
        Hand hand, Optional<HandAct> act, Optional<HandReached> reached, long nowNs) {
      HandWork work = hand.work();
      return new Reading(
          hand, act, reached, ReadAtHand.begin(work.calibration(), work.limits(), nowNs));
    }

    @Override
    public JobStep next(View view) {
      return reading.step(
          view,
          hand::tesla,
          now -> new Reading(hand, act, reached, now),
          why -> new Looking(hand, act, reached, why),
          settled -> read(settled, view));
    }

    private JobStep read(SettledReading reading, View view) {
      Hand fresh = hand.read(reading);
      Hand known = act.map(made -> HandNext.learned(hand, fresh, made, reached)).orElse(fresh);
      List<LedgerEvent> events = new ArrayList<>();
      // As things happened: the act, then what was read after it.
      double nearest = reached.map(HandReached::nearestTesla).orElse(0.0);
      act.ifPresent(made -> events.add(HandEntries.act(known, made, nearest)));
      events.add(HandEntries.reading(known, act, view));
      HandNext.Next next =
          act.map(made -> HandNext.after(made, known, view))
              .orElseGet(() -> HandNext.found(known, view));
      return HandSteps.follow(next, known, events);
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.WAIT);
    }

    @Override
    public String sentence() {
      return "Hands off: reading " + hand.name() + ".";
    }
  }

  /** Something is wrong: a person must look, and then it is read again. */
  record Looking(Hand hand, Optional<HandAct> act, Optional<HandReached> reached, String why)
      implements HandJob {
    @Override
    public JobStep next(View view) {
      if (HandSteps.goOn(view)) {
        return HandSteps.to(Reading.after(hand, act, reached, view.nowNs()));
      }
      return HandSteps.to(this);
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

  /** It is over. */
  record Done(Hand hand, Verdict verdict, String why) implements HandJob {
    @Override
    public JobStep next(View view) {
      return HandSteps.to(this);
    }

    /** A verdict for a person; nothing has tripped where nothing is driven. */
    public static String word(Verdict verdict) {
      return verdict == Verdict.TRIPPED ? "left open" : verdict.word();
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.TAKE_OUT);
    }

    @Override
    public String sentence() {
      return String.format(Locale.ROOT, "%s %s: %s.", hand.name(), word(verdict), why);
    }
  }
}
