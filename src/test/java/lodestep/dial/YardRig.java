package lodestep.dial;

import java.util.SplittableRandom;
import lodestep.measure.SettledReading;
import lodestep.quantity.FluxDensity;

/** One magnet in its nest, its pulses and its readings. Mutable; draws from its own seed. */
final class YardRig {

  /** Placement, relative: what the level at nominal seat differs from what is read. */
  static final double SEATING = 0.0015;

  private static final double NOISE = 0.001;
  private static final double WANDER_TESLA = 5e-6;
  private static final double WANDER_STEP = 0.3;

  /** Of a pulse against the asked one; and the meter's floor of 5 mV of 48 V. */
  private static final double PULSE = 0.002;

  private static final double PULSE_FLOOR = 0.005 / 48;

  /** What the head tells of the peak current. */
  private static final double METER = 0.0005;

  private final YardPlant plant;
  private final YardPlant.Magnet magnet;
  private final double reach;
  private final SplittableRandom random;
  private final double seat;
  private double wander;
  private double largest;

  YardRig(YardPlant plant, YardPlant.Magnet magnet, double reachAperM, long seed) {
    this.plant = plant;
    this.magnet = magnet;
    this.reach = reachAperM;
    this.random = new SplittableRandom(seed);
    this.seat = 1 + SEATING * YardPlant.bounded(random);
    this.wander = WANDER_TESLA * random.nextGaussian();
  }

  void charge() {
    largest = 0;
  }

  /** The level at nominal seat, in tesla. */
  double truth() {
    return magnet.applyAsDouble(largest);
  }

  SettledReading read() {
    wander += WANDER_STEP * WANDER_TESLA * random.nextGaussian();
    double level = truth() * seat * (1 + NOISE * plant.noise(random)) + wander;
    return reading(level);
  }

  /** With the uncertainty that a reading of this level has, placement not counted. */
  static SettledReading reading(double level) {
    double u = Math.hypot(NOISE * level, WANDER_TESLA);
    return new SettledReading(new FluxDensity(level), new FluxDensity(u), 50, 50);
  }

  /** A reverse pulse; the peak in A/m as the head tells it. */
  double pulse(double asked) {
    double floor = PULSE_FLOOR * reach * random.nextGaussian();
    double delivered = asked * (1 + PULSE * random.nextGaussian()) + floor;
    largest = Math.max(largest, delivered);
    return delivered * (1 + METER * random.nextGaussian());
  }
}
