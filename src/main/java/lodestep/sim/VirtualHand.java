package lodestep.sim;

import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.function.Supplier;
import lodestep.magnet.Shape;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.quantity.Length;

/**
 * Stands for the winder at a head with no actuator: does what she is asked, as fast as hands are.
 * She charges between jaws, brings an opposing magnet down over the work, slower the nearer she is
 * told to be, overshoots the word "stop" by her reaction time, and says "go on" when a thing is
 * done. What she draws comes from her seed. Confined to the rig's thread.
 */
public final class VirtualHand {

  /** A disc of a strong alloy, as many a bench has one; sizes and figure are configuration. */
  private static final Shape OPPOSING = new Shape.Rod(Length.ofMm(24), Length.ofMm(18));

  private static final double OPPOSING_TESLA = 1.15;

  private static final double FAR_METRES = 0.2;
  private static final double NEAREST_METRES = 1e-3;

  /** Speed of the hand far away, and close to "stop". */
  private static final double FAST_METRES_PER_MS = 60e-6;

  private static final double SLOW_METRES_PER_MS = 2e-6;

  private static final double AWAY_METRES_PER_MS = 300e-6;

  /** The magnet in the nest has felt the field as soon as it has grown by this part. */
  private static final double GROWN = 1.005;

  /** Weaker fields do nothing to any magnet worth the name, in A/m. */
  private static final double NOTHING_AMPERES_PER_METRE = 1e3;

  private static final long NS_PER_MS = 1_000_000L;

  /**
   * How she is equipped.
   *
   * @param jawAmperesPerMetre field between her jaws, first charge first; the last stays
   * @param workHeight of the magnets along their axis
   * @param slowMillis by how much longer than usual she takes to hear "stop", first approach first;
   *     none is left after the last
   */
  public record Bench(List<Double> jawAmperesPerMetre, Length workHeight, List<Long> slowMillis) {
    public Bench {
      jawAmperesPerMetre = List.copyOf(jawAmperesPerMetre);
      slowMillis = List.copyOf(slowMillis);
    }
  }

  private final Controls controls;
  private final Plant plant;
  private final List<VirtualOperator.Piece> pieces;
  private final Bench bench;
  private final Supplier<HandCue> cues;
  private final Runnable goOn;
  private final SplittableRandom random;
  private final HandMagnet opposing;

  private HandCue seen;
  private HandCue heard;
  private boolean unheard;
  private long hearsAtNs;
  private long actAtNs;
  private boolean done;
  private boolean outForCharge;
  private int next;
  private int charges;
  private int approaches;
  private double gapMetres = FAR_METRES;
  private double feltAmperesPerMetre;
  private boolean opposesNorth;

  /**
   * @param pieces what she puts into the nest, in order
   * @param cues what she is asked now
   * @param goOn where she says that a thing is done
   */
  public VirtualHand(
      VirtualRig rig,
      List<VirtualOperator.Piece> pieces,
      Bench bench,
      Supplier<HandCue> cues,
      Runnable goOn,
      long seed) {
    this.controls = rig.controls();
    this.plant = rig.plant();
    this.pieces = List.copyOf(pieces);
    this.bench = bench;
    this.cues = cues;
    this.goOn = goOn;
    this.random = new SplittableRandom(seed);
    this.opposing = new HandMagnet(OPPOSING, OPPOSING_TESLA, bench.workHeight().metres());
    this.seen = HandCue.of(HandAsk.WAIT);
    this.heard = seen;
  }

  /** How many magnets have been put in. */
  public int seated() {
    return next;
  }

  /** She listens, and acts when she is ready to; called every millisecond. */
  public void step(long nowNs) {
    hear(nowNs);
    if (heard.ask() == HandAsk.CLOSER) {
      closer();
    } else {
      away();
    }
    if (done || nowNs - actAtNs < 0) {
      return;
    }
    act();
  }

