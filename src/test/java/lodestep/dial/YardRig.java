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

  // The converters, by the figures of the virtual rig's head.

  /** A bank of 48 V is set and read in whole millivolts. */
  private static final double BANK_STEP = 0.001 / 48;

  private static final double BANK_GAIN = 200e-6;

  /** The peak is told in whole milliamperes of 9.5 A. */
  private static final double PEAK_STEP = 0.001 / 9.5;

  private static final double PEAK_GAIN = 1000e-6;
  private static final double PEAK_NOISE = 200e-6;
  private static final double PEAK_FLOOR = 0.3 * PEAK_STEP;

  /** Copper's 0.393 % for each kelvin, and a thermometer good to a twentieth of one. */
  private static final double COPPER = 3.93e-3 * 0.05;

  /** A count of the Hall converter. */
  private static final double COUNT_TESLA = 2e-6;

  /**
   * What the converters of one rig are off by, all the time.
   *
   * @param bank gain of the bank's converter, less 1
   * @param peak gain of the current's, less 1
   */
  record Converters(double bank, double peak) {
    static Converters of(SplittableRandom random) {
      return new Converters(BANK_GAIN * random.nextGaussian(), PEAK_GAIN * random.nextGaussian());
    }
  }

  private final Converters converters;
  private final YardPlant plant;
  private final YardPlant.Magnet magnet;
  private final double reach;
  private final SplittableRandom random;
  private final double seat;
  private double wander;
  private double largest;

  YardRig(
      Converters converters,
      YardPlant plant,
      YardPlant.Magnet magnet,
      double reachAperM,
      long seed) {
    this.converters = converters;
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
    return reading(steps(level, COUNT_TESLA));
  }

  /** With the uncertainty that a reading of this level has, placement not counted. */
  static SettledReading reading(double level) {
    double u = Math.hypot(NOISE * level, WANDER_TESLA);
    return new SettledReading(new FluxDensity(level), new FluxDensity(u), 50, 50);
  }

  /**
   * A reverse pulse; the peak in A/m as the head tells it. The bank is set for the resistance that
   * the coil's thermometer says.
   */
  double pulse(double asked) {
    double set = steps(asked, BANK_STEP * reach) * (1 + converters.bank());
    double error = PULSE * random.nextGaussian() + COPPER * random.nextGaussian();
    double delivered = set * (1 + error) + PULSE_FLOOR * reach * random.nextGaussian();
    largest = Math.max(largest, delivered);
    double measured =
        delivered * (1 + converters.peak() + PEAK_NOISE * random.nextGaussian())
            + PEAK_FLOOR * reach * random.nextGaussian();
    return steps(measured, PEAK_STEP * reach);
  }

  private static double steps(double value, double step) {
    return step * Math.rint(value / step);
  }
}
