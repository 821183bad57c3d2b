package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import lodestep.config.CoilConfig;
import lodestep.port.OutputLine;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: the heat of a bank's pulses is reckoned beside the coil's thermometer, and held against it.
 *
 * <p>22 mF from 47 V to nothing are 24.3 J: in 12 J/K 2.025 K a pulse. 12 J/K by 25 K/W are 300 s.
 */
class HeatInterlocksTest {

  private static final CoilConfig COIL =
      new CoilConfig("coil", 0.6, 2e-3, 5_000, 4, 12, 25, Temperature.ofDegC(70));
  private static final InterlockSettings SETTINGS = Bench.withCoils(COIL);

  private static Bench bench() {
    return Bench.ready(SETTINGS);
  }

  /** A full charge; what the bank did meanwhile is the report's to say. */
  private static Bench pulse(Bench bench) {
    bench.drive(OutputLine.BANK_HOLD, OutputLine.COIL_FULL, OutputLine.COIL_FIRE).scan().scan();
    bench.send(new HeadFrame.PulseReport(17, 5, 9, 40_000, 0, 47_000, 0, 8_000, true));
    return bench.drive(OutputLine.COIL_FULL).scan().drive().run(20);
  }

  private static Bench after(int pulses) {
    Bench bench = bench();
    for (int i = 0; i < pulses && bench.tripped().isEmpty(); i++) {
      pulse(bench);
    }
    return bench;
  }

  /** From 30 °C to 70: 40 K are nineteen pulses and three quarters. */
  @ParameterizedTest
  @CsvSource({"19, false", "20, true"})
  @Provokes(TripCause.COIL_HEAT_SPENT)
  @Spares(TripCause.COIL_HEAT_SPENT)
  void tripsWhenThePulsesOfABankAloneHaveHeatedTheCoilToItsLimit(int pulses, boolean spent) {
    Bench bench = after(pulses);

    assertThat(bench.tripped().equals(Optional.of(TripCause.COIL_HEAT_SPENT))).isEqualTo(spent);
    assertThat(bench.state.row().met(Condition.COIL_COOL)).isEqualTo(!spent);
  }

  /** From 40.5 K to 32 K: 300 s × ln(40.5 / 32) = 70.7 s. */
  @Test
  void isSpentUntilTheCoilIsWellBelowItsLimit() {
    Bench bench = after(20);

    assertThat(bench.run(68_000).state.present(TripCause.COIL_HEAT_SPENT)).isTrue();
    assertThat(bench.run(5_000).state.present(TripCause.COIL_HEAT_SPENT)).isFalse();
  }

  /** Six pulses are 12 K; after a minute ten are left, and each pulse more must show in it. */
  private static Bench warm(int pulsesAfterAMinute, long afterMs, int shownCentiKelvin) {
    Bench bench = after(6);
    bench.coilCentiDegC += shownCentiKelvin;
    bench.run(afterMs);
    for (int i = 0; i < pulsesAfterAMinute; i++) {
      pulse(bench);
    }
    return bench;
  }

  @Test
  @Provokes(TripCause.COIL_RISE_UNSEEN)
  void tripsWhenAThermometerShowsNothingOfThreePulsesOfALongWarmCoil() {
    Bench bench = warm(3, 61_000, 0);

    assertThat(bench.tripped()).contains(TripCause.COIL_RISE_UNSEEN);
    assertThat(bench.state.trip()).map(Trip::detail).get().asString().contains("a rise of 16 K");
  }

  @ParameterizedTest
  @CsvSource({"2, 61000, 0", "9, 50000, 0", "9, 61000, 220"})
  @Spares(TripCause.COIL_RISE_UNSEEN)
  void sparesAThermometerThatMayStillRiseOrHas(int pulses, long afterMs, int shown) {
    assertThat(warm(pulses, afterMs, shown).tripped()).isEmpty();
  }

  /** The room has grown colder by five kelvins, and gauge and coil with it. */
  @Test
  @Spares(TripCause.COIL_RISE_UNSEEN)
  void sparesACoilThatRisesAgainstTheGaugeWhileTheRoomCools() {
    Bench bench = after(6);
    bench.coilCentiDegC -= 280;
    bench.gaugeCentiDegC -= 500;
    bench.run(61_000);

    assertThat(pulse(pulse(pulse(bench))).tripped()).isEmpty();
  }

  /** A rise that is seen at last is a good thermometer; one that stays away may try again cold. */
  @Test
  void standsUntilARiseIsSeenOrTheCoilIsCold() {
    Bench seen = warm(3, 61_000, 0);
    assertThat(seen.run(1_000).state.present(TripCause.COIL_RISE_UNSEEN)).isTrue();
    seen.coilCentiDegC += 250;
    assertThat(seen.run(100).state.present(TripCause.COIL_RISE_UNSEEN)).isFalse();

    // From 16 K to 1 K: 300 s × ln(16) = 832 s.
    Bench cold = warm(3, 61_000, 0);
    assertThat(cold.run(800_000).state.present(TripCause.COIL_RISE_UNSEEN)).isTrue();
    assertThat(cold.run(50_000).state.present(TripCause.COIL_RISE_UNSEEN)).isFalse();
  }

  /** The head's memory answers for an earlier pulse, whose heat has been counted. */
  @Test
  void countsAReportOnce() {
    Bench bench = after(19);
    for (int i = 0; i < 5; i++) {
      bench.send(new HeadFrame.PulseReport(17, 5, 9, 40_000, 0, 47_000, 0, 8_000, true)).scan();
    }
    assertThat(bench.run(20).tripped()).isEmpty();
  }
}
