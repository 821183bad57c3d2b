package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.Limits;
import lodestep.config.SupplyConfig;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * A switched coil's interlocks. The rig here: 40 V, 20 A, a coil of 2 Ω, and three resistors of 80,
 * 40 and 20 Ω, so that level 4 makes 40 / 22 = 1.818 A by Ohm's law.
 */
class SwitchedInterlocksTest {

  private static final Temperature HOTTEST = Temperature.ofDegC(70);
  private static final SupplyConfig SUPPLY =
      new SupplyConfig(
          new Voltage(40),
          new ElectricCurrent(20),
          List.of(80.0, 40.0, 20.0),
          470,
          60_000_000L,
          120_000_000L);
  private static final CoilConfig COIL =
      new CoilConfig("coil", 2.0, 2e-3, 15_000, 0, 25, 7, HOTTEST);
  private static final OutputLine[] LEVEL_4 = {OutputLine.LADDER_3, OutputLine.COIL_ON};

  private static Bench bench() {
    Bench bench =
        new Bench(
            new InterlockSettings(
                Limits.standard(),
                BankConfig.NONE,
                Optional.of(new SwitchedFigures(SUPPLY, List.of(COIL))),
                HOTTEST,
                Optional.empty(),
                ""));
    // At 20 °C the copper is that of rig.toml.
    bench.coilCentiDegC = 2_000;
    bench.bankRule = Optional.of(volts -> bench.driven.isHigh(OutputLine.COIL_ON) ? 40 : volts / 2);
    // No bank, no fill relay: the host has no such contact, and the head's input is linked closed.
    return bench.set(InputLine.FILL_CONTACT, false).set(HeadFlag.FILL_CONTACT, true).madeReady();
  }

  /** The gate has been high for this long at level 4. */
  private static Bench firing(long milliseconds) {
    Bench bench = bench().drive(LEVEL_4).run(200).set(HeadFlag.WINDOW, true).run(20);
    return bench
        .drive(OutputLine.LADDER_3, OutputLine.COIL_ON, OutputLine.COIL_FIRE)
        .run(milliseconds);
  }

  private static Bench reported(int peakMilliAmps, int micros) {
    Bench bench = firing(60).set(HeadFlag.WINDOW, false).drive(LEVEL_4);
    return bench.send(report(peakMilliAmps, micros)).run(40);
  }

  private static HeadFrame.PulseReport report(int peakMilliAmps, int micros) {
    return new HeadFrame.PulseReport(17, 5, 9, peakMilliAmps, 0, 40_000, 40_000, micros, true);
  }

  @Test
  void needsNoBankToBeReady() {
    Bench bench = bench();

    assertThat(bench.tripped()).isEmpty();
    assertThat(bench.allows(OutputLine.COIL_ON)).isTrue();
    assertThat(bench.allows(OutputLine.LADDER_3)).isTrue();
    assertThat(bench.allows(OutputLine.BANK_FILL)).isFalse();
    assertThat(bench.allows(OutputLine.BANK_HOLD)).isFalse();
  }

  @Test
  void hasNoFeedAndNoLadderOnARigWithABank() {
    assertThat(Bench.ready().allows(OutputLine.COIL_ON)).isFalse();
    assertThat(Bench.ready().allows(OutputLine.LADDER_1)).isFalse();
  }

  @Test
  void keepsTheLadderWhereItIsWhileTheFeedIsOn() {
    Bench bench = bench().drive(LEVEL_4).run(100);

    Outputs other = Outputs.high(OutputLine.LADDER_1, OutputLine.COIL_ON, OutputLine.COIL_FULL);
    assertThat(bench.last.permission().lower(other, bench.driven)).isEqualTo(Outputs.high(LEVEL_4));
  }

  @Test
  void letsTheLadderMoveOnceTheFeedIsLow() {
    Bench bench = bench().drive(LEVEL_4).run(100).drive(OutputLine.LADDER_3).run(100);

    Outputs other = Outputs.high(OutputLine.LADDER_1);
    assertThat(bench.last.permission().lower(other, bench.driven)).isEqualTo(other);
  }

  @Test
  void neverPutsTheFeedOnWhileTheGateIsHigh() {
    Bench bench = bench().drive(OutputLine.COIL_FIRE).scan();

    assertThat(bench.allows(OutputLine.COIL_ON)).isFalse();
  }

  @Test
  @Provokes(TripCause.CURRENT_UNCOMMANDED)
  void tripsWhenTheCoilCarriesCurrentAsSoonAsTheFeedIsOn() {
    Bench bench = bench().drive(LEVEL_4).run(20);
    bench.coilMilliAmps = 200;

    assertThat(bench.run(10).tripped()).contains(TripCause.CURRENT_UNCOMMANDED);
  }

