package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.dial.DialState;
import lodestep.dial.DialStep;
import lodestep.dial.Move;
import lodestep.dial.Quiet;
import lodestep.dial.Verdict;
import lodestep.dial.Zero;
import lodestep.port.Command;
import lodestep.port.InputLine;
import lodestep.port.Job;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.View;

/**
 * A batch, one magnet and one pedal press at a time. Pure and total: a sealed set of states, one
 * transition a scan.
 *
 * <p>A trip in any state leads to {@link Tripped}; from there, as from {@link Attention}, only a
 * person's "go on" leads back to loading, and the magnet in the nest begins again with a charge.
 */
public sealed interface BatchJob extends Job {

  /** The batch as it stands. */
  Batch batch();

  /** One short sentence: what happens now, or what the rig waits for. */
  String sentence();

  /**
   * A batch about to begin.
   *
   * @param prologue events to be appended first: start of the program, the calibration's the last
   *     of them; closing entries for what a crash left open before it
   */
  static BatchJob begin(Batch batch, List<LedgerEvent> prologue) {
    return new Opening(batch, List.copyOf(prologue));
  }

  /** Writes the first entries: the batch, and a name for every magnet. */
  record Opening(Batch batch, List<LedgerEvent> prologue) implements BatchJob {
    @Override
    public JobStep step(View view) {
      List<LedgerEvent> events = new ArrayList<>(prologue);
      long calibrationNumber = view.nextNumber() + events.size() - 1;
      boolean begun = batch.number() > 0;
      long number = begun ? batch.number() : view.nextNumber() + events.size();
      events.add(begun ? batch.continuing() : batch.beginning());
      List<Entry> named = new ArrayList<>();
      for (Entry entry : batch.entries()) {
        if (entry.magnet() > 0) {
          named.add(entry);
        } else {
          named.add(entry.named(view.nextNumber() + events.size()));
          events.add(entry.naming(number));
        }
      }
      Batch ready = batch.numbered(number, named, calibrationNumber);
      return Steps.to(Loading.fresh(ready, false), Outputs.ALL_LOW, events);
    }

    @Override
    public String sentence() {
      return "opening the batch";
    }
  }

  /**
   * Nothing is energised; the lid may be open. Takes a zero while the seat is empty, then waits for
   * a magnet, the closed lid, the key and a new press of the pedal.
   *
   * @param paused whether a person asked to wait
   */
  record Loading(Batch batch, SeatZero zero, Pedal pedal, boolean paused) implements BatchJob {

    /** After a verdict, or at the start: the seat is empty and the zero is due. */
    static Loading fresh(Batch batch, boolean paused) {
      return new Loading(batch, SeatZero.NONE, Pedal.NOT_PRESSED, paused);
    }

    /** After a trip: the magnet may still be in the nest, and the zero taken before it stands. */
    static Loading again(Batch batch, View view) {
      Optional<Long> takenAtNs = batch.zero().map(zero -> view.nowNs());
      SeatZero zero = new SeatZero(Optional.empty(), takenAtNs);
      return new Loading(batch, zero, Pedal.NOT_PRESSED, false);
    }

    @Override
    public JobStep step(View view) {
      if (view.trip().isPresent()) {
        return Tripped.from(batch, Optional.empty(), view);
      }
      if (batch.next().isEmpty() || view.commands().contains(Command.FINISH)) {
        return Done.from(batch, view);
      }
      Loading now = new Loading(batch, zero, pedal.seen(view), Steps.paused(paused, view));
      if (!view.contacts().closed(InputLine.WORK_SEAT)) {
        return now.empty(view);
      }
      if (now.mayStart(view)) {
        return now.start(view);
      }
      Loading seated = new Loading(batch, zero.interrupted(), now.pedal(), now.paused());
      return Steps.to(seated, seated.lamps(), Steps.asked(view));
    }

    private JobStep empty(View view) {
      SeatZero more = zero.seen(view, batch);
      Loading next = new Loading(batch, more, pedal, paused);
      Optional<LedgerEvent> entry = more.entry(batch, view);
      if (entry.isEmpty()) {
        return Steps.to(next, lamps(), Steps.asked(view));
      }
      List<LedgerEvent> events = new ArrayList<>(Steps.asked(view));
      long number = view.nextNumber() + events.size();
      events.add(entry.get());
      if (entry.get() instanceof LedgerEvent.ZeroRefused refused) {
        // The next zero is taken as the first: a person has looked when it goes on.
        Attention attention = new Attention(batch.with(Optional.empty()), refused.why());
        return Steps.to(attention, Outputs.high(OutputLine.BUZZER), events);
      }
      Batch zeroed = batch.with(Optional.of(new Zero(more.zero(), number)));
      SeatZero taken = new SeatZero(Optional.empty(), Optional.of(view.nowNs()));
      return Steps.to(new Loading(zeroed, taken, pedal, paused), lamps(), events);
    }

