package lodestep.app;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.function.Supplier;
import lodestep.bench.BatchJob;
import lodestep.bench.Guided;
import lodestep.bench.HandJob;
import lodestep.bench.PoleJob;
import lodestep.bench.SeriesJob;
import lodestep.bench.Standby;
import lodestep.config.NestConfig;
import lodestep.panel.HandAct;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.Job;
import lodestep.sim.Controls;
import lodestep.sim.Plant;
import lodestep.sim.VirtualHand;
import lodestep.sim.VirtualOperator;
import lodestep.sim.VirtualRig;

/**
 * A person's hands at the virtual rig: what is drawn on the page is done to lid, key, pedal and
 * nest. {@link #offer} and {@link #stock} for any thread; the rest is the control thread's.
 */
final class VirtualHands {

  /** As long as a foot stays on a pedal. */
  private static final long PEDAL_NS = 200_000_000L;

  /** Nobody's hands are quicker than the scans that take this up. */
  private static final int ROOM = 16;

  private final VirtualRig rig;
  private final Plant plant;
  private final Controls controls;
  private final SplittableRandom lies;
  private final VirtualSpare spare;
  private final BlockingQueue<HandAct> acts = new ArrayBlockingQueue<>(ROOM);
  private Supplier<Job> job = () -> new Standby(Optional.empty());
  private Runnable goOn = () -> {};
  private volatile Map<String, VirtualOperator.Piece> pieces = Map.of();
  private Map<String, VirtualOperator.Piece> mountedFor = Map.of();
  private volatile Optional<Laid> laid = Optional.empty();
  private Optional<Laid> workedFor = Optional.empty();
  private Optional<VirtualHand> worker = Optional.empty();
  private HandAsk asked = HandAsk.WAIT;
  private volatile boolean seated;
  private Optional<Long> pedalUpAtNs = Optional.empty();

  /**
   * @param spare what is put in while nothing is under way
   * @param seed of how each magnet lies
   */
  VirtualHands(VirtualRig rig, VirtualSpare spare, long seed) {
    this.rig = rig;
    this.plant = rig.plant();
    this.controls = rig.controls();
    this.lies = new SplittableRandom(seed);
    this.spare = spare;
  }

  /**
   * Whose work this is; said once, before the first step.
   *
   * @param saysDone a hand's word that what was asked is done
   */
  void workFor(Supplier<Job> newest, Runnable saysDone) {
    job = newest;
    goOn = saysDone;
  }

  /** The magnets that lie beside the bench, by their names; those of an earlier batch are gone. */
  void stock(Map<String, VirtualOperator.Piece> made) {
    pieces = Map.copyOf(made);
  }

  /**
   * What lies beside the bench for guided readings.
   *
   * @param seat what holds it at the gauge
   * @param order what is laid there, one after the other
   * @param winder who works one by hand; empty where nothing is worked
   */
  record Laid(NestConfig seat, List<VirtualOperator.Piece> order, Optional<Winder> winder) {
    Laid {
      order = List.copyOf(order);
    }

    Laid(NestConfig seat, List<VirtualOperator.Piece> order) {
      this(seat, order, Optional.empty());
    }

    /** One magnet that is charged and knocked down by hand in this nest. */
    static Laid worked(NestConfig seat, Winder winder) {
      return new Laid(seat, List.of(), Optional.of(winder));
    }
  }

  /** A hand with jaws and an opposing magnet. */
  @FunctionalInterface
  interface Winder {
    /** The hand beside this rig; made on the control thread. */
    VirtualHand beside(VirtualRig rig, Supplier<HandCue> cues, Runnable goOn);
  }

  /** Lays this beside the bench, in the place of what lay there. */
  void bring(Laid brought) {
    laid = Optional.of(brought);
  }

  /** Whether something lies in the nest. Any thread. */
  boolean seated() {
    return seated;
  }

  /** Does this as soon as the rig moves on; false when more waits than hands can do. */
  boolean offer(HandAct act) {
    return acts.offer(act);
  }

  /** One millisecond of hands. */
  void step(long nowNs) {
    if (pedalUpAtNs.isPresent() && nowNs - pedalUpAtNs.get() >= 0) {
      controls.pedal(false);
      pedalUpAtNs = Optional.empty();
    }
    if (mountedFor != pieces && controls.seated().isEmpty() && nextPiece().isPresent()) {
      mountedFor = pieces;
      mountNext();
    }
    mountSeat();
    workByHand(nowNs);
    if (!acts.isEmpty()) {
      HandAct act = acts.poll();
      if (act != null) {
        carryOut(act, nowNs);
      }
    }
    seated = controls.seated().isPresent();
  }

