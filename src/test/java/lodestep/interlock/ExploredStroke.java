package lodestep.interlock;

import java.util.List;
import java.util.Optional;
import java.util.stream.DoubleStream;
import lodestep.device.ActResult;
import lodestep.device.ActStep;
import lodestep.device.JigMove;
import lodestep.device.Order;
import lodestep.device.Outcome;
import lodestep.device.StrokePlan;
import lodestep.device.StrokeState;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadRequest;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;

/**
 * The real sequence of a jig's stroke, and its way home, with the real interlocks on the drawn rig.
 * In each scan a person may have home sought or a stroke ordered, which begins only with the jig
 * parked, the disk may be slow, and parts may do other than they should. A trip cuts what is under
 * way.
 */
final class ExploredStroke implements ExploredMending.Mended<ExploredStroke.Place> {

  /**
   * The rig and what is under way.
   *
   * @param act the stroke; empty while none is ordered
   * @param home the way home; empty while it is not sought
   * @param lowestMm the lowest place that the carriage truly had in this stroke
   * @param strayed whether it has moved in it
   * @param unsure whether the count was wrong at any time in it
   * @param proved whether the carriage truly came to the home switch in it, and was found there
   * @param delivered whether a stroke was put on record as delivered in this scan
   */
  record Place(
      ExploredPlace rig,
      Optional<StrokeState> act,
      Optional<JigMove> home,
      int lowestMm,
      boolean strayed,
      boolean unsure,
      boolean proved,
      boolean delivered) {

    static Place resting(ExploredPlace rig, boolean delivered) {
      return new Place(rig, Optional.empty(), Optional.empty(), 0, false, false, false, delivered);
    }
  }

  private enum Choice {
    NOTHING,
    ORDER_STROKE,
    SEEK_HOME,
    DISK_SLOW
  }

  private static final Choice[] CHOICES = Choice.values();
  private static final long HELD_MS = 150;
  private static final int AHEAD_MICRO_METRES = 4_000;

  private final ExploredRig rig;
  private final List<Deviation> deviations;
  private final StrokePlan plan;

  ExploredStroke(long scanMs, List<Deviation> deviations) {
    this(scanMs, deviations, ExploredRig.logic(ExploredKind.JIG, HELD_MS)::step);
  }

  ExploredStroke(long scanMs, List<Deviation> deviations, ExploredRig.Interlocks interlocks) {
    this.rig =
        new ExploredRig(
            ExploredKind.JIG,
            scanMs,
            HELD_MS,
            deviations,
            List.of(ExploredJob.NOTHING),
            interlocks);
    this.deviations = List.copyOf(deviations);
    this.plan =
        new StrokePlan(
            new Order(1, 1, 1, "knock-down", false, new FieldStrength(40e3)),
            Length.ofMm(ExploredKind.LOWEST_MM),
            Length.ofMm(3),
            ExploredView.INTENT,
            DoubleStream.iterate(1_000, field -> field * 1.1).limit(40).boxed().toList(),
            ExploredKind.A_JIG,
            rig.limits());
  }

  @Override
  public Place powerOn() {
    return Place.resting(rig.powerOn(), false);
  }

  @Override
  public int choices() {
    return CHOICES.length << deviations.size();
  }

  @Override
  public String words(int choice) {
    return CHOICES[choice >> deviations.size()] + "; " + rig.words(deviating(choice));
  }

  private int deviating(int choice) {
    return choice & (1 << deviations.size()) - 1;
  }

  @Override
  public Explorer.Step<Place> step(Place place, int choice) {
    return step(place, CHOICES[choice >> deviations.size()], rig.deviating(deviating(choice)));
  }

  @Override
  public Place rest(Place place, long hand) {
    return step(place, Choice.NOTHING, hand).next();
  }

  /**
   * As after every trip: home, and to the park position, and then a look whether it stands there.
   */
  @Override
  public Place prepare(Place place) {
    boolean over = !busy(place) && place.rig().facts().jig().off() < 2;
    return step(place, over ? Choice.NOTHING : Choice.SEEK_HOME, 0).next();
  }

  @Override
  public Place order(Place place) {
    return step(place, Choice.ORDER_STROKE, 0).next();
  }

