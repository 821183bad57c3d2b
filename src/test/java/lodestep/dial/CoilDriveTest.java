package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.Limits;
import lodestep.device.ActResult;
import lodestep.device.Order;
import lodestep.device.Pulse;
import lodestep.device.PulseState;
import lodestep.device.ShotPlan;
import lodestep.magnet.PulseCircuit;
import lodestep.port.ActEvent;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: voltage and range for a field, and back, against the circuit's own figures: 0.3 ohms alone
 * or 5 ohms with the series resistor, 0.22 mH, 22 mF, 7,000 A/m for an ampere, at most 48 V.
 */
class CoilDriveTest {

  private static final CoilDrive DRIVE = Attempt.ON_BANK;
  private static final RigNow ROOM = Attempt.ROOM;
  private static final double FULL = new PulseCircuit(0.3, 0.22e-3, 22e-3).peakAmpsPerVolt();
  private static final double SERIES = new PulseCircuit(5.0, 0.22e-3, 22e-3).peakAmpsPerVolt();
  private static final double PER_AMP = 7000;

  /** What 30 ms of filling through 100 ohms from 50 V bring. */
  private static final double LEAST_VOLTS = 50 / 2.2 * 0.030;

  private static FieldStrength field(double aperM) {
    return new FieldStrength(aperM);
  }

  private static Pulse pulse(double aperM) {
    return DRIVE.pulse(field(aperM), true, ROOM);
  }

  @Test
  void reachesFromTheShortestFillingInTheSeriesRangeToTheFullBank() {
    Fields.Continuous fields = (Fields.Continuous) DRIVE.fields(ROOM);

    assertThat(fields.least().amperesPerMetre())
        .isCloseTo(LEAST_VOLTS * SERIES * PER_AMP, within(0.01));
    assertThat(fields.most().amperesPerMetre()).isCloseTo(48 * FULL * PER_AMP, within(0.01));
    assertThat(DRIVE.name()).isEqualTo("tried coil");
    assertThat(DRIVE.noun()).isEqualTo("coil");
  }

  @Test
  void asksForNoLessThanHalfAVolt() {
    CoilDrive slow =
        new CoilDrive(
            Attempt.COIL, new BankConfig(22e-3, new Voltage(48), new Voltage(50), 1000, 2000, 22));

    assertThat(slow.pulse(field(1), true, ROOM).asked().volts()).isEqualTo(0.5);
  }

  @Test
  void takesTheSeriesRangeAsFarAsItReaches() {
    double ohms = Attempt.COIL.ohmsAt(ROOM.coilTemperature()) + 4.7;
    double perVolt = new PulseCircuit(ohms, 0.22e-3, 22e-3).peakAmpsPerVolt() * PER_AMP;
    double most = 48 * perVolt;

    assertThat(pulse(most).full()).isFalse();
    assertThat(pulse(most * 0.9999).full()).isFalse();
    assertThat(pulse(most * 0.9999).range()).isEqualTo("series");
    assertThat(pulse(most * 1.0001).full()).isTrue();
    assertThat(pulse(most * 1.0001).asked().volts()).isCloseTo(48 * SERIES / FULL, within(0.01));
  }

  @Test
  void asksForTheVoltageThatGivesTheField() {
    Pulse pulse = pulse(30_000);

    assertThat(pulse.asked().volts()).isCloseTo(30_000 / (SERIES * PER_AMP), within(1e-6));
    assertThat(pulse.drivesNorth()).isTrue();
    assertThat(DRIVE.pulse(field(30_000), false, ROOM).drivesNorth()).isFalse();
    assertThat(DRIVE.expectedAmps(pulse, ROOM.coilTemperature()))
        .isCloseTo(30_000 / PER_AMP, within(1e-6));
  }

  @Test
  void asksForNothingThatTheBankCannotGive() {
    assertThat(pulse(1).asked().volts()).isCloseTo(LEAST_VOLTS, within(1e-9));
    assertThat(pulse(4_000_000).asked().volts()).isEqualTo(48);
  }