  /** A cue that differs in kind is heard after her reaction time; how near she hears at once. */
  private void hear(long nowNs) {
    HandCue now = cues.get();
    if (now.ask() != seen.ask()) {
      seen = now;
      unheard = true;
      hearsAtNs = nowNs + (140 + random.nextInt(120) + slow(now.ask())) * NS_PER_MS;
    }
    if (heard.ask() == now.ask()) {
      heard = now;
    }
    // Also the same thing asked twice, with something else between that was too short to hear: who
    // asks again waits for it to be done again.
    if (unheard && nowNs - hearsAtNs >= 0) {
      heard = now;
      unheard = false;
      done = false;
      actAtNs = nowNs + (300 + random.nextInt(600)) * NS_PER_MS;
      oppose(nowNs);
    }
  }

  private long slow(HandAsk ask) {
    if (ask != HandAsk.AWAY) {
      return 0;
    }
    approaches++;
    List<Long> slow = bench.slowMillis();
    return approaches <= slow.size() ? slow.get(approaches - 1) : 0;
  }

  /** She feels by the push which way round to hold it. */
  private void oppose(long nowNs) {
    if (heard.ask() == HandAsk.CLOSER) {
      double field =
          controls
              .seated()
              .map(magnet -> magnet.faceFieldTesla(1e-3, plant.gaugeKelvin(), nowNs))
              .orElse(0.0);
      opposesNorth = field < 0;
      feltAmperesPerMetre = 0;
    }
  }

  private void closer() {
    double near = Math.min(1, heard.closeness() * 1.3);
    double speed = FAST_METRES_PER_MS * (1 - near) * (1 - near) + SLOW_METRES_PER_MS;
    hold(Math.max(NEAREST_METRES, gapMetres - speed));
  }

  private void away() {
    if (gapMetres >= FAR_METRES) {
      controls.hold(Optional.empty());
      return;
    }
    hold(gapMetres + AWAY_METRES_PER_MS);
  }

  private void hold(double gap) {
    gapMetres = gap;
    HeldMagnet held = new HeldMagnet(opposing, gap, opposesNorth);
    controls.hold(Optional.of(held));
    double field = held.atWork();
    if (field > NOTHING_AMPERES_PER_METRE && field > feltAmperesPerMetre * GROWN) {
      feltAmperesPerMetre = field;
      controls
          .seated()
          .ifPresent(
              magnet ->
                  magnet.applyPulse(
                      opposesNorth ? field : 0, opposesNorth ? 0 : field, opposesNorth));
    }
  }

  private void act() {
    done =
        switch (heard.ask()) {
          case LEAVE_EMPTY -> empty();
          case SEAT -> seat();
          case CHARGE_NORTH -> charge(true);
          case CHARGE_SOUTH -> charge(false);
          case LOOK -> say();
          case TAKE_OUT -> takeOut();
          case WAIT, CLOSER, AWAY -> true;
        };
  }

  private boolean empty() {
    controls.unseat();
    return say();
  }

  private boolean takeOut() {
    controls.unseat();
    return true;
  }

  private boolean seat() {
    if (next < pieces.size()) {
      VirtualOperator.Piece piece = pieces.get(next);
      next++;
      controls.seat(piece.magnet(), random);
    }
    return say();
  }

  /** Out of the nest first; between the jaws and back a little later. Whether it is done. */
  private boolean charge(boolean north) {
    if (!outForCharge) {
      outForCharge = true;
      controls.unseat();
      pause(1500, 3000);
      return false;
    }
    outForCharge = false;
    List<Double> jaws = bench.jawAmperesPerMetre();
    double field = jaws.get(Math.min(charges, jaws.size() - 1));
    charges++;
    SeatedMagnet magnet = pieces.get(Math.max(0, next - 1)).magnet();
    magnet.applyPulse(north ? field : 0, north ? 0 : field, north);
    controls.seat(magnet, random);
    return say();
  }

  private boolean say() {
    goOn.run();
    return true;
  }

  private void pause(int fromMs, int toMs) {
    actAtNs += (fromMs + random.nextInt(toMs - fromMs + 1)) * NS_PER_MS;
  }
}