  @Override
  public boolean ready(Place place) {
    return !busy(place)
        && Permissive.of(place.rig().interlocks().row()).permit()
        && place.rig().interlocks().row().met(Condition.JIG_PARKED);
  }

  @Override
  public boolean busy(Place place) {
    return place.act().isPresent() || place.home().isPresent();
  }

  @Override
  public boolean worked(Place place) {
    return place.delivered();
  }

  /** Steps that were lost unseen show only when home is sought, or by a switch on the way. */
  @Override
  public boolean hidden(Place place) {
    return !place.rig().rig().carriage().sure();
  }

  @Override
  public Optional<String> trip(Place place) {
    return place.rig().interlocks().trip().map(trip -> trip.cause().name());
  }

  private Explorer.Step<Place> step(Place place, Choice choice, long wrong) {
    Working working = new Working(place, choice);
    Explorer.Step<ExploredPlace> rigStep = rig.step(place.rig(), working, wrong);
    ExploredPlace after = rigStep.next();
    int at = after.rig().carriage().atMm();
    boolean going = place.act().isPresent();
    int lowest = Math.max(going ? place.lowestMm() : 0, at);
    boolean moved =
        at != place.rig().rig().carriage().atMm() && !Deviation.HEAD_STEPS_ALONE.in(wrong);
    boolean strayed = moved || (going && place.strayed());
    boolean unsure = !after.rig().carriage().sure() || (going && place.unsure());
    boolean proved = proves(place.rig(), after) || (going && place.proved());
    Optional<String> broken =
        rigStep
            .broken()
            .or(() -> working.broken)
            .or(() -> misled(working, after))
            .or(() -> untrue(working, lowest, strayed, unsure, proved));
    boolean delivered =
        working.result.filter(end -> end.outcome() == Outcome.DELIVERED).isPresent();
    Place next =
        working.act.isPresent()
            ? new Place(
                after, working.act, Optional.empty(), lowest, strayed, unsure, proved, false)
            : new Place(after, Optional.empty(), working.home, 0, false, false, false, delivered);
    return new Explorer.Step<>(next, broken);
  }

  private static boolean proves(ExploredPlace before, ExploredPlace after) {
    ExploredCarriage.Way way = before.rig().carriage().way();
    ExploredCarriage now = after.rig().carriage();
    boolean seeks =
        way == ExploredCarriage.Way.SEEKS_HOME || way == ExploredCarriage.Way.CREEPS_HOME;
    boolean found = seeks && now.way() == ExploredCarriage.Way.STANDS && now.homed();
    return found && now.sure();
  }

  /** What the gauge relies on: said to be parked it is, unless no one could know better. */
  private static Optional<String> misled(Working working, ExploredPlace after) {
    ExploredCarriage carriage = after.rig().carriage();
    return working.parked && carriage.sure() && carriage.atMm() != ExploredKind.PARK_MM
        ? Optional.of("J-10: taken for parked, and it is away")
        : Optional.empty();
  }

  /**
   * The record may not say more than what was. As many steps lost before the lowest place as after
   * it leave no trace: the rig has no encoder. Nor does a home switch that lies twice in one place.
   */
  private Optional<String> untrue(
      Working working, int lowest, boolean strayed, boolean unsure, boolean proved) {
    if (working.result.isEmpty()) {
      return Optional.empty();
    }
    Outcome outcome = working.result.get().outcome();
    boolean there = unsure || lowest >= ExploredKind.LOWEST_MM;
    boolean home = proved || (unsure && homeLies());
    if (outcome == Outcome.DELIVERED && !(there && home)) {
      return Optional.of("INV-17: on record as delivered, and it did not go there and home");
    }
    if (outcome == Outcome.NOT_FIRED && strayed) {
      return Optional.of("INV-17: on record as not fired, and it moved");
    }
    return Optional.empty();
  }

  private boolean homeLies() {
    return deviations.contains(Deviation.HOME_SWITCH_STAYS_CLOSED)
        || deviations.contains(Deviation.HOME_WIRE_BROKEN);
  }