    private boolean mayStart(View view) {
      return !paused
          && zero.taken()
          && pedal.fresh(view.nowNs(), batch.limits().pedalLapseNs())
          && view.contacts().closed(InputLine.LID_A)
          && view.contacts().closed(InputLine.LID_B)
          && view.contacts().closed(InputLine.STOP_LOOP)
          && view.contacts().closed(InputLine.ARM_KEY)
          && Quiet.is(view, batch.limits());
    }

    private JobStep start(View view) {
      Entry entry = batch.next().orElseThrow().begun();
      Batch begun = batch.with(entry);
      List<LedgerEvent> events = new ArrayList<>(Steps.asked(view));
      events.add(
          new LedgerEvent.MagnetStarted(
              entry.magnet(),
              entry.attempts(),
              entry.prepared().row().nest().name(),
              batch.mode().word()));
      DialState dial = DialState.begin(begun.dial(entry, batch.zero().orElseThrow()), view.nowNs());
      return Steps.to(new Dialing(begun, entry, dial), Outputs.high(OutputLine.LAMP_BUSY), events);
    }

    /** Not ready before the zero is taken: a magnet put in too early would keep it from coming. */
    private Outputs lamps() {
      return paused || !zero.taken() ? Outputs.ALL_LOW : Outputs.high(OutputLine.LAMP_READY);
    }

    @Override
    public String sentence() {
      String name = batch.next().map(Entry::name).orElse("");
      if (paused) {
        return "paused; go on when ready";
      }
      if (!zero.taken()) {
        return "leave the nest empty for a moment: the gauge takes its zero";
      }
      return "put " + name + " in its nest, close the lid and press the pedal";
    }
  }

  /** A magnet is being dialed; keep the lid closed. */
  record Dialing(Batch batch, Entry entry, DialState dial) implements BatchJob {
    @Override
    public JobStep step(View view) {
      if (view.trip().isPresent()) {
        return Tripped.from(batch, Optional.of(this), view);
      }
      DialStep step = dial.step(view);
      if (step.next() instanceof DialState.Finished finished) {
        return finished(finished, step, view);
      }
      if (step.next() instanceof DialState.Halted halted) {
        List<LedgerEvent> events = new ArrayList<>(step.events());
        events.addAll(halted.closing());
        Move.Finish end = new Move.Finish(Verdict.TRIPPED, halted.why());
        Attention next = new Attention(batch.after(entry, halted.dial(), end), halted.why());
        return Steps.to(next, step.wanted().and(OutputLine.BUZZER), events);
      }
      List<LedgerEvent> events = new ArrayList<>(step.events());
      events.addAll(Steps.asked(view));
      return new JobStep(
          new Dialing(batch, entry, step.next()),
          step.wanted().and(OutputLine.LAMP_BUSY),
          step.permit(),
          events,
          step.requests(),
          step.question());
    }

    private JobStep finished(DialState.Finished finished, DialStep step, View view) {
      Batch after = batch.after(entry, finished.dial(), finished.finish());
      long verdictNumber = view.nextNumber() + step.events().size() - 1;
      return Steps.to(
          new Recording(batch, after, entry.name(), finished.finish(), verdictNumber, false),
          Outputs.high(OutputLine.LAMP_BUSY),
          step.events());
    }

    @Override
    public long magnet() {
      return entry.magnet();
    }

    @Override
    public String sentence() {
      return entry.name() + ": " + dial.sentence();
    }
  }

  /**
   * The verdict is handed to the ledger, and no lamp shows it before it is safe on disk: one that a
   * crash could still take back would send the magnet to its box while the record has it open.
   *
   * @param batch with the magnet still open
   * @param after with its verdict
   * @param number the verdict's event
   * @param paused whether a person asked to wait after this magnet
   */
  record Recording(
      Batch batch, Batch after, String name, Move.Finish end, long number, boolean paused)
      implements BatchJob {
    @Override
    public JobStep step(View view) {
      if (view.trip().isPresent()) {
        boolean lost = view.ledger().fault().isPresent();
        return Tripped.from(lost ? batch : after, Optional.empty(), view);
      }
      boolean wait = Steps.paused(paused, view);
      if (view.ledger().durableTo() < number) {
        Recording same = new Recording(batch, after, name, end, number, wait);
        return Steps.to(same, Outputs.high(OutputLine.LAMP_BUSY), Steps.asked(view));
      }
      boolean accepted = end.verdict() == Verdict.ACCEPTED;
      Showing next = new Showing(after, name, accepted, end, view.nowNs(), wait);
      return Steps.to(next, Showing.lamps(accepted, true), Steps.asked(view));
    }

    @Override
    public String sentence() {
      return name + ": writing the verdict down";
    }
  }

