package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.magnet.Against;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;
import org.junit.jupiter.api.Test;

/** Peaks, both signs, action and bank voltage of a pulse, as the plant solves it. */
class PulseCircuitTest {

  private static final double KELVIN_20 = 293.15;
  private static final RigConfig RIG = ReferenceRig.virtual();

  private final FaultState faults = new FaultState(FaultPlan.NONE);
  private final Switching switching = new Switching();

  private PulseCircuit textbook(double ohms) {
    return circuit(300.0, 2e-3, ohms, 1e-3);
  }

  private PulseCircuit circuit(double volts, double farads, double ohms, double henries) {
    BankConfig bank = new BankConfig(farads, new Voltage(volts), new Voltage(volts), 1e9, 1e9, 1e9);
    CoilConfig coil =
        new CoilConfig("coil", ohms, henries, 1.0, 1.0, 1e9, 1.0, Temperature.ofDegC(70.0));
    PulseCircuit circuit = new PulseCircuit(bank, coil, faults);
    circuit.precharge(volts);
    switching.full = true;
    return circuit;
  }

  private PulseCircuit reference(String coil, double volts) {
    PulseCircuit circuit = new PulseCircuit(RIG.bank(), RIG.coil(coil), faults);
    circuit.precharge(volts);
    return circuit;
  }

  private void fire(PulseCircuit circuit, int gateMs) {
    switching.fire = true;
    run(circuit, gateMs);
    switching.fire = false;
    run(circuit, 100);
  }

  private void run(PulseCircuit circuit, int ms) {
    for (int i = 0; i < ms; i++) {
      circuit.step(switching, KELVIN_20);
    }
  }

  /** Closed forms of Nilsson and Riedel, chapter 8, at 300 V, 2 mF, 1 mH; peak at 1.82849 ms. */
  @Test
  void peaksAsTheUnderdampedFormSays() {
    PulseCircuit circuit = textbook(0.5);

    fire(circuit, 400);

    assertThat(circuit.peakForwardAmps()).isCloseTo(268.603, within(0.002));
  }

  /** Closed forms of Nilsson and Riedel, chapter 8: i_pk = (V/L) t_pk / e. */
  @Test
  void peaksAsTheCriticalFormSays() {
    PulseCircuit circuit = textbook(1.41421356);

    fire(circuit, 400);

    assertThat(circuit.peakForwardAmps()).isCloseTo(156.078, within(0.002));
    assertThat(circuit.peakReverseAmps()).isEqualTo(0.0);
  }

  /** Closed forms of Nilsson and Riedel, chapter 8, real roots. */
  @Test
  void peaksAsTheOverdampedFormSays() {
    PulseCircuit circuit = textbook(3.0);

    fire(circuit, 400);

    assertThat(circuit.peakForwardAmps()).isCloseTo(88.294, within(0.002));
  }

  /** Energy conservation: the whole action is E / R, here 90 J over each resistance. */
  @Test
  void spendsTheBanksEnergyAsAction() {
    faults.diodeMissing = true;
    double[] ohms = {0.5, 1.41421356, 3.0};
    double[] expected = {180.0, 63.64, 30.0};

    for (int i = 0; i < ohms.length; i++) {
      PulseCircuit circuit = textbook(ohms[i]);
      fire(circuit, 400);

      assertThat(circuit.actionAmpsSquaredSeconds())
          .as("action at %s ohms", ohms[i])
          .isCloseTo(expected[i], withinPercentage(0.02));
    }
  }

  /** Nilsson and Riedel, example 8.11 (from memory): 68.7 mA. */
  @Against(Against.Kind.FROM_MEMORY)
  @Test
  void peaksAsThePublishedExample() {
    PulseCircuit circuit = circuit(100.0, 0.1e-6, 560.0, 0.1);

    fire(circuit, 20);

    assertThat(circuit.peakForwardAmps()).isCloseTo(68.7e-3, within(0.05e-3));
  }

  @Test
  void neverSwingsBackWithTheDiode() {
    PulseCircuit circuit = textbook(0.5);

    fire(circuit, 400);

    assertThat(circuit.peakReverseAmps()).isEqualTo(0.0);
    assertThat(circuit.bankVolts()).isGreaterThanOrEqualTo(-PulseCircuit.DIODE_VOLTS - 2.0);
  }

