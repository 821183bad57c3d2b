package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.dial.Dial;
import lodestep.dial.DialState;
import lodestep.dial.DialStep;
import lodestep.dial.MagnetCurve;
import lodestep.dial.Move;
import lodestep.dial.Quiet;
import lodestep.dial.Verdict;
import lodestep.dial.Zero;
import lodestep.port.Command;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
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
public sealed interface BatchJob extends Job
    permits Recalling,
        Opening,
        BatchJig.AskEmptyNest,
        BatchJig.MeasureJig,
        BatchJig.LeaveNest,
        BatchJig.HomeJig,
        BatchJob.Loading,
        BatchJob.Dialing,
        BatchVerdict.Recording,
        BatchVerdict.Showing,
        BatchJob.Tripped,
        BatchJob.Attention,
        BatchJob.Done {

  /** The batch as it stands. */
  Batch batch();

  /** One short sentence: what happens now, or what the rig waits for. */
  String sentence();

  /** What is asked of the person at the bench. */
  default HandCue cue() {
    return HandCue.of(HandAsk.WAIT);
  }

  /**
   * Waits for a magnet; where a jig is not proven yet, for the empty nest over which it is. So too
   * where a jig stands away over a nest into which the next magnet comes freshly charged: its field
   * would undo the charge. A coil that has carried what it never used to is looked at before.
   */
  static BatchJob loading(Batch batch, View view) {
    Optional<String> coil = batch.coilOff();
    if (coil.isPresent()) {
      return new Attention(batch, coil.get());
    }
    boolean first = batch.jig().isPresent() && batch.zero().isEmpty();
    return first || (BatchJig.away(view, batch) && chargedBeforeSeated(batch))
        ? BatchJig.AskEmptyNest.of(batch)
        : Loading.again(batch, view);
  }

  private static boolean chargedBeforeSeated(Batch batch) {
    return batch.next().map(entry -> entry.prepared().chargedBeforeSeated()).orElse(false);
  }

  /**
   * A batch about to begin.
   *
   * @param prologue events to be appended first: start of the program, the calibration's the last
   *     of them; closing entries for what a crash left open before it
   */
  static BatchJob begin(Batch batch, List<LedgerEvent> prologue) {
    return begin(batch, prologue, Optional.empty());
  }

  /**
   * The same, but the head is asked first how those pulses ended that a crash left open.
   *
   * @param prologue closes each of these as unknown, which stands where the head cannot tell
   */
  static BatchJob begin(Batch batch, List<LedgerEvent> prologue, Optional<PulseRecall> recall) {
    return recall
        .<BatchJob>map(open -> Recalling.begin(batch, prologue, open))
        .orElseGet(() -> new Opening(batch, List.copyOf(prologue)));
  }

  /**
   * Nothing is energised; the lid may be open. Takes a zero while the seat is empty, then waits for
   * a magnet, the closed lid, the key and a new press of the pedal.
   *
   * @param paused whether a person asked to wait
   * @param emptied whether the seat was seen empty: what lies in it since may have been charged
   */
  record Loading(Batch batch, SeatZero zero, Pedal pedal, boolean paused, boolean emptied)
      implements BatchJob {

    /** After a verdict, or at the start: the seat is empty and the zero is due. */
    static Loading fresh(Batch batch, boolean paused) {
      return new Loading(batch, SeatZero.NONE, Pedal.NOT_PRESSED, paused, false);
    }

    /** After a trip: the magnet may still be in the nest, and the zero taken before it stands. */
    static Loading again(Batch batch, View view) {
      SeatZero zero = batch.zero().isPresent() ? SeatZero.standing(view.nowNs()) : SeatZero.NONE;
      return new Loading(batch, zero, Pedal.NOT_PRESSED, false, false);
    }

    @Override
    public JobStep step(View view) {
      if (view.trip().isPresent()) {
        return Tripped.from(batch, Optional.empty(), view);
      }
      if (batch.next().isEmpty() || view.commands().contains(Command.FINISH)) {
        return Done.from(batch, view);
      }
      Loading now = new Loading(batch, zero, pedal.seen(view), Steps.paused(paused, view), emptied);
      if (!view.contacts().closed(InputLine.WORK_SEAT)) {
        return now.empty(view);
      }
      if (now.mayStart(view)) {
        return now.start(view);
      }
      Loading seated = new Loading(batch, zero.interrupted(), now.pedal(), now.paused(), emptied);
      return Steps.to(seated, seated.lamps(), Steps.asked(view));
    }

    private JobStep empty(View view) {
      SeatZero more = zero.seen(view, batch);
      Loading next = new Loading(batch, more, pedal, paused, true);
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
      return Steps.to(new Loading(zeroed, taken, pedal, paused, true), lamps(), events);
    }

    /** Whether the zero is taken, so that a magnet may be put in. */
    public boolean ready() {
      return zero.taken();
    }

    private boolean mayStart(View view) {
      return !paused
          && zero.taken()
          && (emptied || !byHand())
          && pedal.fresh(view.nowNs(), batch.limits().pedalLapseNs())
          && view.contacts().closed(InputLine.LID_A)
          && view.contacts().closed(InputLine.LID_B)
          && view.contacts().closed(InputLine.STOP_LOOP)
          && view.contacts().closed(InputLine.ARM_KEY)
          && Quiet.is(view, batch.limits());
    }

    private JobStep start(View view) {
      if (BatchJig.away(view, batch)) {
        BatchJob home =
            new BatchJig.HomeJig(batch, BatchJig.parking(batch.jig().orElseThrow(), view));
        return Steps.to(home, Outputs.high(OutputLine.LAMP_BUSY), Steps.asked(view));
      }
      return begin(batch, view);
    }

    /** The attempt on the magnet in the nest begins. */
    static JobStep begin(Batch batch, View view) {
      Entry entry = batch.next().orElseThrow().begun();
      Batch begun = batch.with(entry);
      List<LedgerEvent> events = new ArrayList<>(Steps.asked(view));
      if (!batch.rereads()) {
        events.add(
            new LedgerEvent.MagnetStarted(
                entry.magnet(),
                entry.attempts(),
                entry.prepared().row().nest().name(),
                batch.mode().word()));
      }
      DialState dial = DialState.begin(begun.dial(entry, batch.zero().orElseThrow()), view.nowNs());
      Dialing next = new Dialing(begun, entry, dial, Afterwards.GO_ON);
      return Steps.to(next, Outputs.high(OutputLine.LAMP_BUSY), events);
    }

    /** Not ready before the zero is taken: a magnet put in too early would keep it from coming. */
    private Outputs lamps() {
      return paused || !zero.taken() ? Outputs.ALL_LOW : Outputs.high(OutputLine.LAMP_READY);
    }

    @Override
    public String sentence() {
      return LoadingWords.sentence(this);
    }

    boolean byHand() {
      return chargedBeforeSeated(batch);
    }

    @Override
    public HandCue cue() {
      return LoadingWords.cue(this);
    }
  }

  /**
   * A magnet is being dialed; keep the lid closed.
   *
   * @param after what a person has asked to follow
   */
  record Dialing(Batch batch, Entry entry, DialState dial, Afterwards after) implements BatchJob {
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
        // What was asked in this very scan was asked before anybody could know of the halt.
        List<LedgerEvent> events = new ArrayList<>(Steps.asked(view));
        events.addAll(step.events());
        events.addAll(halted.closing());
        Move.Finish end = new Move.Finish(Verdict.TRIPPED, halted.why());
        Attention next = new Attention(batch.after(entry, halted.dial(), end), halted.why());
        return Steps.to(next, step.wanted().and(OutputLine.BUZZER), events);
      }
      List<LedgerEvent> events = new ArrayList<>(step.events());
      events.addAll(Steps.asked(view));
      return new JobStep(
          new Dialing(batch, entry, step.next(), after.seen(view)),
          // Where a person is asked to act, the lid may be opened.
          step.wanted().with(OutputLine.LAMP_BUSY, !step.wanted().isHigh(OutputLine.LAMP_READY)),
          step.permit(),
          events,
          step.requests(),
          step.question());
    }

    private JobStep finished(DialState.Finished finished, DialStep step, View view) {
      Batch ended = batch.after(entry, finished.dial(), finished.finish());
      long verdictNumber = view.nextNumber() + step.events().size() - 1;
      List<LedgerEvent> events = new ArrayList<>(step.events());
      MagnetCurve.taught(finished.dial(), finished.finish())
          .ifPresent(curve -> events.addAll(curve.events(finished.dial().work())));
      events.addAll(Steps.asked(view));
      return Steps.to(
          new BatchVerdict.Recording(
              batch, ended, entry.name(), finished.finish(), verdictNumber, after.seen(view)),
          Outputs.high(OutputLine.LAMP_BUSY),
          events);
    }

    @Override
    public long magnet() {
      return entry.magnet();
    }

    @Override
    public HandCue cue() {
      return dial.cue();
    }

    @Override
    public String sentence() {
      return entry.name() + ": " + dial.sentence() + after.words();
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
      // The very scan of the trip may have brought the report of the pulse that was cut.
      return new Tripped(batch, cut, view.nowNs(), why).step(view);
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
          Dial told = cut.get().dial().dial(closing.get());
          Batch closed = batch.after(cut.get().entry(), told, end);
          now = new Tripped(closed, Optional.empty(), sinceNs, why);
        }
      }
      if (view.trip().isEmpty()
          && now.cut().isEmpty()
          && view.commands().contains(Command.CONTINUE)) {
        return Steps.to(loading(now.batch(), view), Outputs.ALL_LOW, events);
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
        List<LedgerEvent> events = new ArrayList<>(Steps.asked(view));
        batch.coilSeeing().ifPresent(events::add);
        return Steps.to(loading(batch.coilSeenTo(), view), Outputs.ALL_LOW, events);
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
      if (!batch.rereads()) {
        events.add(batch.ending(batch.open() == 0 ? "every magnet has its verdict" : "finished"));
      }
      return Steps.to(new Done(batch), Outputs.ALL_LOW, events);
    }

    @Override
    public JobStep step(View view) {
      return Steps.to(this, Steps.resting(view), Steps.asked(view));
    }

    @Override
    public boolean rests() {
      return true;
    }

    @Override
    public String sentence() {
      return "done";
    }
  }
}
