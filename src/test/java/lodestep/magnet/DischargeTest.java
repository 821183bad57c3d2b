package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.function.DoubleUnaryOperator;
import lodestep.quantity.Voltage;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;
import org.hipparchus.ode.ODEState;
import org.hipparchus.ode.OrdinaryDifferentialEquation;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: the closed form of a pulse with its freewheel diode; a diode conducts only once the bank's
 * voltage is used up, so what comes before it is the textbooks' plain circuit. Against a published
 * example, an integration of the circuit's own equations, and energy, which is nowhere made.
 */
class DischargeTest {

  private static final double FOREVER = Double.POSITIVE_INFINITY;

  private static Discharge plain(double volts, double ohms, double henries, double farads) {
    return new Discharge(
        new PulseCircuit(ohms, henries, farads), ohms, new Voltage(volts), FOREVER);
  }

  /**
   * J. W. Nilsson, S. A. Riedel, Electric Circuits, example 8.11, from memory: 0.1 µF at 100 V, 100
   * mH, 560 Ω give 0.1042 e^(−2800 t) sin(9600 t) A. Its peak by that formula, found beforehand.
   */
  @Against(Against.Kind.FROM_MEMORY)
  @Test
  void followsATextbooksExample() {
    Discharge pulse = plain(100, 560, 0.1, 0.1e-6);

    for (double t = 10e-6; t < 190e-6; t += 15e-6) {
      double published = 0.1042 * Math.exp(-2800 * t) * Math.sin(9600 * t);
      assertThat(pulse.ampsAt(t)).isCloseTo(published, within(5e-4 * 0.1042));
    }
    assertThat(pulse.peakAmps()).isCloseTo(68.7e-3, within(0.05e-3));
    assertThat(pulse.peakSeconds()).isCloseTo(134.06e-6, within(0.005e-6));
  }

  /**
   * A coil of bore radius 8 mm, 20 mm outside, 30 mm long, 300 turns with six tenths of its room
   * copper, and 50 milliohms of path: the field in its middle from a bank of 4.7 mF, in kA/m, found
   * beforehand for 60 and 100 V.
   */
  @Against(Against.Kind.COMPUTED)
  @ParameterizedTest
  @CsvSource({"60, 411", "100, 684"})
  void aCoilOfCopperGivesTheFieldFoundBeforehand(double volts, double kiloAmperes) {
    Winding.Round coil = new Winding.Round(8e-3, 20e-3, 30e-3, 300);
    double area = 0.6 * 12e-3 * 30e-3 / 300;
    double ohms = 1.7241e-8 * 300 * coil.turnMetres() / area + 0.05;

    double amps = plain(volts, ohms, coil.inductanceHenries(), 4.7e-3).peakAmps();

    double perAmpere = coil.onAxisTeslaPerAmpere(0) / Mu0.TESLA_PER_AMPERE_PER_METRE;
    assertThat(amps * perAmpere).isCloseTo(kiloAmperes * 1e3, within(0.01 * kiloAmperes * 1e3));
  }

  /** 300 V, 2 mF, 1 mH below, at and above critical damping: computed beforehand, twice. */
  @Against(Against.Kind.COMPUTED)
  @ParameterizedTest
  @CsvSource({
    "0.5, 1.82849e-3, 268.603, 180",
    "1.4142135623730951, 1.41421e-3, 156.078, 63.6396",
    "3, 1.04645e-3, 88.294, 30"
  })
  void hasThePeakOfItsDamping(double ohms, double peakSeconds, double peakAmps, double action) {
    Discharge pulse = plain(300, ohms, 1e-3, 2e-3);

    assertThat(pulse.peakSeconds()).isCloseTo(peakSeconds, within(1e-5 * peakSeconds));
    assertThat(pulse.peakAmps()).isCloseTo(peakAmps, within(1e-5 * peakAmps));
    // Whatever the damping, ∫ i² dt = E / R: all of the energy ends as heat.
    assertThat(pulse.actionAmpsSquaredSeconds()).isCloseTo(action, within(1e-5 * action));
  }