  /** Two thousandths above what is asked, and 10 mV where that is less. */
  @Test
  void allowsALittleMoreThanItAsks() {
    double perVolt = SERIES * PER_AMP;

    assertThat(pulse(20 * perVolt).highest().volts()).isCloseTo(20.04, within(1e-6));
    assertThat(pulse(2 * perVolt).highest().volts()).isCloseTo(2.01, within(1e-6));
  }

  /** Copper's resistance rises by 0.393 per cent a kelvin (IEC 60028). */
  @Test
  void asksAWarmCoilForMore() {
    RigNow warm = new RigNow(Temperature.ofDegC(60), RigMemory.none());
    double ohms = 0.3 * (1 + 0.00393 * 40) + 4.7;

    assertThat(DRIVE.pulse(field(30_000), true, warm).asked().volts())
        .isCloseTo(
            30_000 / (new PulseCircuit(ohms, 0.22e-3, 22e-3).peakAmpsPerVolt() * PER_AMP),
            within(1e-6));
  }

  @Test
  void asksLessOfARangeThatGaveMore() {
    RigMemory more = RigMemory.none().after(new ActResult.Lesson("series", 1.1, 1.0));
    RigNow now = new RigNow(Temperature.ofDegC(20), more);

    assertThat(DRIVE.pulse(field(30_000), true, now).asked().volts())
        .isCloseTo(30_000 / (SERIES * PER_AMP * 1.1), within(1e-6));
    assertThat(DRIVE.fields(now).most()).isEqualTo(DRIVE.fields(ROOM).most());
  }

  @Test
  void beginsAPulseThatIsJudgedByAllThatIsKnown() {
    RigMemory more = RigMemory.none().after(new ActResult.Lesson("series", 1.1, 1.0));
    RigNow now = new RigNow(Temperature.ofDegC(20), more);
    Order order = new Order(7, 3, 2, "knock down", false, field(30_000));

    PulseState begun = (PulseState) DRIVE.begin(order, 41, now, Limits.standard(), 9 * DialScan.MS);

    ShotPlan plan = (ShotPlan) begun.plan();
    assertThat(plan.expectedPeakAmps()).isCloseTo(30_000 / PER_AMP, within(1e-6));
    assertThat(plan.intentNumber()).isEqualTo(41);
    assertThat(plan.order()).isEqualTo(order);
    assertThat(((PulseState.AwaitIntent) begun).sinceNs()).isEqualTo(9 * DialScan.MS);
  }

  private static ActEvent.PulseEnded pulseEnded() {
    return new ActEvent.PulseEnded(41, 7, "delivered", 1, 9, 0, 0, 1_500, 20, 0, 0, "");
  }

  @Test
  void showsBothPeaksOfAPulse() {
    FieldSource.Swing swing = DRIVE.swing(pulseEnded()).orElseThrow();

    assertThat(swing.north().amperesPerMetre()).isCloseTo(10_500, within(1e-6));
    assertThat(swing.south().amperesPerMetre()).isCloseTo(140, within(1e-6));
    assertThat(Attempt.onSupply(32.0).swing(pulseEnded()).orElseThrow().north().amperesPerMetre())
        .isCloseTo(15_000, within(1e-6));
    assertThat(DRIVE.swing(new ActEvent.StrokeEnded(1, 7, "delivered", 0, 0, 0, true, 9, "")))
        .isEmpty();
  }

  private static ActEvent.PulseEnded ended(
      String outcome, long milliVolts, long milliAmps, long centiDegC) {
    return new ActEvent.PulseEnded(
        21, 4, outcome, 9, 77, milliVolts, 900, milliAmps, 0, 30_000, centiDegC, "");
  }

  private static ActEvent.PulseIntended charge(CoilConfig coil) {
    return new ActEvent.PulseIntended(
        4, 1, 1, "charge", true, true, 40_000, 40_100, 300_000, 400_000, coil.name());
  }

