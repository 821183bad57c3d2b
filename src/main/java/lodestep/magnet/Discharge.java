package lodestep.magnet;

import java.util.function.DoubleUnaryOperator;
import lodestep.quantity.Voltage;
import org.hipparchus.analysis.solvers.BrentSolver;

/**
 * One pulse: a bank discharged through its series resistor and a coil, with a freewheel diode
 * across the two wires between these. Any thread, immutable.
 *
 * <p>Series RLC ({@link PulseCircuit}) until the voltage at the diode, v − R<sub>s</sub> i, is zero
 * or the switch opens; from there the coil's current runs down through the diode alone, i =
 * i<sub>1</sub> e<sup>−(t−t<sub>1</sub>) R<sub>c</sub>/L</sup>, while what is left in the bank runs
 * down through the series resistor with R<sub>s</sub>C as long as the switch is closed. Heat
 * follows from the energies at these moments. Source: any text on electric circuits, for example
 * Nilsson and Riedel, chapters 7 and 8.
 *
 * <p>Takes the diode as one without a drop, so that the tail is a little longer and warmer than the
 * real one, the magnet's own flux as nothing, and R, L and C as constant in the pulse.
 *
 * @param loop with the whole resistance
 * @param coilOhms of what stands behind the diode: coil, leads and changeover; above zero and at
 *     most the loop's
 * @param bank voltage at the start, above zero
 * @param gateSeconds how long the switch stays closed, above zero; may be infinite
 */
public record Discharge(PulseCircuit loop, double coilOhms, Voltage bank, double gateSeconds) {

  /** A half-sine stands above half its peak for two thirds of its base. */
  private static final double BASE_PER_HALF_WIDTH = 1.5;

  private static final int EVALUATIONS_MAX = 200;
  private static final double RELATIVE_ACCURACY = 1e-10;

  /**
   * @throws IllegalArgumentException naming the figure that is out of range
   */
  public Discharge {
    // Negated comparisons on purpose: they also reject NaN.
    if (!(coilOhms > 0 && coilOhms <= loop.resistanceOhms())) {
      throw new IllegalArgumentException(
          "the coil's resistance has to be above zero and at most the loop's: "
              + coilOhms
              + " ohms");
    }
    if (!(bank.volts() > 0)) {
      throw new IllegalArgumentException(
          "the bank's voltage has to be above zero: " + bank.volts() + " V");
    }
    if (!(gateSeconds > 0)) {
      throw new IllegalArgumentException(
          "the switch has to be closed for some time: " + gateSeconds + " s");
    }
  }

  /** Coil current in amperes, so many seconds after the switch closed. */
  public double ampsAt(double seconds) {
    double turn = turnSeconds();
    double loopAmps = bank.volts() * loop.ampsPerVolt(Math.min(seconds, turn));
    return seconds <= turn ? loopAmps : loopAmps * Math.exp(-(seconds - turn) / tailSeconds());
  }

  /** Bank voltage, so many seconds after the switch closed. */
  public double bankVoltsAt(double seconds) {
    double turn = turnSeconds();
    double closed = Math.min(seconds, gateSeconds);
    double volts = bank.volts() * loop.voltsPerVolt(Math.min(closed, turn));
    if (closed <= turn) {
      return volts;
    }
    double series = seriesOhms();
    return series == 0
        ? 0
        : volts * Math.exp(-(closed - turn) / (series * loop.capacitanceFarads()));
  }

  /** When the coil's current is at its highest, in seconds. */
  public double peakSeconds() {
    return Math.min(gateSeconds, loop.peakSeconds());
  }

  /** Highest coil current in amperes: also what the changeover contact has to carry. */
  public double peakAmps() {
    return ampsAt(peakSeconds());
  }

  /** Voltage left in the bank once all is over; it is not gone unless the bleed contact closes. */
  public double residualVolts() {
    return Double.isInfinite(gateSeconds) ? 0 : bankVoltsAt(gateSeconds);
  }

  /** Energy in the bank at the start, in joules. */
  public double bankJoules() {
    return joules(bank.volts());
  }

  /** Energy left in the bank, in joules. */
  public double residualJoules() {
    return joules(residualVolts());
  }

  /** Action integral of the coil, ∫ i² dt, in ampere squared seconds. */
  public double actionAmpsSquaredSeconds() {
    return loopAction() + inductiveJoules() / coilOhms;
  }

  /** Heat in what stands behind the diode, in joules. */
  public double coilJoules() {
    return coilOhms * actionAmpsSquaredSeconds();
  }

  /** Heat in the series resistor, switch and bank, in joules. */
  public double seriesJoules() {
    return seriesOhms() * loopAction() + joules(bankVoltsAt(turnSeconds())) - residualJoules();
  }

  /**
   * What would swing back without the diode, as a part of the peak: the figure behind the warning
   * that a bank is never fired without one. Zero from critical damping upwards.
   */
  public double swingBackWithoutDiode() {
    return loop.swingBackFraction();
  }

  /**
   * Width of the half-sine that is as wide at half its peak, in seconds: what the eddy currents in
   * a magnet are held against.
   */
  public double baseSeconds() {
    double peak = peakSeconds();
    double half = 0.5 * peakAmps();
    double longest = peak + 50 * (tailSeconds() + loop.resistanceOhms() * loop.capacitanceFarads());
    return BASE_PER_HALF_WIDTH * (crossing(half, peak, longest) - crossing(half, 0, peak));
  }

  private double crossing(double amps, double from, double to) {
    DoubleUnaryOperator above = t -> ampsAt(t) - amps;
    return new BrentSolver(RELATIVE_ACCURACY, RELATIVE_ACCURACY * to)
        .solve(EVALUATIONS_MAX, above::applyAsDouble, from, to);
  }

  /** When the coil's current leaves the bank, in seconds; infinite if it never does. */
  private double turnSeconds() {
    return Math.min(gateSeconds, loop.firstZeroSeconds(-seriesOhms()));
  }

  private double seriesOhms() {
    return loop.resistanceOhms() - coilOhms;
  }

  private double tailSeconds() {
    return loop.inductanceHenries() / coilOhms;
  }

  /** ∫ i² dt while the current flows through the bank: what it has lost, over the resistance. */
  private double loopAction() {
    double turn = turnSeconds();
    double left = Double.isInfinite(turn) ? 0 : joules(bankVoltsAt(turn)) + inductiveJoules();
    return (bankJoules() - left) / loop.resistanceOhms();
  }

  private double inductiveJoules() {
    double turn = turnSeconds();
    double amps = Double.isInfinite(turn) ? 0 : ampsAt(turn);
    return 0.5 * loop.inductanceHenries() * amps * amps;
  }

  private double joules(double volts) {
    return 0.5 * loop.capacitanceFarads() * volts * volts;
  }
}