  /** At critical damping i = (V/L) t e^(−αt), whose peak is V t/(L e): any text on circuits. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void atCriticalDampingThePeakIsAnEthOfTheSlope() {
    Discharge pulse = plain(300, 2 * Math.sqrt(1e-3 / 2e-3), 1e-3, 2e-3);

    double slope = 300 / 1e-3;
    assertThat(pulse.peakAmps())
        .isCloseTo(slope * pulse.peakSeconds() / Math.E, within(1e-9 * 156));
  }

  /** Rows: series ohms, coil ohms, mH, mF, volts, gate ms. */
  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @CsvSource({
    "0, 0.25, 0.3, 4.7, 45, 1e9",
    "0, 0.31, 0.2, 22, 41, 1e9",
    "0.02, 0.18, 0.6, 10, 38, 1e9",
    "4.2, 0.31, 0.2, 22, 30, 60",
    "0.4, 0.1, 1.5, 2.2, 44, 1.1",
    "0.02, 0.18, 0.6, 10, 38, 12",
    "1.4, 0.0142135623730951, 1, 2, 40, 1e9"
  })
  void agreesWithAnIntegrationOfItsCircuit(
      double series, double coil, double mH, double mF, double volts, double gateMs) {
    PulseCircuit loop = new PulseCircuit(series + coil, mH * 1e-3, mF * 1e-3);
    Discharge pulse = new Discharge(loop, coil, new Voltage(volts), gateMs * 1e-3);
    double peak = pulse.peakAmps();

    double[] state = {volts, 0, 0, 0};
    boolean free = false;
    double step = pulse.peakSeconds() / 400;
    double end = Math.min(12 * pulse.peakSeconds(), 0.2);
    for (double t = 0; t < end; t += step) {
      free = free || t >= gateMs * 1e-3 || state[0] - series * state[1] <= 0;
      state = integrated(state, t, t + step, new Circuit(pulse, free, t >= gateMs * 1e-3));
      assertThat(pulse.ampsAt(t + step)).isCloseTo(state[1], within(4e-3 * peak));
      assertThat(pulse.bankVoltsAt(t + step)).isCloseTo(state[0], within(4e-3 * volts));
    }
  }

  /** The same, ended where the diode begins to conduct: there the closed form is exact. */
  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @CsvSource({
    "0, 0.25, 0.3, 4.7, 45",
    "0, 0.31, 0.2, 22, 41",
    "0.02, 0.18, 0.6, 10, 38",
    "4.2, 0.31, 0.2, 22, 30",
    "0.4, 0.1, 1.5, 2.2, 44"
  })
  void agreesToAMillionthUntilTheDiodeConducts(
      double series, double coil, double mH, double mF, double volts) {
    PulseCircuit loop = new PulseCircuit(series + coil, mH * 1e-3, mF * 1e-3);
    Discharge pulse = new Discharge(loop, coil, new Voltage(volts), FOREVER);
    double turn = Math.min(0.05, loop.firstZeroSeconds(-series));

    double[] atTurn =
        integrated(new double[] {volts, 0, 0, 0}, 0, turn, new Circuit(pulse, false, false));
    double[] after = integrated(atTurn, turn, 2 * turn, new Circuit(pulse, true, false));

    assertThat(pulse.ampsAt(turn)).isCloseTo(atTurn[1], within(1e-6 * pulse.peakAmps()));
    assertThat(pulse.bankVoltsAt(turn)).isCloseTo(atTurn[0], within(1e-6 * volts));
    if (Double.isFinite(loop.firstZeroSeconds(-series))) {
      assertThat(atTurn[0] - series * atTurn[1]).isCloseTo(0, within(1e-6 * volts));
      assertThat(pulse.ampsAt(2 * turn)).isCloseTo(after[1], within(1e-6 * pulse.peakAmps()));
      assertThat(pulse.bankVoltsAt(2 * turn)).isCloseTo(after[0], within(1e-6 * volts));
    }
  }

  /** Bank voltage, coil current, ∫ i² of the coil, heat before the diode. */
  private record Circuit(Discharge pulse, boolean free, boolean open)
      implements OrdinaryDifferentialEquation {

    @Override
    public int getDimension() {
      return 4;
    }

    @Override
    public double[] computeDerivatives(double t, double[] y) {
      PulseCircuit loop = pulse.loop();
      double series = loop.resistanceOhms() - pulse.coilOhms();
      double bankAmps = open ? 0 : free ? series == 0 ? 0 : y[0] / series : y[1];
      double wires = free ? 0 : y[0] - series * y[1];
      return new double[] {
        -bankAmps / loop.capacitanceFarads(),
        (wires - pulse.coilOhms() * y[1]) / loop.inductanceHenries(),
        y[1] * y[1],
        series * bankAmps * bankAmps
      };
    }
  }

  private static double[] integrated(double[] from, double start, double end, Circuit circuit) {
    return new DormandPrince853Integrator(1e-12, end - start, 1e-11, 1e-11)
        .integrate(circuit, new ODEState(start, from), end)
        .getPrimaryState();
  }