  /**
   * The lamp shows the verdict until the magnet is taken out.
   *
   * @param paused whether a person asked to wait after this magnet
   */
  record Showing(
      Batch batch, String name, boolean accepted, Move.Finish end, long sinceNs, boolean paused)
      implements BatchJob {

    private static final long BUZZ_NS = 300_000_000L;

    @Override
    public JobStep step(View view) {
      if (view.trip().isPresent()) {
        return Tripped.from(batch, Optional.empty(), view);
      }
      boolean wait = Steps.paused(paused, view);
      if (view.commands().contains(Command.FINISH)) {
        return Done.from(batch, view);
      }
      if (!view.contacts().closed(InputLine.WORK_SEAT)) {
        if (batch.next().isEmpty()) {
          return Done.from(batch, view);
        }
        return Steps.to(Loading.fresh(batch, wait), Outputs.ALL_LOW, Steps.asked(view));
      }
      Showing next = new Showing(batch, name, accepted, end, sinceNs, wait);
      boolean buzz = view.nowNs() - sinceNs < BUZZ_NS;
      return Steps.to(next, lamps(accepted, buzz), Steps.asked(view));
    }

    static Outputs lamps(boolean accepted, boolean buzz) {
      return Outputs.high(accepted ? OutputLine.LAMP_ACCEPT : OutputLine.LAMP_REFUSE)
          .with(OutputLine.BUZZER, buzz);
    }

    @Override
    public String sentence() {
      return name + " " + end.verdict().word() + ": " + end.why() + "; take it out";
    }
  }

  /**
   * The interlocks let go of everything. Waits for the report of a pulse that may have been under
   * way, for the reset at the rig, and for a person to say "go on".
   *
   * @param cut the attempt that was cut short, while its entries are not closed
   */
  record Tripped(Batch batch, Optional<Dialing> cut, long sinceNs, String why) implements BatchJob {

    static JobStep from(Batch batch, Optional<Dialing> cut, View view) {
      String why = view.trip().map(trip -> trip.cause().what()).orElse("");
      Tripped next = new Tripped(batch, cut, view.nowNs(), why);
      return Steps.to(next, Outputs.high(OutputLine.BUZZER), Steps.asked(view));
    }

    @Override
    public JobStep step(View view) {
      List<LedgerEvent> events = new ArrayList<>(Steps.asked(view));
      Tripped now = this;
      if (cut.isPresent()) {
        Optional<List<LedgerEvent>> closing = cut.get().dial().closing(view, sinceNs, why);
        if (closing.isPresent()) {
          events.addAll(closing.get());
          Move.Finish end = new Move.Finish(Verdict.TRIPPED, why);
          Batch closed = batch.after(cut.get().entry(), cut.get().dial().dial(), end);
          now = new Tripped(closed, Optional.empty(), sinceNs, why);
        }
      }
      if (view.trip().isEmpty()
          && now.cut().isEmpty()
          && view.commands().contains(Command.CONTINUE)) {
        return Steps.to(Loading.again(now.batch(), view), Outputs.ALL_LOW, events);
      }
      return Steps.to(now, Outputs.high(OutputLine.BUZZER), events);
    }

    @Override
    public long magnet() {
      return cut.map(Dialing::magnet).orElse(0L);
    }

    @Override
    public String sentence() {
      return "tripped: " + why;
    }
  }

  /** Something is wrong that is no trip: a person must look and say "go on". */
  record Attention(Batch batch, String why) implements BatchJob {
    @Override
    public JobStep step(View view) {
      if (view.trip().isPresent()) {
        return Tripped.from(batch, Optional.empty(), view);
      }
      if (view.commands().contains(Command.CONTINUE)) {
        return Steps.to(Loading.again(batch, view), Outputs.ALL_LOW, Steps.asked(view));
      }
      return Steps.to(this, Outputs.high(OutputLine.BUZZER), Steps.asked(view));
    }

    @Override
    public String sentence() {
      return "waits for you: " + why;
    }
  }

  /** The batch is over. */
  record Done(Batch batch) implements BatchJob {
    static JobStep from(Batch batch, View view) {
      List<LedgerEvent> events = new ArrayList<>(Steps.asked(view));
      events.add(batch.ending(batch.open() == 0 ? "every magnet has its verdict" : "finished"));
      return Steps.to(new Done(batch), Outputs.ALL_LOW, events);
    }

    @Override
    public JobStep step(View view) {
      return Steps.to(this, Outputs.ALL_LOW, Steps.asked(view));
    }

    @Override
    public String sentence() {
      return "done";
    }
  }
}
