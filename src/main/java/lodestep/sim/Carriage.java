package lodestep.sim;

import java.util.SplittableRandom;
import lodestep.config.JigConfig;
import lodestep.magnet.Shape;

/**
 * The reverse jig as it stands: carriage on its screw, limit switches, opposing magnet. Its true
 * height and strength differ a little from rig.toml, as a built jig's do. The screw is
 * self-locking: with the driver off it stays where it is.
 *
 * <p>Between the two ends, a little beyond the switches, stand hard stops; against them, and while
 * it is stalled, the motor loses its steps. The opposing magnet's push keeps the nut on one flank,
 * so what is left of the backlash is {@link #BACKLASH_METRES}. Confined to its plant.
 */
final class Carriage {

  /** Way from a limit switch to the hard stop behind it. */
  private static final double STOP_METRES = 1.5e-3;

  /** A switch closes again this far from where it opened. */
  private static final double SWITCH_METRES = 60e-6;

  /** Configuration: what the push of the magnets leaves of a plain nut's play. */
  private static final double BACKLASH_METRES = 5e-6;

  private static final double HEIGHT_SIGMA_METRES = 0.4e-3;
  private static final double STRENGTH_SIGMA = 0.03;

  /** The carriage never lies further from home than this when the rig is switched on. */
  private static final double LEFT_AT_METRES = 12e-3;

  /** The slowest steps of a head come closer together than this. */
  private static final int STANDS_MS = 5;

  private final JigConfig jig;
  private final FaultState faults;
  private final Shape shape;
  private final double heightMetres;
  private final double polarisationTesla;
  private double motorMetres;
  private double positionMetres;
  private double lostSteps;
  private long ms;
  private long steppedAtMs;
  private boolean lastTowardsWork;
  private boolean homeClosed = true;
  private boolean farClosed = true;

  /**
   * @param build how this jig was built, the same each time it is switched on
   * @param drawn where it was left is drawn from here
   */
  Carriage(JigConfig jig, long build, Plant.Drawn drawn) {
    SplittableRandom random = new SplittableRandom(build);
    this.jig = jig;
    this.faults = drawn.faults();
    this.shape = new Shape.Rod(jig.magnet().diameter(), jig.magnet().length());
    this.heightMetres =
        jig.heightAtHome().metres() + HEIGHT_SIGMA_METRES * bounded(random.nextGaussian());
    this.polarisationTesla =
        jig.magnet().remanence().tesla() * (1 + STRENGTH_SIGMA * bounded(random.nextGaussian()));
    this.positionMetres =
        jig.screw().park().metres() + LEFT_AT_METRES * drawn.random().nextDouble();
    this.motorMetres = positionMetres;
    watchSwitches();
  }

  private static double bounded(double gaussian) {
    return Math.max(-2, Math.min(2, gaussian));
  }

  /**
   * One millisecond, before the head's steps of it: what a broken part does by itself.
   *
   * @param fed whether the motor has its supply
   */
  void byItself(boolean fed) {
    ms++;
    boolean stands = ms - steppedAtMs > STANDS_MS;
    if (fed && faults.jigRunsOn && stands) {
      double each = jig.screw().millimetresPerSecond() * 1e-6 / jig.screw().stepMetres();
      for (int made = 1; made <= each; made++) {
        move(lastTowardsWork);
      }
    }
  }

  /** The driver makes one step; {@code towardsWork} as the head means it. */
  void step(boolean towardsWork) {
    lastTowardsWork = towardsWork;
    steppedAtMs = ms;
    move(towardsWork);
  }

  private void move(boolean towardsWork) {
    if (faults.jigStalled) {
      return;
    }
    lostSteps += faults.jigStepsLostFraction;
    if (lostSteps >= 1) {
      lostSteps -= 1;
      return;
    }
    double way = jig.screw().stepMetres() * (towardsWork != faults.jigReversed ? 1 : -1);
    double next = motorMetres + way;
    if (next < -STOP_METRES || next > jig.screw().travel().metres() + STOP_METRES) {
      return;
    }
    motorMetres = next;
    positionMetres = Math.max(motorMetres, Math.min(positionMetres, motorMetres + BACKLASH_METRES));
    watchSwitches();
  }

  private void watchSwitches() {
    homeClosed = positionMetres > (homeClosed ? 0 : SWITCH_METRES);
    double far = jig.screw().travel().metres();
    farClosed = positionMetres < (farClosed ? far : far - SWITCH_METRES);
  }

  /** Whether the home switch is closed: away from home, its wire whole. */
  boolean homeClosed() {
    return (homeClosed || faults.jigHomeStuckClosed)
        && !faults.jigHomeOpen
        && !(faults.jigHomeFlickers && parted());
  }

  /** Whether the far switch is closed: away from the far end, its wire whole. */
  boolean farClosed() {
    return (farClosed || faults.jigFarStuckClosed)
        && !faults.jigFarOpen
        && !(faults.jigFarFlickers && parted());
  }

  /** A flickering contact is apart for three of each seven milliseconds. */
  private boolean parted() {
    return ms % 7 < 3;
  }

  /** True position from home, in metres. */
  double positionMetres() {
    return positionMetres;
  }

  /** The opposing magnet over work of this height, where it is now. */
  HeldMagnet over(double workHeightMetres) {
    double gap = heightMetres - positionMetres - workHeightMetres;
    double tesla = faults.jigMagnetLost ? 0 : polarisationTesla;
    return new HeldMagnet(
        new HandMagnet(shape, tesla, workHeightMetres),
        Math.max(0, gap),
        jig.magnet().northFaces());
  }

  /** Flux density it adds at the gauge, in tesla, signed. */
  double atGauge(double standOffMetres) {
    return over(0).atGauge(standOffMetres);
  }
}