  /** What the bank gives is heat in coil and series resistor, and what is left. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Property(tries = 300)
  void energyIsNeverMade(
      @ForAll @DoubleRange(min = 0, max = 6) double series,
      @ForAll @DoubleRange(min = 0.02, max = 3) double coil,
      @ForAll @DoubleRange(min = 0.02, max = 5) double mH,
      @ForAll @DoubleRange(min = 0.5, max = 60) double mF,
      @ForAll @DoubleRange(min = 0.5, max = 50) double volts,
      @ForAll @DoubleRange(min = 0.1, max = 30) double gateInPeaks) {
    PulseCircuit loop = new PulseCircuit(series + coil, mH * 1e-3, mF * 1e-3);
    double gate = gateInPeaks * loop.peakSeconds();
    Discharge pulse = new Discharge(loop, coil, new Voltage(volts), gate);

    double total = pulse.coilJoules() + pulse.seriesJoules() + pulse.residualJoules();

    assertThat(total).isCloseTo(pulse.bankJoules(), within(1e-9 * pulse.bankJoules()));
    assertThat(pulse.seriesJoules()).isGreaterThan(-1e-9 * pulse.bankJoules());
    // Heat by the current itself, which knows nothing of the energies.
    double turn = Math.min(gate, loop.firstZeroSeconds(-series));
    double tail = 40 * mH * 1e-3 / coil;
    double squares =
        integral(t -> square(pulse.ampsAt(t)), 0, turn)
            + integral(t -> square(pulse.ampsAt(t)), turn, turn + tail);
    assertThat(pulse.coilJoules()).isCloseTo(coil * squares, within(1e-6 * pulse.bankJoules()));
  }

  private static double integral(DoubleUnaryOperator f, double from, double to) {
    int parts = 60;
    GaussIntegrator rule = new GaussIntegratorFactory().legendre(12, 0, 1);
    double sum = 0;
    for (int i = 0; i < parts; i++) {
      // Shorter parts at the start, where the current moves most.
      double low = from + (to - from) * square(1.0 * i / parts);
      double high = from + (to - from) * square((i + 1.0) / parts);
      sum += (high - low) * rule.integrate(u -> f.applyAsDouble(low + u * (high - low)));
    }
    return sum;
  }

  private static double square(double value) {
    return value * value;
  }

  /** With the diode the current never turns round; without it the ratio of two maxima says. */
  @Test
  void theDiodeKeepsTheCurrentFromSwingingBack() {
    PulseCircuit loop = new PulseCircuit(0.5, 1e-3, 2e-3);
    Discharge pulse = new Discharge(loop, 0.5, new Voltage(40), FOREVER);
    double omega = Math.sqrt(1 / 2e-6 - 250.0 * 250.0);

    for (double t = 0; t < 0.05; t += 1e-4) {
      assertThat(pulse.ampsAt(t)).isGreaterThanOrEqualTo(0);
    }
    double undershoot = 40 * loop.ampsPerVolt(loop.peakSeconds() + Math.PI / omega);
    assertThat(pulse.swingBackWithoutDiode())
        .isCloseTo(-undershoot / pulse.peakAmps(), within(1e-9));
    assertThat(pulse.swingBackWithoutDiode()).isBetween(0.2, 0.4);
    assertThat(plain(40, 3, 1e-3, 2e-3).swingBackWithoutDiode()).isZero();
  }

  /** At critical damping x e^(1−x) is a half at x = 0.231961 and 2.678347, x = αt. */
  @Test
  void theBaseIsThatOfAHalfSineAsWideAtHalfItsPeak() {
    Discharge pulse = plain(300, 2 * Math.sqrt(1e-3 / 2e-3), 1e-3, 2e-3);

    double width = (2.678347 - 0.231961) * pulse.peakSeconds();
    assertThat(pulse.baseSeconds()).isCloseTo(1.5 * width, within(1e-5 * width));
  }

  /** A switch that opens early keeps the rest of the charge in the bank. */
  @Test
  void whatTheSwitchCutsOffStaysInTheBank() {
    PulseCircuit loop = new PulseCircuit(4.5, 0.2e-3, 22e-3);
    Discharge pulse = new Discharge(loop, 0.3, new Voltage(30), 20e-3);

    // The bank runs down with R C = 99 ms, all but unmoved by the inductance.
    assertThat(pulse.residualVolts()).isCloseTo(30 * Math.exp(-20.0 / 99), within(0.02));
    assertThat(pulse.ampsAt(30e-3)).isLessThan(1e-3);
    assertThat(plain(30, 0.3, 0.2e-3, 22e-3).residualVolts()).isZero();
  }

  @Test
  void refusesWhatIsNoPulse() {
    PulseCircuit loop = new PulseCircuit(1, 1e-3, 1e-3);

    assertThatThrownBy(() -> new Discharge(loop, 1.1, new Voltage(1), 1))
        .hasMessageContaining("at most the loop's");
    assertThatThrownBy(() -> new Discharge(loop, 1, new Voltage(0), 1))
        .hasMessageContaining("voltage has to be above zero");
    assertThatThrownBy(() -> new Discharge(loop, 1, new Voltage(1), Double.NaN))
        .hasMessageContaining("closed for some time");
  }
}
