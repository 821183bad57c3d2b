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

  /**
   * Its relay closes 8 ms after it is driven, and the head's next line but one may be the first.
   */
  @Test
  void keepsTheLadderWhereItIsWhileNoLineCanTellOfTheFeedYet() {
    for (long milliseconds = 5; milliseconds <= 40; milliseconds += 5) {
      Bench bench = bench().drive(OutputLine.LADDER_3).run(100);
      bench.bankRule = Optional.of(volts -> 0);
      bench.drive(LEVEL_4).run(milliseconds);
      Outputs kept = Outputs.high(OutputLine.LADDER_3);
      assertThat(bench.last.permission().kept().isHigh(OutputLine.LADDER_3))
          .as("%d ms after the feed was put on", milliseconds)
          .isTrue();

      bench.set(InputLine.STOP_LOOP, false).scan();

      assertThat(bench.tripped()).contains(TripCause.STOP_LOOP_OPEN);
      assertThat(bench.last.permission().lower(Outputs.ALL_LOW, bench.driven)).isEqualTo(kept);
    }
  }

  /** The newest line was measured before the feed was put on, and those since were damaged. */
  @Test
  void keepsTheLadderWhereItIsWhileNoLineHasComeSinceTheFeedWasLetGo() {
    Bench bench = bench().drive(OutputLine.LADDER_3).run(100);
    bench.scanToLine().headSpeaks = false;
    bench.drive(LEVEL_4).run(20).drive(OutputLine.LADDER_3).run(60);
    assertThat(bench.tripped()).isEmpty();
    assertThat(bench.bankVolts).isLessThan(1);
    assertThat(bench.last.permission().kept().isHigh(OutputLine.LADDER_3)).isTrue();

    bench.headSpeaks = true;

    assertThat(bench.scanToLine().last.permission().kept()).isEqualTo(Outputs.ALL_LOW);
  }

  /** A feed relay that pulls in by itself shows it at its contact before the coil is fed. */
  @Test
  void keepsTheLadderWhereItIsWhileTheFeedRelayIsNotSeenReleased() {
    Bench bench = bench().drive(OutputLine.LADDER_3).run(100);
    assertThat(bench.last.permission().kept()).isEqualTo(Outputs.ALL_LOW);

    bench.set(InputLine.BLEED_CONTACT, false).scan();

    assertThat(bench.last.permission().kept().isHigh(OutputLine.LADDER_3)).isTrue();
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

  /** A gate that is kept stands against the timer alone. */
  @Test
  @Provokes(TripCause.PULSE_TOO_LONG)
  void tripsWhenTheGateIsKeptThoughTheTimerEndedTheCurrent() {
    Bench bench = firing(10);
    bench.coilMilliAmps = 0;

    assertThat(bench.run(120).tripped()).isEmpty();
    assertThat(bench.run(50).tripped()).contains(TripCause.PULSE_TOO_LONG);
  }

  @Test
  @Spares(TripCause.PULSE_TOO_LONG)
  void sparesAPulseThatTheHardwareTimerEnded() {
    assertThat(reported(1_818, 160_000).tripped()).isEmpty();
  }

  /**
   * A pulse of 1.818 A for 100 ms leaves 0.3305 A²s times 2 Ω and a little more for warm copper: at
   * least 0.0264 K in 25 J/K. One comes every 15 ms, and 25 J/K times 7 K/W are 175 s, so 40 K are
   * reached after ln(1 - 40 K (1 - k) / 0.0264 K) / ln k = 1620 at the most, k = exp(-0.015 / 175);
   * with copper that is 20 % warmer all the time after 1340.
   */
  private static Bench after(int pulses) {
    Bench bench = bench();
    for (int i = 0; i < pulses && bench.tripped().isEmpty(); i++) {
      bench.drive(OutputLine.LADDER_3, OutputLine.COIL_ON, OutputLine.COIL_FIRE).scan().scan();
      bench.drive(LEVEL_4).send(report(1_818, 100_000)).scan();
    }
    return bench;
  }

  @Test
  @Provokes(TripCause.COIL_HEAT_SPENT)
  void tripsWhenThePulsesAloneHaveHeatedTheCoilToItsLimit() {
    Bench bench = after(1_620);

    assertThat(bench.tripped()).contains(TripCause.COIL_HEAT_SPENT);
    assertThat(bench.allows(OutputLine.COIL_ON)).isFalse();
  }

  @Test
  void letsTheCoilCoolWellBelowItsLimitBeforeTheTripCanBeReset() {
    Bench bench = after(1_620).drive().run(1_000);

    boolean stands = bench.state.present(TripCause.COIL_HEAT_SPENT);
    // From 40 K to 32 K: 175 s × ln(40 / 32) = 39 s.
    boolean after38 = bench.run(36_000).state.present(TripCause.COIL_HEAT_SPENT);
    boolean after41 = bench.run(4_000).state.present(TripCause.COIL_HEAT_SPENT);

    assertThat(List.of(stands, after38, after41)).containsExactly(true, true, false);
  }

  @Test
  @Spares(TripCause.COIL_HEAT_SPENT)
  void sparesPulsesThatHaveNot() {
    assertThat(after(1_340).tripped()).isEmpty();
  }
}
