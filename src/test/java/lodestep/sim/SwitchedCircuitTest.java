package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import lodestep.config.CoilConfig;
import lodestep.config.SupplyConfig;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: the virtual supply, ladder and coil do what the textbook's circuit does. Step response of a
 * series circuit of R and L: i(t) = V/R (1 - exp(-Rt/L)); natural response with the current I at
 * first: I exp(-Rt/L). Nilsson and Riedel, Electric Circuits, chapter "Response of first-order RL
 * and RC circuits"; from memory. The figures were worked out apart from the program.
 */
class SwitchedCircuitTest {

  private static final double AT_20_DEG_C = 293.15;

  private final FaultState faults = new FaultState(FaultPlan.NONE);
  private final Switching switching = new Switching();

  private SwitchedCircuit circuit(double limitAmps) {
    SupplyConfig supply =
        new SupplyConfig(
            new Voltage(40),
            new ElectricCurrent(limitAmps),
            List.of(80.0, 40.0, 20.0),
            470,
            60_000_000L,
            120_000_000L);
    CoilConfig coil = new CoilConfig("coil", 2.0, 10e-3, 15_000, 0, 25, 7, Temperature.ofDegC(70));
    return new SwitchedCircuit(supply, coil, faults);
  }

  private void run(SwitchedCircuit circuit, int ms) {
    for (int i = 0; i < ms; i++) {
      circuit.step(switching, AT_20_DEG_C);
    }
  }

  @ParameterizedTest
  @CsvSource({
    // level, resistors in parallel, then 40 V over the sum with 2 Ω
    "1, 0.487805", // 80
    "2, 0.952381", // 40
    "3, 1.395349", // 26.667
    "4, 1.818182", // 20
    "5, 2.222222", // 16
    "6, 2.608696", // 13.333
    "7, 2.978723" // 11.429
  })
  void comesToRestAtTheCurrentOfItsLevel(int level, double amps) {
    SwitchedCircuit circuit = circuit(15);
    switching.feed = true;
    switching.fire = true;
    switching.level = level;
    run(circuit, 60);

    assertThat(circuit.coilAmps()).isCloseTo(amps, within(1e-6));
    assertThat(circuit.peakForwardAmps()).isCloseTo(amps, within(1e-6));
  }

  @Test
  void risesAndDiesAsTheTextbookSays() {
    SwitchedCircuit circuit = circuit(30);
    switching.feed = true;
    switching.fire = true;
    switching.full = true;
    run(circuit, 5);

    // 40/2 (1 - exp(-2 * 0.005 / 0.010)) = 20 * 0.632121
    assertThat(circuit.coilAmps()).isCloseTo(12.64241, within(1e-4));

    run(circuit, 95);
    assertThat(circuit.coilAmps()).isCloseTo(20.0, within(1e-6));

    switching.fire = false;
    run(circuit, 5);
    // (20 + 0.7/2) exp(-1) - 0.7/2, with 0.7 V at the diode
    assertThat(circuit.coilAmps()).isCloseTo(7.13640, within(1e-4));
  }

  @Test
  void holdsTheCurrentAtTheSuppliesLimit() {
    SwitchedCircuit circuit = circuit(15);
    switching.feed = true;
    switching.fire = true;
    switching.full = true;
    run(circuit, 60);

    assertThat(circuit.coilAmps()).isEqualTo(15.0);
    assertThat(circuit.peakForwardAmps()).isEqualTo(15.0);
  }

  @Test
  void goesTheOtherWayRoundWithTheChangeover() {
    SwitchedCircuit circuit = circuit(15);
    switching.feed = true;
    switching.fire = true;
    switching.level = 4;
    switching.direction = -1;
    run(circuit, 60);

    assertThat(circuit.coilAmps()).isCloseTo(-1.818182, within(1e-6));
    assertThat(circuit.peakForwardAmps()).isZero();
  }

  @Test
  void carriesNothingWithTheSwitchOrTheFeedOrTheLadderOpen() {
    SwitchedCircuit circuit = circuit(15);
    switching.level = 4;
    switching.fire = true;
    run(circuit, 20);
    switching.feed = true;
    switching.fire = false;
    run(circuit, 20);
    switching.fire = true;
    switching.level = 0;
    run(circuit, 20);

    assertThat(circuit.pulses()).isZero();
  }

  @Test
  void flowsForAsLongAsNothingOpensTheSwitch() {
    SwitchedCircuit circuit = circuit(15);
    faults.switchShorted = true;
    switching.feed = true;
    switching.level = 4;
    run(circuit, 5_000);

    assertThat(circuit.coilAmps()).isCloseTo(1.818182, within(1e-6));
    assertThat(circuit.pulseMicros()).isEqualTo(5_000_000);
  }

  @Test
  void leavesTheHeatOfItsCurrentInTheCoil() {
    SwitchedCircuit circuit = circuit(15);
    switching.feed = true;
    switching.fire = true;
    switching.level = 4;
    run(circuit, 200);

    // 1.818182² * 2 Ω for a millisecond
    assertThat(circuit.stepHeatJoules()).isCloseTo(6.61157e-3, within(1e-7));
  }
}
