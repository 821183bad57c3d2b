package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.SupplyConfig;
import lodestep.port.OutputLine;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: what the current and length of a switched coil's pulses are taken for. */
class SwitchedWatchTest {

  private static final long MS = Look.MS;

  // A switched coil: 40 V through 2 ohms and a ladder of 80, 40 and 20; level 4 gives 1.818 A.

  private static final SupplyConfig SUPPLY =
      new SupplyConfig(
          new Voltage(40),
          new ElectricCurrent(20),
          List.of(80.0, 40.0, 20.0),
          470,
          60 * MS,
          120 * MS);
  private static final CoilConfig COIL =
      new CoilConfig("coil", 2.0, 2e-3, 15_000, 0, 25, 7, Temperature.ofDegC(70));
  private static final Figures SWITCHED =
      Figures.of(
          new InterlockSettings(
              Bench.SETTINGS.limits(),
              BankConfig.NONE,
              Optional.of(new SwitchedFigures(SUPPLY, List.of(COIL))),
              Temperature.ofDegC(70),
              Optional.empty(),
              ""));

  private static Look firing(long milliseconds, int milliAmps) {
    Look look =
        new Look(SWITCHED, milliseconds * MS)
            .driven(OutputLine.LADDER_3, OutputLine.COIL_ON, OutputLine.COIL_FIRE);
    look.fireSinceNs = 0;
    look.coilMilliAmps = milliAmps;
    return look;
  }

  /** Twelve hundredths and 60 mA on either side of 1,818 mA. */
  private static SwitchedWatch fired() {
    SwitchedWatch fired = SwitchedWatch.POWER_ON.step(firing(0, 0).seen());
    SwitchedFigures.Between expected = fired.expected().orElseThrow();
    assertThat(expected.least()).isEqualTo(1_539);
    assertThat(expected.most()).isEqualTo(2_096);
    assertThat(fired.awaited()).isTrue();
    return fired;
  }

  @Test
  void findsACurrentAboveItsLevelOnceItHasComeToRest() {
    assertThat(fired().step(firing(15, 2_097).seen()).seenMilliAmps()).isZero();
    assertThat(fired().step(firing(16, 2_097).seen()).seenMilliAmps()).isEqualTo(2_097);
    assertThat(fired().step(firing(16, -2_097).seen()).seenMilliAmps()).isEqualTo(2_097);
    assertThat(fired().step(firing(16, 2_096).seen()).seenMilliAmps()).isZero();
    assertThat(fired().step(firing(16, 2_097).old().seen()).seenMilliAmps()).isZero();
    Look over = firing(16, 2_097).driven(OutputLine.LADDER_3, OutputLine.COIL_ON);
    assertThat(fired().step(over.seen()).seenMilliAmps()).isZero();
  }

  /** The hardware timer's 120 ms and 40 for what dies away. */
  @Test
  void findsAPulseThatDoesNotEnd() {
    assertThat(fired().step(firing(160, 1_800).seen()).tooLongMicros()).isZero();
    assertThat(fired().step(firing(161, 1_800).seen()).tooLongMicros()).isEqualTo(161_000);
    assertThat(fired().step(firing(161, 0).seen()).tooLongMicros()).isEqualTo(161_000);
    assertThat(fired().step(firing(161, 1_800).old().seen()).tooLongMicros()).isEqualTo(161_000);
  }

  private static Look reported(int milliAmps, int micros) {
    Look look = new Look(SWITCHED, 200 * MS).driven(OutputLine.LADDER_3, OutputLine.COIL_ON);
    return look.frame(
        new HeadFrame.PulseReport(17, 5, 9, milliAmps, 0, 40_000, 40_000, micros, true));
  }

  @ParameterizedTest
  @CsvSource({
    "1539, 60000, 0, 0",
    "1538, 60000, 1538, 0",
    "2096, 160000, 0, 0",
    "2097, 60000, 2097, 0",
    "1800, 160001, 0, 160001"
  })
  void judgesAPulseByItsReport(int milliAmps, int micros, int off, long tooLong) {
    SwitchedWatch judged = fired().step(reported(milliAmps, micros).seen());

    assertThat(judged.seenMilliAmps()).isEqualTo(off);
    assertThat(judged.tooLongMicros()).isEqualTo(tooLong);
    assertThat(judged.awaited()).isFalse();
  }

  @Test
  void judgesNoReportOfAnEarlierStart() {
    SwitchedWatch asked = SwitchedWatch.POWER_ON.step(reported(9_000, 60_000).seen());

    assertThat(asked).isEqualTo(SwitchedWatch.POWER_ON);
    SwitchedWatch judged = fired().step(reported(1_800, 60_000).seen());
    assertThat(judged.step(reported(9_000, 900_000).seen()).seenMilliAmps()).isZero();
  }

  @Test
  void namesTheLevelThatIsDriven() {
    assertThat(SwitchedWatch.level(firing(0, 0).seen())).isEqualTo("level 4");
    assertThat(SwitchedWatch.level(firing(0, 0).driven(OutputLine.COIL_FULL).seen()))
        .isEqualTo("charging range");
  }

  @Test
  void saysWithFiguresWhatAPulseOfASwitchedCoilDid() {
    Watches off = Look.watches(fired().step(reported(2_500, 165_000).seen()), HeatWatch.POWER_ON);
    Seen seen = reported(2_500, 165_000).seen();

    assertThat(Details.of(TripCause.PULSE_TOO_LONG, seen, off)).isEqualTo("165 ms");
    assertThat(Details.of(TripCause.CURRENT_OFF_LEVEL, seen, off))
        .startsWith("2.5")
        .contains("at level 4");
  }
}
