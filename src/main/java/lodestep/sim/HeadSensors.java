package lodestep.sim;

import java.util.SplittableRandom;
import lodestep.config.GaugeConfig;

/**
 * The head's converters: what they make of the plant, with their resolution, noise, small fixed
 * errors of gain and offset, and the slow wander of a Hall element.
 *
 * <p>All figures are configuration of the virtual rig, of the size usual for such parts. Confined
 * to its head.
 */
final class HeadSensors {

  /** White noise of one status line's Hall reading, in counts. */
  static final double HALL_NOISE_COUNTS = 10.0;

  /** Wander that builds up over a minute, in tesla, standard deviation. */
  private static final double WANDER_TESLA_PER_MINUTE = 10e-6;

  private static final double LINES_PER_MINUTE = 6000.0;

  /** The wander is drawn back with this time constant, in lines, and so stays bounded. */
  private static final double WANDER_LINES = 12_000.0;

  private static final double OFFSET_COUNTS = 300.0;
  private static final double HALL_GAIN_FRACTION = 500e-6;

  /** Change of the Hall gain with temperature, per kelvin, about {@link #REFERENCE_KELVIN}. */
  static final double HALL_GAIN_PER_KELVIN = -200e-6;

  static final double REFERENCE_KELVIN = 296.15;

  private static final double BANK_NOISE_MILLI_VOLTS = 0.5;
  private static final double BANK_GAIN_FRACTION = 200e-6;
  private static final double CURRENT_NOISE_MILLI_AMPS = 2.0;
  private static final double PEAK_NOISE_FRACTION = 200e-6;
  private static final double PEAK_NOISE_MILLI_AMPS = 0.3;
  private static final double CURRENT_GAIN_FRACTION = 1000e-6;
  private static final double GAUGE_NOISE_CENTI_KELVIN = 2.0;
  private static final double COIL_NOISE_CENTI_KELVIN = 5.0;

  /** Reading of the coil's sensor with a broken wire: the cold end of the converter. */
  static final int COIL_OPEN_CENTI_DEG_C = -5_500;

  /** Reading of the coil's sensor when it is shorted: the hot end of the converter. */
  static final int COIL_SHORTED_CENTI_DEG_C = 15_000;

  private static final double KELVIN_AT_ZERO_DEG_C = 273.15;

  private final Plant plant;
  private final FaultState faults;
  private final GaugeConfig gauge;
  private final SplittableRandom random;
  private final double offsetCounts;
  private final double hallGain;
  private final double bankGain;
  private final double currentGain;
  private final int clipCounts;
  private double wanderCounts;
  private int hallCounts;
  private int sampleCounter;
  private int coilCentiDegC;

  HeadSensors(Plant plant, GaugeConfig gauge, Plant.Drawn drawn) {
    this.plant = plant;
    this.faults = drawn.faults();
    this.gauge = gauge;
    this.random = drawn.random();
    this.offsetCounts = OFFSET_COUNTS * (2 * random.nextDouble() - 1);
    this.hallGain = 1 + HALL_GAIN_FRACTION * random.nextGaussian();
    this.bankGain = 1 + BANK_GAIN_FRACTION * random.nextGaussian();
    this.currentGain = 1 + CURRENT_GAIN_FRACTION * random.nextGaussian();
    this.clipCounts = (int) Math.round(gauge.range().tesla() * gauge.countsPerTesla());
    this.coilCentiDegC = centiDegC(plant.coilKelvin());
  }

  /** Converts Hall voltage and coil temperature once for a status line. */
  void convert(long nowNs, int conversions) {
    if (!faults.gaugeFrozen) {
      convertHall(nowNs);
      sampleCounter = (sampleCounter + conversions) & 0xff;
    }
    coilCentiDegC = coilReading();
  }

  private void convertHall(long nowNs) {
    double stepCounts =
        WANDER_TESLA_PER_MINUTE * gauge.countsPerTesla() / Math.sqrt(LINES_PER_MINUTE);
    wanderCounts += stepCounts * random.nextGaussian() - wanderCounts / WANDER_LINES;
    double warmth = 1 + HALL_GAIN_PER_KELVIN * (plant.gaugeKelvin() - REFERENCE_KELVIN);
    double counts =
        plant.gaugeTesla(nowNs) * gauge.countsPerTesla() * hallGain * faults.gaugeGain * warmth
            + offsetCounts
            + wanderCounts
            + HALL_NOISE_COUNTS * random.nextGaussian();
    hallCounts = (int) Math.round(Math.max(-clipCounts, Math.min(clipCounts, counts)));
  }

  private int coilReading() {
    return switch (faults.coilSensor) {
      case WORKS -> coilReading(plant.coilKelvin());
      case LOOSE -> coilReading(Plant.ROOM_KELVIN);
      case OPEN -> COIL_OPEN_CENTI_DEG_C;
      case SHORTED -> COIL_SHORTED_CENTI_DEG_C;
      case FROZEN -> coilCentiDegC;
    };
  }

  private int coilReading(double kelvin) {
    return centiDegC(kelvin) + (int) Math.round(COIL_NOISE_CENTI_KELVIN * random.nextGaussian());
  }

  private static int centiDegC(double kelvin) {
    return (int) Math.round((kelvin - KELVIN_AT_ZERO_DEG_C) * 100.0);
  }

  /** Hall reading of the latest conversion. */
  int hallCounts() {
    return hallCounts;
  }

  /** Counts conversions modulo 256. */
  int sampleCounter() {
    return sampleCounter;
  }

  /** Coil temperature of the latest conversion, in hundredths of a degree Celsius. */
  int coilCentiDegC() {
    return coilCentiDegC;
  }

  /** Gauge temperature now, in hundredths of a degree Celsius. */
  int gaugeCentiDegC() {
    return centiDegC(plant.gaugeKelvin())
        + (int) Math.round(GAUGE_NOISE_CENTI_KELVIN * random.nextGaussian());
  }

  /** Bank voltage now as the head's divider shows it, before noise, in millivolts. */
  double bankMilliVolts() {
    return plant.circuit().bankVolts() * 1e3 * bankGain * faults.bankSenseGain;
  }

  /** Bank voltage now in whole millivolts, with noise. */
  int bankMilliVoltsNoisy() {
    return (int) Math.round(bankMilliVolts() + BANK_NOISE_MILLI_VOLTS * random.nextGaussian());
  }

  /** Coil current now in whole milliamperes, with noise; positive drives the face north. */
  int coilMilliAmps() {
    return (int)
        Math.round(
            plant.circuit().coilAmps() * 1e3 * currentGain
                + CURRENT_NOISE_MILLI_AMPS * random.nextGaussian());
  }

  /** A peak held by the current channel, in whole milliamperes, &ge; 0. */
  int peakMilliAmps(double amps) {
    double noise =
        PEAK_NOISE_FRACTION * amps * 1e3 * random.nextGaussian()
            + PEAK_NOISE_MILLI_AMPS * random.nextGaussian();
    return (int) Math.max(0L, Math.round(amps * 1e3 * currentGain + noise));
  }
}