  /** Successive extremes of a damped ring stand as e^(−πα/ω_d), the textbook's decrement. */
  @Test
  void swingsBackByTheDecrementWithoutTheDiode() {
    faults.diodeMissing = true;
    PulseCircuit circuit = textbook(0.5);

    fire(circuit, 400);

    double alpha = 0.5 / 2e-3;
    double omega = Math.sqrt(1.0 / (1e-3 * 2e-3) - alpha * alpha);
    double expected = circuit.peakForwardAmps() * Math.exp(-Math.PI * alpha / omega);
    assertThat(circuit.peakReverseAmps()).isCloseTo(expected, withinPercentage(0.01));
    assertThat(circuit.forwardFirst()).isTrue();
  }

  @Test
  void turnsTheSignWithTheChangeover() {
    PulseCircuit circuit = reference("rod coil", 20.0);
    switching.direction = -1;

    fire(circuit, 60);

    assertThat(circuit.peakReverseAmps()).isGreaterThan(3.0);
    assertThat(circuit.peakForwardAmps()).isEqualTo(0.0);
    assertThat(circuit.forwardFirst()).isFalse();
  }

  @Test
  void drivesNothingWhileTheChangeoverTravels() {
    PulseCircuit circuit = reference("rod coil", 20.0);
    switching.direction = 0;

    fire(circuit, 60);

    assertThat(circuit.pulses()).isZero();
    assertThat(circuit.bankVolts()).isGreaterThan(19.9);
  }

  /**
   * L di/dt = −V_D − R i from I gives zero after (L/R) ln(1 + R I / V_D), the usual first-order
   * circuit with a constant opposing voltage.
   */
  @Test
  void diesThroughTheDiodeWhenTheGateOpensEarly() {
    PulseCircuit circuit = reference("slot coil", 40.0);
    switching.full = true;
    switching.fire = true;
    run(circuit, 2);
    double amps = circuit.coilAmps();
    double bank = circuit.bankVolts();
    int before = circuit.pulseMicros();
    switching.fire = false;

    run(circuit, 20);

    double micros = 0.30e-3 / 0.27 * Math.log(1 + 0.27 * amps / 0.7) * 1e6;
    assertThat(circuit.pulseMicros() - before).isBetween((int) micros - 20, (int) micros + 20);
    assertThat(circuit.conducting()).isFalse();
    assertThat(circuit.peakReverseAmps()).isEqualTo(0.0);
    assertThat(circuit.bankVolts()).isCloseTo(bank, withinPercentage(0.1));
  }

  @Test
  void ringsTheWrongWayWhenTheGateOpensWithoutTheDiode() {
    faults.diodeMissing = true;
    PulseCircuit circuit = reference("rod coil", 10.0);

    fire(circuit, 60);

    assertThat(circuit.peakReverseAmps()).isGreaterThan(0.02 * circuit.peakForwardAmps());
    assertThat(circuit.conducting()).isFalse();
  }

  /** After the peak the knock-down pulse is the slow root of s² + (R/L) s + 1/LC alone. */
  @Test
  void leavesTheBankWhereTheSlowRootSays() {
    PulseCircuit circuit = reference("rod coil", 30.0);
    double alpha = 5.0 / (2 * 0.22e-3);
    double root = Math.sqrt(alpha * alpha - 1.0 / (0.22e-3 * 22e-3));
    double slow = -alpha + root;
    double fast = -alpha - root;

    fire(circuit, 60);

    double decayed =
        30.0 * (slow * Math.exp(fast * 0.06) - fast * Math.exp(slow * 0.06)) / (slow - fast);
    double bled = Math.exp(-0.160 / (2000.0 * 22e-3));
    // The bleed contact is open all along: beside the pulse only the permanent bleeder counts.
    assertThat(circuit.bankVolts()).isCloseTo(decayed * bled, within(0.01));
  }

  @Test
  void knocksDownWithInTheFieldRangeOfTheSeriesResistor() {
    PulseCircuit circuit = reference("slot coil", 48.0);

    fire(circuit, 60);

    // 48 V over 3.57 Ω, less what the rise costs, at 3600 A/m for one ampere: about 48 kA/m.
    assertThat(circuit.peakForwardAmps() * 3600.0).isBetween(46e3, 48.5e3);
  }