  private void carryOut(HandAct act, long nowNs) {
    boolean done =
        switch (act) {
          case OPEN_LID -> lid(false);
          case CLOSE_LID -> lid(true);
          case KEY_ON -> key(true);
          case KEY_OFF -> key(false);
          case PEDAL -> pedal(nowNs);
          case PUT_IN -> putIn();
          case TAKE_OUT -> takeOut();
          case AS_ASKED -> asIsAsked();
        };
    if (!done) {
      // A closed lid keeps hands out, as on a real rig; the page shows the lid and says so.
      acts.clear();
    }
  }

  private boolean lid(boolean closed) {
    controls.lid(closed);
    return true;
  }

  private boolean key(boolean on) {
    controls.armKey(on);
    return true;
  }

  private boolean pedal(long nowNs) {
    controls.pedal(true);
    pedalUpAtNs = Optional.of(nowNs + PEDAL_NS);
    return true;
  }

  private boolean takeOut() {
    if (controls.lidShut()) {
      return false;
    }
    controls.unseat();
    mountNext();
    return true;
  }

  /** What is asked by hand now may be done: each time a person presses for it, and only then. */
  private boolean asIsAsked() {
    if (controls.lidShut() || !(job.get() instanceof HandJob hand)) {
      return false;
    }
    asked = hand.cue().ask();
    return true;
  }

  private void workByHand(long nowNs) {
    Optional<Laid> now = laid;
    if (!workedFor.equals(now)) {
      workedFor = now;
      worker = now.flatMap(Laid::winder).map(winder -> winder.beside(rig, this::heard, goOn));
    }
    worker.ifPresent(hand -> hand.step(nowNs));
  }

  /** To take the opposing magnet away nobody waits for a finger on a page. */
  private HandCue heard() {
    HandCue cue = job.get() instanceof HandJob hand ? hand.cue() : HandCue.of(HandAsk.WAIT);
    if (cue.ask() != asked) {
      asked = HandAsk.WAIT;
    }
    return cue.ask() == asked || cue.ask() == HandAsk.AWAY ? cue : HandCue.of(HandAsk.WAIT);
  }

  private boolean putIn() {
    if (controls.lidShut() || controls.seated().isPresent()) {
      return false;
    }
    Optional<VirtualOperator.Piece> piece =
        job.get().rests() ? Optional.of(spare.next(plant.nestName())) : nextPiece();
    piece.ifPresent(
        next -> {
          chargeIfAsked(next);
          controls.seat(next.magnet(), lies);
        });
    return piece.isPresent();
  }

  /** The nest of the magnet that is next is put on when the old one is empty. */
  private void mountNext() {
    nextPiece()
        .filter(next -> !(job.get() instanceof Guided))
        .filter(next -> !next.nest().equals(plant.nestName()))
        .ifPresent(next -> plant.mount(next.nest()));
  }

  /** What is to hold it is put at the gauge as soon as nothing lies there. */
  private void mountSeat() {
    if (job.get() instanceof Guided guided && !guided.over() && controls.seated().isEmpty()) {
      laid.map(Laid::seat)
          .filter(seat -> !seat.name().equals(plant.nestName()))
          .ifPresent(plant::mount);
    }
  }

  private Optional<VirtualOperator.Piece> nextPiece() {
    if (job.get() instanceof Guided guided) {
      int next = taken(guided);
      return laid.map(Laid::order)
          .filter(all -> !guided.over() && next < all.size())
          .map(all -> all.get(next));
    }
    return job.get() instanceof BatchJob batch
        ? batch.batch().next().map(entry -> pieces.get(entry.name()))
        : Optional.empty();
  }

  /** How many have been read so far; a reference magnet is the same each time. */
  private static int taken(Guided job) {
    if (job instanceof PoleJob poles) {
      return poles.poles().read().size();
    }
    return job instanceof SeriesJob series ? series.series().taken().size() : 0;
  }

  private void chargeIfAsked(VirtualOperator.Piece piece) {
    HandCue cue = job.get() instanceof BatchJob batch ? batch.cue() : HandCue.of(HandAsk.WAIT);
    boolean north = cue.ask() == HandAsk.CHARGE_NORTH;
    if (north || cue.ask() == HandAsk.CHARGE_SOUTH) {
      double field = VirtualOperator.JAWS_AMPERES_PER_METRE;
      piece.magnet().applyPulse(north ? field : 0, north ? 0 : field, north);
    }
  }
}
