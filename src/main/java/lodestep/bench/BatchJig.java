package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Supplier;
import lodestep.config.JigConfig;
import lodestep.device.JigMove;
import lodestep.dial.GapCurve;
import lodestep.dial.Quiet;
import lodestep.port.Command;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.InputLine;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/** The states of a batch in which the jig is proven and not worked with. */
public final class BatchJig {

  private static final String LID = "the lid was opened while the jig's field was measured; ";
  private static final String SEATED =
      "something lay in the nest while the jig's field was measured; take it out, ";

  private static final String MAGNETIC =
      "the gauge reads more than the jig's magnet can make over an empty nest, whatever the seat"
          + " says: see that no magnet lies in it or near it; ";

  private BatchJig() {}

  /** Whether nothing disturbs the gauge: nothing energised, and a jig parked. */
  static boolean quiet(View view, Batch batch) {
    return Quiet.is(view, batch.limits()) && !away(view, batch);
  }

  /** Whether there is a jig that does not stand proven at its park position. */
  static boolean away(View view, Batch batch) {
    return batch.jig().map(jig -> !JigMove.parked(jig, view)).orElse(false);
  }

  /** Home, and then to the park position. */
  static JigMove parking(JigConfig jig, View view) {
    return JigMove.through(jig, List.of(0, (int) jig.screw().park().microMetres()), view.nowNs());
  }

  private static boolean lidShut(View view) {
    return view.contacts().closed(InputLine.LID_A) && view.contacts().closed(InputLine.LID_B);
  }

  private static boolean seated(View view) {
    return view.contacts().closed(InputLine.WORK_SEAT);
  }

  /**
   * Once each start: waits for the lid closed over an empty nest, and the pedal.
   *
   * @param before what came before, as the beginning of a sentence; empty at the start
   */
  public record AskEmptyNest(Batch batch, Pedal pedal, String before) implements BatchJob {

    static AskEmptyNest of(Batch batch) {
      return because(batch, "");
    }

    static AskEmptyNest because(Batch batch, String before) {
      return new AskEmptyNest(batch, Pedal.NOT_PRESSED, before);
    }

    @Override
    public JobStep step(View view) {
      if (view.trip().isPresent()) {
        return Tripped.from(batch, Optional.empty(), view);
      }
      // The program may have ended between the last verdict and the batch's end.
      if (batch.next().isEmpty() || view.commands().contains(Command.FINISH)) {
        return Done.from(batch, view);
      }
      AskEmptyNest now = new AskEmptyNest(batch, pedal.seen(view), before);
      boolean ready =
          now.pedal().fresh(view.nowNs(), batch.limits().pedalLapseNs())
              && !seated(view)
              && lidShut(view)
              && view.contacts().closed(InputLine.STOP_LOOP)
              && view.contacts().closed(InputLine.ARM_KEY)
              && Quiet.is(view, batch.limits());
      return ready
          ? Steps.to(
              MeasureJig.begin(batch, view), Outputs.high(OutputLine.LAMP_BUSY), Steps.asked(view))
          : Steps.to(now, Outputs.high(OutputLine.LAMP_READY), Steps.asked(view));
    }

    @Override
    public HandCue cue() {
      return HandCue.of(HandAsk.LEAVE_EMPTY);
    }

    @Override
    public String sentence() {
      return before
          + "leave the nest empty, close the lid and press the pedal: the jig finds its home and"
          + " the gauge measures its field";
    }
  }