  @Test
  void firesNothingThroughAnOpenSwitch() {
    faults.switchOpen = true;
    PulseCircuit circuit = reference("rod coil", 30.0);

    fire(circuit, 60);

    assertThat(circuit.pulses()).isZero();
    assertThat(circuit.bankVolts()).isGreaterThan(29.0);
  }

  @Test
  void conductsWithoutGateThroughAShortedSwitch() {
    faults.switchShorted = true;
    PulseCircuit circuit = reference("rod coil", 0.0);
    switching.fill = true;

    run(circuit, 2000);

    assertThat(circuit.coilAmps()).isGreaterThan(0.5);
    assertThat(circuit.bankVolts()).isLessThan(6.0);
  }

  /** C dV/dt = (V_s − V)/R_f − V/R_b: first order towards the Thévenin voltage. */
  @Test
  void fillsTowardsTheVoltageOfSupplyAndBleeder() {
    PulseCircuit circuit = reference("rod coil", 0.0);
    switching.fill = true;

    run(circuit, 1000);

    double rest = 50.0 * 2000.0 / 2047.0;
    double tau = 22e-3 * 47.0 * 2000.0 / 2047.0;
    assertThat(circuit.bankVolts()).isCloseTo(rest * -Math.expm1(-1.0 / tau), within(1e-9));
  }

  /** R C of the bleed contact's resistor beside the bleeder. */
  @Test
  void bleedsWithTheTimeConstantOfTheBleedResistor() {
    PulseCircuit circuit = reference("rod coil", 48.0);
    switching.bleed = true;

    run(circuit, 1000);

    double tau = 22e-3 / (1.0 / 22.0 + 1.0 / 2000.0);
    assertThat(circuit.bankVolts()).isCloseTo(48.0 * Math.exp(-1.0 / tau), within(1e-9));
  }

  @Test
  void bleedsByTheBleederAloneWhenTheBleedPathIsOpen() {
    PulseCircuit circuit = reference("rod coil", 48.0);
    faults.bleedPathOpen = true;
    switching.bleed = true;

    run(circuit, 1000);

    assertThat(circuit.bankVolts()).isCloseTo(48.0 * Math.exp(-1.0 / 44.0), within(1e-9));
  }

  /** Dielectric absorption: once it is left alone, and not while it is bled. */
  @Test
  void givesBackAPartOfTheVoltageThatItLongHad() {
    faults.bankReturns = 0.05;
    PulseCircuit circuit = reference("rod coil", 0);
    for (int second = 0; second < 60; second++) {
      circuit.precharge(48.0);
      run(circuit, 1000);
    }
    switching.bleed = true;
    run(circuit, 5_000);
    double bled = circuit.bankVolts();
    switching.bleed = false;
    run(circuit, 20_000);

    assertThat(bled).isBetween(0.0, 0.2);
    assertThat(circuit.bankVolts()).isBetween(0.5, 0.05 * 48);
    switching.bleed = true;
    run(circuit, 5_000);
    assertThat(circuit.bankVolts()).isLessThan(bled);
  }

  @Test
  void fallsFasterWhenItLeaks() {
    faults.bankLeakOhms = 100.0;
    PulseCircuit circuit = reference("rod coil", 48.0);

    run(circuit, 1000);

    double tau = 22e-3 / (1.0 / 100.0 + 1.0 / 2000.0);
    assertThat(circuit.bankVolts()).isCloseTo(48.0 * Math.exp(-1.0 / tau), within(1e-9));
  }

  @Test
  void peaksLowerWhenCapacitanceIsLostInTheFullRange() {
    PulseCircuit whole = reference("rod coil", 40.0);
    switching.full = true;
    fire(whole, 60);
    faults.capacitanceFactor = 0.5;
    PulseCircuit half = reference("rod coil", 40.0);

    fire(half, 60);

    assertThat(half.peakForwardAmps()).isLessThan(0.95 * whole.peakForwardAmps());
  }

  /** IEC 60028: copper's resistance rises by 0.393 per cent a kelvin from 20 °C. */
  @Test
  void drivesLessCurrentThroughAWarmCoil() {
    PulseCircuit circuit = circuit(10.0, 10.0, 1.0, 1e-6);
    switching.fire = true;

    circuit.step(switching, KELVIN_20 + 40.0);

    assertThat(circuit.coilAmps()).isCloseTo(10.0 / (1 + 40 * 3.93e-3), withinPercentage(0.05));
  }
}