  /** A sensor at the cold end of its scale, or 20 K above what its coil bears, says nothing. */
  @ParameterizedTest
  @CsvSource({"-2000, false", "-1999, true", "8999, true", "9000, false"})
  void takesTheCoppersTemperatureWhereItsSensorCanBeBelieved(long centiDegC, boolean believed) {
    assertThat(
            CoilDrive.copper(ended("delivered", 40_000, 100_000, centiDegC), Attempt.COIL)
                .map(copper -> Math.round(copper.degC() * 100)))
        .isEqualTo(believed ? Optional.of(centiDegC) : Optional.empty());
  }

  /** At critical damping, R = 2 √(L/C), the peak is 2 V / (e R): any text on electric circuits. */
  @Test
  void tellsWhatAPulseCarriedAgainstWhatItsCircuitShould() {
    double ohms = 2 * Math.sqrt(0.22e-3 / 22e-3);
    CoilConfig coil =
        new CoilConfig("round coil", ohms, 0.22e-3, 7_000, 4.7, 60, 6, Temperature.ofDegC(70));
    CoilDrive drive = new CoilDrive(coil, Attempt.BANK);
    long peak = Math.round(2 * 40_000 / (Math.E * ohms));

    assertThat(drive.carried(charge(coil), ended("delivered", 40_000, peak, 2_000)).orElseThrow())
        .satisfies(
            carried -> {
              assertThat(carried.coil()).isEqualTo("round coil");
              assertThat(carried.full()).isTrue();
              assertThat(carried.ratio()).isCloseTo(1, within(1e-4));
            });
    // Half the voltage, measured before the pulse, and half the current: the same answer.
    assertThat(
            drive
                .carried(charge(coil), ended("delivered", 20_000, peak / 2, 2_000))
                .orElseThrow()
                .ratio())
        .isCloseTo(1, within(1e-4));
    // Warm copper lets through less, so the same current is more than it should be.
    assertThat(
            drive
                .carried(charge(coil), ended("delivered", 40_000, peak, 5_000))
                .orElseThrow()
                .ratio())
        .isBetween(1.05, 1.15);
  }

  @Test
  void tellsNothingOfAPulseThatWasNotDeliveredOrCannotTell() {
    CoilDrive drive = new CoilDrive(Attempt.COIL, Attempt.BANK);
    ActEvent.PulseIntended intent = charge(Attempt.COIL);
    assertThat(drive.carried(intent, ended("misfired", 40_000, 300, 2_000))).isEmpty();
    assertThat(drive.carried(intent, ended("unverified", 40_000, 90_000, 2_000))).isEmpty();
    // No current to speak of; a sensor that is broken, as the head reports it.
    assertThat(drive.carried(intent, ended("delivered", 200, 500, 2_000))).isEmpty();
    assertThat(drive.carried(intent, ended("delivered", 40_000, 90_000, -5_500))).isEmpty();
    assertThat(drive.carried(intent, ended("delivered", 40_000, 90_000, 15_000))).isEmpty();
  }

  @Test
  void drivesBothWaysAsOftenAsIsWanted() {
    assertThat(DRIVE.cannotDrive(true)).isEmpty();
    assertThat(DRIVE.cannotDrive(false)).isEmpty();
    assertThat(DRIVE.actsMax()).isEqualTo(Integer.MAX_VALUE);
    assertThat(DRIVE.disturbs(new DialScan(0).view())).isFalse();
  }

  /** The meter's 5 mV are 0.5 per cent of a pulse at 1 V, and 0.05 of one at 10; 0.2 are always. */
  @Test
  void doubtsAWeakPulseByTheFloorOfItsMeter() {
    double perVolt = SERIES * PER_AMP;

    assertThat(DRIVE.doubt(field(perVolt), ROOM).delivered())
        .isCloseTo(Math.hypot(0.002, 0.005), within(1e-9));
    assertThat(DRIVE.doubt(field(10 * perVolt), ROOM).delivered())
        .isCloseTo(Math.hypot(0.002, 0.0005), within(1e-9));
  }
}