  @Override
  public void describe(Place place, Fingerprint to) {
    rig.describe(place.rig(), to);
    to.put(place.lowestMm())
        .put(place.strayed())
        .put(place.unsure())
        .put(place.proved())
        .put(place.delivered());
    to.put(place.act().isPresent()).put(place.home().isPresent());
    AgesOf ages = place.rig().ages(rig, to);
    place.act().ifPresent(ages::put);
    place.home().ifPresent(move -> ages.put(move, false));
  }

  /** One scan of the work. */
  private final class Working implements ExploredRig.Work {

    private final Place place;
    private final Choice choice;
    private Optional<StrokeState> act = Optional.empty();
    private Optional<JigMove> home = Optional.empty();
    private Optional<ActResult> result = Optional.empty();
    private Optional<String> broken = Optional.empty();
    private boolean parked;

    Working(Place place, Choice choice) {
      this.place = place;
      this.choice = choice;
    }

    @Override
    public ExploredJob wants(InterlockInputs in, InterlockStep judged) {
      if (judged.next().trip().isPresent()) {
        result = place.act().map(going -> going.cut("a trip"));
        return ExploredJob.NOTHING;
      }
      View view = ExploredView.of(in, judged, in.frames(), choice != Choice.DISK_SLOW);
      boolean news = in.status().isPresent() && in.status().get().receivedAtNs() == in.nowNs();
      parked = news && JigMove.parked(ExploredKind.A_JIG, view);
      if (place.home().isPresent() || sought()) {
        return homewards(view);
      }
      Optional<StrokeState> now = place.act().or(() -> ordered(view));
      return now.isPresent() ? stroke(now.get(), view) : ExploredJob.NOTHING;
    }

    private boolean sought() {
      return choice == Choice.SEEK_HOME && place.act().isEmpty();
    }

    private Optional<StrokeState> ordered(View view) {
      return choice == Choice.ORDER_STROKE && JigMove.parked(ExploredKind.A_JIG, view)
          ? Optional.of(StrokeState.begin(plan, view.nowNs()))
          : Optional.empty();
    }

    private ExploredJob homewards(View view) {
      List<Integer> way = List.of(0, ExploredKind.PARK_MM * 1_000);
      JigMove now =
          place.home().orElseGet(() -> JigMove.through(ExploredKind.A_JIG, way, view.nowNs()));
      JigMove.Step step = now.step(view);
      home = step.next().done() ? Optional.empty() : Optional.of(step.next());
      return job(step.wanted().isHigh(OutputLine.JIG_ENABLE), step.requests(), view);
    }

    private ExploredJob stroke(StrokeState now, View view) {
      ActStep step = now.step(view);
      StrokeState next = (StrokeState) step.next();
      result = next.result();
      act = result.isPresent() ? Optional.empty() : Optional.of(next);
      boolean moves = step.wanted().isHigh(OutputLine.JIG_ENABLE);
      if (moves && place.act().isEmpty()) {
        broken = broken.or(() -> Optional.of("INV-15: the jig driven before its intent waited"));
      }
      return job(moves, step.requests(), view);
    }

    private ExploredJob job(boolean moves, List<HeadRequest> requests, View view) {
      int mm = ExploredCarriage.NOTHING;
      for (HeadRequest request : requests) {
        if (request instanceof HeadRequest.MoveTo move) {
          mm = Math.floorDiv(move.positionMicroMetres(), 1_000);
          broken = broken.or(() -> wrongMove(move.positionMicroMetres(), view));
        }
      }
      return new ExploredJob(
          moves ? Outputs.high(OutputLine.JIG_ENABLE) : Outputs.ALL_LOW, moves, false, mm);
    }

    /** Nothing is stepped without permit and driver, nor far ahead. */
    private static Optional<String> wrongMove(int microMetres, View view) {
      boolean on =
          view.driven().isHigh(OutputLine.JIG_ENABLE)
              && view.status().isPresent()
              && view.status().get().frame().has(HeadFlag.PERMIT);
      if (!on) {
        return Optional.of("J-08: a step asked for without permit or driver");
      }
      int at = view.status().get().frame().positionMicroMetres();
      boolean far = microMetres > at + AHEAD_MICRO_METRES && microMetres != 0;
      return far || microMetres < 0 ? Optional.of("J-09: sent too far ahead") : Optional.empty();
    }
  }
}