  @Test
  @Provokes(TripCause.BLEED_CONTACT_WRONG)
  void tripsWhenTheFeedRelayDoesNotLetGo() {
    Bench bench = bench().drive(LEVEL_4).run(200).set(InputLine.BLEED_CONTACT, false);
    bench.drive(OutputLine.LADDER_3).run(110);

    assertThat(bench.tripped()).contains(TripCause.BLEED_CONTACT_WRONG);
  }

  @Test
  @Provokes(TripCause.BANK_NOT_FALLING)
  void tripsWhenTheFeedStaysWithItsRelayReleased() {
    Bench bench = bench().drive(LEVEL_4).run(200);
    bench.bankRule = Optional.of(volts -> 40);
    bench.drive(OutputLine.LADDER_3).run(520);

    assertThat(bench.tripped()).contains(TripCause.BANK_NOT_FALLING);
  }

  @Test
  @Provokes(TripCause.CURRENT_OFF_LEVEL)
  void tripsInThePulseWhenItsCurrentIsAboveItsLevel() {
    Bench bench = firing(10);
    // 12 % and 60 mA above 1.818 A are 2.096 A.
    bench.coilMilliAmps = 2_100;

    assertThat(bench.run(20).tripped()).contains(TripCause.CURRENT_OFF_LEVEL);
  }

  @ParameterizedTest
  @ValueSource(ints = {0, 1_535, 2_100})
  @Provokes(TripCause.CURRENT_OFF_LEVEL)
  void tripsWhenTheReportShowsAnotherCurrentThanTheLevels(int peak) {
    assertThat(reported(peak, 61_000).tripped()).contains(TripCause.CURRENT_OFF_LEVEL);
  }

  @ParameterizedTest
  @ValueSource(ints = {1_545, 1_818, 2_090})
  @Spares(TripCause.CURRENT_OFF_LEVEL)
  void sparesACurrentWithinWhatSupplyAndCopperMayDo(int peak) {
    assertThat(reported(peak, 61_000).tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.PULSE_TOO_LONG)
  void tripsWhenTheReportShowsAPulseBeyondTheHardwareTimer() {
    assertThat(reported(1_818, 160_001).tripped()).contains(TripCause.PULSE_TOO_LONG);
  }

  @Test
  @Provokes(TripCause.PULSE_TOO_LONG)
  void tripsWhenTheCurrentFlowsBeyondTheHardwareTimer() {
    Bench bench = firing(10);
    bench.coilMilliAmps = 1_818;

    assertThat(bench.run(170).tripped()).contains(TripCause.PULSE_TOO_LONG);
  }

  @Test
  @Spares(TripCause.PULSE_TOO_LONG)
  void sparesAPulseThatTheHardwareTimerEnded() {
    assertThat(reported(1_818, 160_000).tripped()).isEmpty();
  }

  /** 25 J/K times 40 K over 2 Ω are 500 A²s; a pulse of 1.818 A for 100 ms has 0.3305. */
  private static Bench after(int pulses) {
    Bench bench = bench();
    for (int i = 0; i < pulses; i++) {
      bench.drive(OutputLine.LADDER_3, OutputLine.COIL_ON, OutputLine.COIL_FIRE).scan().scan();
      bench.drive(LEVEL_4).send(report(1_818, 100_000)).scan();
    }
    return bench;
  }

  @Test
  @Provokes(TripCause.COIL_HEAT_SPENT)
  void tripsWhenThePulsesOfTenMinutesCouldHaveHeatedTheCoilToItsLimit() {
    Bench bench = after(1_513);

    assertThat(bench.tripped()).contains(TripCause.COIL_HEAT_SPENT);
    assertThat(bench.allows(OutputLine.COIL_ON)).isFalse();
  }

  @Test
  @Spares(TripCause.COIL_HEAT_SPENT)
  void sparesPulsesThatCouldNot() {
    assertThat(after(1_512).tripped()).isEmpty();
  }

  @Test
  @Spares(TripCause.COIL_HEAT_SPENT)
  void forgetsThePulsesOfMoreThanTenMinutesAgo() {
    Bench bench = after(1_500).drive().run(100);

    bench.nowNs += SwitchedWatch.HEAT_WINDOW_NS;
    bench.run(100);
    for (int i = 0; i < 20; i++) {
      bench.drive(OutputLine.LADDER_3, OutputLine.COIL_ON, OutputLine.COIL_FIRE).scan().scan();
      bench.drive(LEVEL_4).send(report(1_818, 100_000)).scan();
    }

    // 1520 pulses in one window would have tripped; only the last 20 count.
    assertThat(bench.resets).isEmpty();
    assertThat(bench.tripped()).isNotEqualTo(Optional.of(TripCause.COIL_HEAT_SPENT));
  }
}
