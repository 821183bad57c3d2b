package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.config.CoilConfig;
import lodestep.port.TripCause;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: what a thermometer must show of a coil that is long warm by reckoning, at each limit. */
class HeatWatchTest {

  private static final Figures FIGURES = Figures.of(Bench.withCoils(coil(12), coil(24)));

  private static CoilConfig coil(double joulesPerKelvin) {
    return new CoilConfig(
        "coil", 0.6, 2e-3, 5_000, 4, joulesPerKelvin, 1e9, Temperature.ofDegC(70));
  }

  /** Two pulses have shown nothing in a coil that is 10 K warm, or 20. */
  private static HeatWatch unseen() {
    return new HeatWatch(
        false, true, new CoilHeat.Warmth(20, 10, 0), false, 2_000, 2_200, new Persisting(1, 0), 2);
  }

  private static Look shows(int coilCentiDegC, int gaugeCentiDegC) {
    Look look = new Look(FIGURES, 100_000 * Look.MS);
    look.coilCentiDegC = coilCentiDegC;
    look.gaugeCentiDegC = gaugeCentiDegC;
    return look;
  }

  @ParameterizedTest
  @CsvSource({"2199, 2200, 2", "2200, 2200, 0", "1999, 1999, 0", "1999, 2000, 2", "2200, 2900, 0"})
  void forgetsWhenTheThermometerShowsTwoKelvinAloneOrAgainstTheGauges(
      int coil, int gauge, int unseen) {
    assertThat(unseen().step(shows(coil, gauge).seen()).unseen()).isEqualTo(unseen);
  }

  @Test
  void takesNothingFromALineThatItHasSeen() {
    assertThat(unseen().step(shows(3_000, 2_200).old().seen())).isEqualTo(unseen());
  }

  @Test
  void saysTheRiseOfTheCoilThatBearsLeastAndOfTheOneThatTakesMost() {
    Look look = shows(2_000, 2_200);
    Watches warm = Look.watches(SwitchedWatch.POWER_ON, unseen());

    assertThat(Details.of(TripCause.COIL_HEAT_SPENT, look.seen(), warm))
        .startsWith("a rise of 20 K by its pulses, coil at 20");
    assertThat(Details.of(TripCause.COIL_RISE_UNSEEN, look.seen(), warm))
        .startsWith("a rise of 10 K by its pulses, coil at 20");
  }
}