  /**
   * Finds home, then reads the gauge with the carriage at several heights over the empty nest: that
   * gives the gap curve, and the stray field at the park position.
   *
   * <p>While the gauge is read nothing is driven, so that the lid opens without a trip. Whatever
   * the seat's contact says then, a hand may have been at the nest: that ends the measurement, and
   * from where the carriage stands it goes only up until the nest is said to be empty again.
   *
   * @param heights still to go to, from home
   * @param move on the way, while there is one
   * @param counts of the lines read at this height
   */
  public record MeasureJig(
      Batch batch,
      List<Integer> heights,
      Optional<JigMove> move,
      long quietSinceNs,
      List<Integer> counts,
      List<GapCurve.Station> stations)
      implements BatchJob {

    private static final double[] PARTS = {0.25, 0.5, 0.68, 0.82, 0.92, 1};

    /** So near to the gauge the field grows too steep for a straight look at it. */
    private static final double NEAREST_METRES = 14e-3;

    private static final double SWITCH_METRES = 1e-3;
    private static final int LINES = 40;
    private static final long QUIET_NS = 200_000_000L;

    public MeasureJig {
      heights = List.copyOf(heights);
      counts = List.copyOf(counts);
      stations = List.copyOf(stations);
    }

    static MeasureJig begin(Batch batch, View view) {
      JigConfig jig = batch.jig().orElseThrow();
      int park = (int) jig.screw().park().microMetres();
      double most =
          Math.min(
              jig.screw().travel().metres() - SWITCH_METRES,
              jig.heightAtHome().metres() - NEAREST_METRES);
      List<Integer> heights = new ArrayList<>();
      heights.add(park);
      for (double part : PARTS) {
        heights.add((int) Math.round(park + part * (most * 1e6 - park)));
      }
      return new MeasureJig(
          batch, heights, Optional.of(parking(jig, view)), 0, List.of(), List.of());
    }

    @Override
    public JobStep step(View view) {
      if (view.trip().isPresent()) {
        return Tripped.from(batch, Optional.empty(), view);
      }
      if (!lidShut(view)) {
        return LeaveNest.asking(batch, LID, view);
      }
      if (seated(view)) {
        return LeaveNest.because(batch, SEATED, view);
      }
      return move.isPresent() ? moving(view, move.get()) : reading(view);
    }

    private JobStep moving(View view, JigMove on) {
      JigMove.Step step = on.step(view);
      if (step.next().failed().isPresent()) {
        return attention(step.next().failed().get(), view);
      }
      if (step.next().done()) {
        return heights.isEmpty() ? over(view) : stay(arrived(view), view);
      }
      MeasureJig next =
          new MeasureJig(batch, heights, Optional.of(step.next()), 0, List.of(), stations);
      return new JobStep(
          next,
          step.wanted().and(OutputLine.LAMP_BUSY),
          step.permit(),
          Steps.asked(view),
          step.requests(),
          Optional.empty());
    }

    private MeasureJig arrived(View view) {
      return new MeasureJig(batch, heights, Optional.empty(), view.nowNs(), List.of(), stations);
    }

    private JobStep reading(View view) {
      if (!Quiet.is(view, batch.limits())) {
        return stay(arrived(view), view);
      }
      List<Integer> more = new ArrayList<>(counts);
      for (ReceivedFrame received : view.frames()) {
        if (received.frame() instanceof HeadFrame.Status status
            && received.receivedAtNs() - quietSinceNs > QUIET_NS) {
          more.add(status.hallCounts());
        }
      }
      if (more.size() < LINES) {
        return stay(
            new MeasureJig(batch, heights, Optional.empty(), quietSinceNs, more, stations), view);
      }
      List<GapCurve.Station> seen = new ArrayList<>(stations);
      seen.add(station(more, view));
      List<Integer> rest = heights.subList(1, heights.size());
      JigConfig jig = batch.jig().orElseThrow();
      if (GapCurve.moreThanTheJig(jig, standOff(), seen)) {
        return LeaveNest.because(batch, MAGNETIC, view);
      }
      JigMove next =
          rest.isEmpty()
              ? parking(jig, view)
              : JigMove.through(jig, rest.subList(0, 1), view.nowNs());
      return stay(new MeasureJig(batch, rest, Optional.of(next), 0, List.of(), seen), view);
    }

    private GapCurve.Station station(List<Integer> lines, View view) {
      double perTesla = batch.calibration().countsPerTesla();
      double mean = lines.stream().mapToInt(Integer::intValue).average().orElse(0);
      int at = view.status().map(status -> status.frame().positionMicroMetres()).orElse(0);
      return new GapCurve.Station(Length.ofMicroMetres(at), new FluxDensity(mean / perTesla));
    }

    private JobStep over(View view) {
      JigConfig jig = batch.jig().orElseThrow();
      GapCurve.Measured measured = GapCurve.measured(jig, standOff(), stations);
      if (measured instanceof GapCurve.Measured.Refused refused) {
        return attention(refused.why(), view);
      }
      GapCurve.Measured.Fits fits = measured.fits().orElseThrow();
      Optional<String> jump = jump(batch.memory().gap(), fits.curve());
      Batch known = batch.with(batch.memory().with(fits.curve()));
      if (jump.isPresent()) {
        return Steps.to(
            new Attention(known.with(Optional.empty()), jump.get()),
            Outputs.high(OutputLine.BUZZER),
            Steps.asked(view));
      }
      List<LedgerEvent> events = new ArrayList<>(Steps.asked(view));
      events.add(entry(fits));
      return Steps.to(Loading.fresh(known, false), Outputs.ALL_LOW, events);
    }

    private Length standOff() {
      return batch.next().orElse(batch.entries().get(0)).prepared().row().nest().standOff();
    }

    /** Why the stray field is not that of the last start any more; empty when it is. */
    private Optional<String> jump(GapCurve last, GapCurve now) {
      boolean first = last.stray().tesla() == 0;
      double jump = Math.abs(now.stray().tesla() - last.stray().tesla());
      return first || jump <= batch.limits().zeroJump().tesla()
          ? Optional.empty()
          : Optional.of(
              String.format(
                  Locale.ROOT,
                  "the jig's stray field at the gauge was %s and is %s; see that the opposing"
                      + " magnet sits firmly and no other magnet is near, and it is measured"
                      + " again",
                  last.stray().inGauss(),
                  now.stray().inGauss()));
    }

    private LedgerEvent entry(GapCurve.Measured.Fits fits) {
      return new LedgerEvent.GapCurveMeasured(
          Math.round(fits.curve().strength() * 1e6),
          Math.round(fits.curve().heightMetres() * 1e6),
          Math.round(fits.curve().stray().tesla() * 1e9),
          Math.round(fits.strayUncertainty().tesla() * 1e9),
          stations.size(),
          batch.calibrationNumber());
    }

    private JobStep attention(String why, View view) {
      return Steps.to(
          new Attention(batch.with(Optional.empty()), why),
          Outputs.high(OutputLine.BUZZER),
          Steps.asked(view));
    }

    private static JobStep stay(MeasureJig next, View view) {
      return Steps.to(next, Outputs.high(OutputLine.LAMP_BUSY), Steps.asked(view));
    }

    @Override
    public String sentence() {
      return stations.isEmpty()
          ? "the jig finds its home"
          : "the gauge measures the jig's field, height " + stations.size() + " of 7";
    }
  }

