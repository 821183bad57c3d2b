package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.port.OutputLine;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The coil's current and temperature. */
class CoilInterlocksTest {

  private static Bench afterPulse(boolean reverse) {
    OutputLine relay = reverse ? OutputLine.COIL_REVERSE : OutputLine.COIL_FULL;
    Bench bench = Bench.ready().fill(20, relay);
    bench.run(200).set(HeadFlag.WINDOW, true).run(20);
    bench.drive(OutputLine.BANK_HOLD, relay, OutputLine.COIL_FIRE).run(60);
    bench.bankVolts = 1;
    return bench.set(HeadFlag.WINDOW, false).drive(OutputLine.BANK_HOLD, relay).run(20);
  }

  private static HeadFrame.PulseReport report(int forward, int backward) {
    return new HeadFrame.PulseReport(17, 5, 9, forward, backward, 20_000, 1_000, 9_000, true);
  }

  @ParameterizedTest
  @CsvSource({"false, 50000, 1001", "true, 1001, 50000", "true, 50000, 0", "false, 0, 50000"})
  @Provokes(TripCause.WRONG_SIGN_CURRENT)
  void tripsWhenTheWrongSignIsAboveItsShareOfTheRightOne(
      boolean reverse, int forward, int backward) {
    Bench bench = afterPulse(reverse).send(report(forward, backward)).scan();

    assertThat(bench.tripped()).contains(TripCause.WRONG_SIGN_CURRENT);
  }

  @Test
  void saysBothPeaksAndWhatWasAsked() {
    Bench forward = afterPulse(false).send(report(50_000, 20_000)).scan();
    Bench reverse = afterPulse(true).send(report(20_000, 50_000)).scan();

    assertThat(forward.firstTrip.orElseThrow().detail())
        .startsWith("forward 50")
        .contains(" A, reverse 20")
        .endsWith(" A, asked forward");
    assertThat(reverse.firstTrip.orElseThrow().detail())
        .startsWith("forward 20")
        .endsWith(" A, asked reverse");
  }