  /**
   * What follows from a step of the carriage.
   *
   * @param failed the batch as it is given to a person if the carriage failed
   * @param going the state that goes on with it
   * @param done what follows once it has arrived
   */
  private static JobStep moved(
      JigMove.Step step,
      Batch failed,
      View view,
      Function<JigMove, BatchJob> going,
      Supplier<JobStep> done) {
    if (step.next().failed().isPresent()) {
      return Steps.to(
          new BatchJob.Attention(failed, step.next().failed().get()),
          Outputs.high(OutputLine.BUZZER),
          Steps.asked(view));
    }
    if (step.next().done()) {
      return done.get();
    }
    return new JobStep(
        going.apply(step.next()),
        step.wanted().and(OutputLine.LAMP_BUSY),
        step.permit(),
        Steps.asked(view),
        step.requests(),
        Optional.empty());
  }

  /**
   * Something lies in the nest over which the jig's field was being measured: the carriage goes up,
   * home and to its park position, and the nest is asked empty again.
   *
   * @param why what was seen, as the beginning of a sentence
   */
  public record LeaveNest(Batch batch, JigMove move, String why) implements BatchJob {

    static JobStep because(Batch batch, String why, View view) {
      return new LeaveNest(batch, parking(batch.jig().orElseThrow(), view), why).step(view);
    }

    static JobStep asking(Batch batch, String before, View view) {
      return Steps.to(
          AskEmptyNest.because(batch, before),
          Outputs.high(OutputLine.LAMP_READY),
          Steps.asked(view));
    }

    @Override
    public JobStep step(View view) {
      if (view.trip().isPresent()) {
        return Tripped.from(batch, Optional.empty(), view);
      }
      return moved(
          move.step(view),
          batch.with(Optional.empty()),
          view,
          now -> new LeaveNest(batch, now, why),
          () -> asking(batch, why, view));
    }

    @Override
    public String sentence() {
      return "something lies in the nest: the jig goes up";
    }
  }

  /** After a trip the jig may stand anywhere: home and to its park position, then the magnet. */
  public record HomeJig(Batch batch, JigMove move) implements BatchJob {
    @Override
    public JobStep step(View view) {
      if (view.trip().isPresent()) {
        return Tripped.from(batch, Optional.empty(), view);
      }
      return moved(
          move.step(view),
          batch,
          view,
          now -> new HomeJig(batch, now),
          () -> Loading.begin(batch, view));
    }

    @Override
    public String sentence() {
      return "the jig finds its home";
    }
  }
}