  @ParameterizedTest
  @CsvSource({"false, 50000, 1000", "true, 1000, 50000", "false, 1000, 50", "true, 50, 1000"})
  @Spares(TripCause.WRONG_SIGN_CURRENT)
  void sparesAWrongSignOfItsShareOrBelowWhatCountsAsCurrent(
      boolean reverse, int forward, int backward) {
    Bench bench = afterPulse(reverse).send(report(forward, backward)).run(100);

    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  @Spares(TripCause.WRONG_SIGN_CURRENT)
  void doesNotJudgeAReportOfAPulseItHasNotDriven() {
    Bench bench = Bench.ready().send(report(0, 50_000)).run(100);

    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  @Spares(TripCause.WRONG_SIGN_CURRENT)
  void judgesAPulseByItsFirstReportOnly() {
    Bench bench = afterPulse(false).send(report(50_000, 0)).run(10);
    bench.send(report(0, 50_000)).run(100);

    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.CURRENT_UNCOMMANDED)
  void tripsWhenTheCoilCarriesMoreThanNoCurrentWithTheGateLow() {
    Bench bench = Bench.holding(5);
    bench.coilMilliAmps = -51;

    assertThat(bench.run(10).tripped()).contains(TripCause.CURRENT_UNCOMMANDED);
  }

  @Test
  @Spares(TripCause.CURRENT_UNCOMMANDED)
  void sparesACurrentThatCountsAsNone() {
    Bench bench = Bench.holding(5);
    bench.coilMilliAmps = 50;

    assertThat(bench.run(500).tripped()).isEmpty();
  }

  @Test
  @Spares(TripCause.CURRENT_UNCOMMANDED)
  void sparesTheCurrentOfAPulse() {
    Bench bench = Bench.holding(20).set(HeadFlag.WINDOW, true).run(20);
    bench.drive(OutputLine.BANK_HOLD, OutputLine.COIL_FIRE).scan();
    bench.coilMilliAmps = 60_000;
    bench.run(60);

    assertThat(bench.tripped()).isEmpty();
  }

  /** The switch is whole; the line that still shows current is from the pulse itself. */
  @Test
  @Spares(TripCause.CURRENT_UNCOMMANDED)
  void sparesTheLastLineOfAHeadThatFellSilentInAPulse() {
    Bench bench = Bench.holding(20).set(HeadFlag.WINDOW, true).run(20);
    bench.drive(OutputLine.BANK_HOLD, OutputLine.COIL_FIRE).scan();
    bench.coilMilliAmps = 60_000;
    bench.scanToLine();
    bench.headSpeaks = false;
    bench.drive(OutputLine.BANK_HOLD).run(200);

    assertThat(bench.tripped()).contains(TripCause.HEAD_SILENT);
  }

  @Test
  @Provokes(TripCause.COIL_HOT)
  void tripsWhenTheCoilIsAboveItsHighestTemperature() {
    Bench bench = Bench.ready();
    bench.coilDither = 0;
    bench.coilCentiDegC = 7_001;

    assertThat(bench.run(10).tripped()).contains(TripCause.COIL_HOT);
  }

  @Test
  @Spares(TripCause.COIL_HOT)
  void sparesACoilAtItsHighestTemperature() {
    Bench bench = Bench.ready();
    bench.coilDither = 0;
    bench.coilCentiDegC = 7_000;

    assertThat(bench.run(100).tripped()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({"-32768", "-4000", "15000", "32767"})
  @Provokes(TripCause.COIL_SENSOR)
  void tripsWhenTheCoilSensorIsOffTheScaleInTwoLines(int centiDegC) {
    Bench bench = Bench.ready().scanToLine();
    bench.coilDither = 0;
    bench.coilCentiDegC = centiDegC;

    assertThat(bench.run(20).tripped()).contains(TripCause.COIL_SENSOR);
  }

  @ParameterizedTest
  @CsvSource({"-32768", "15000", "32767"})
  @Spares({TripCause.COIL_SENSOR, TripCause.COIL_HOT})
  void sparesACoilSensorOffTheScaleInOneLineButPermitsNothingOnIt(int centiDegC) {
    Bench bench = Bench.ready().scanToLine();
    bench.coilCentiDegC = centiDegC;
    bench.coilDither = 0;
    bench.scanToLine();
    boolean permitted = bench.last.permission().permit();
    bench.coilCentiDegC = 2_500;
    bench.coilDither = 7;

    assertThat(permitted).isFalse();
    assertThat(bench.run(500).tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.COIL_SENSOR)
  void tripsWhenTheCoilSensorRepeatsItselfForTheLimit() {
    Bench bench = Bench.ready().scanToLine();
    bench.coilDither = 0;
    bench.coilCentiDegC = 2_600;

    assertThat(bench.run(10L * (SensorWatch.COIL_REPEATS + 1)).tripped())
        .contains(TripCause.COIL_SENSOR);
  }

  @Test
  @Spares(TripCause.COIL_SENSOR)
  void sparesACoilSensorThatRepeatsItselfForLessThanTheLimit() {
    Bench bench = Bench.ready().scanToLine();
    bench.coilDither = 0;
    bench.coilCentiDegC = 2_600;
    bench.run(10L * SensorWatch.COIL_REPEATS);
    bench.coilDither = 7;

    assertThat(bench.run(500).tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.COIL_SENSOR)
  void namesTheSensorAndNotThePermitThatTheHeadWithdrawsForIt() {
    Bench bench = Bench.holding(5).scanToLine().set(HeadFlag.PERMIT, false);
    bench.coilCentiDegC = 15_000;

    assertThat(bench.run(10).tripped()).contains(TripCause.COIL_SENSOR);
    assertThat(bench.state.present(TripCause.PERMIT_LOST)).isTrue();
  }

  @Test
  @Provokes(TripCause.COIL_HOT)
  void namesTheHeatAndNotThePermitThatTheHeadWithdrawsForIt() {
    Bench bench = Bench.holding(5).scanToLine().set(HeadFlag.PERMIT, false);
    bench.coilCentiDegC = 7_500;

    assertThat(bench.run(10).tripped()).contains(TripCause.COIL_HOT);
  }
}
