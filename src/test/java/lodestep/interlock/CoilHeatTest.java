package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import lodestep.config.CoilConfig;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

/**
 * Goal: what pulses leave in a coil, against Joule's law, the energy of a capacitor and the cooling
 * of one lump (Newton), worked out by hand.
 */
class CoilHeatTest {

  private static final long SECOND_NS = 1_000_000_000L;
  private static final long HOUR_NS = 3_600 * SECOND_NS;
  private static final CoilConfig COIL = coil(2.0, 6.0, 25, 7, 70);

  private static CoilConfig coil(
      double ohms, double series, double joulesPerKelvin, double kelvinPerWatt, double degC) {
    return new CoilConfig(
        "coil",
        ohms,
        2e-3,
        15_000,
        series,
        joulesPerKelvin,
        kelvinPerWatt,
        Temperature.ofDegC(degC));
  }

  private static CoilHeat heat(CoilConfig... coils) {
    return new CoilHeat(List.of(coils), 0.022);
  }

  /** Copper of 2 Ω at 20 °C has 2.0786 Ω at 30 °C. */
  @Test
  void takesCurrentByTimeByTheResistanceOfWarmCopper() {
    CoilHeat.Warmth warm = heat(COIL).afterCurrent(CoilHeat.Warmth.NONE, 3.0, 0);

    assertThat(warm.most()).isCloseTo(3.0 * 2.0786 / 25, within(1e-9));
    CoilHeat.Warmth twice = heat(COIL).afterCurrent(warm, 3.0, 0);
    assertThat(twice.most() - warm.most())
        .isCloseTo(3.0 * 2 * (1 + 3.93e-3 * (10 + warm.most())) / 25, within(1e-9));
  }

  /** 22 mF from 40 V to 10 V lose 16.5 J; of 2.0786 Ω and 6 Ω the coil takes 25.73 per cent. */
  @Test
  void takesWhatTheBankHasLostAndNotTheSeriesResistorsPart() {
    CoilHeat.Warmth full =
        heat(COIL).afterBank(CoilHeat.Warmth.NONE, 40_000, 10_000, true, HOUR_NS);
    CoilHeat.Warmth weak =
        heat(COIL).afterBank(CoilHeat.Warmth.NONE, 40_000, 10_000, false, HOUR_NS);

    assertThat(full.most()).isCloseTo(16.5 / 25, within(1e-9));
    assertThat(weak.most()).isCloseTo(16.5 * 2.0786 / 8.0786 / 25, within(1e-9));
    assertThat(heat(COIL).afterBank(full, 9_000, 10_000, true, HOUR_NS).most())
        .isEqualTo(full.most());
  }

  @Test
  void takesHeatForGoneWithTheCoolingOfTheCoil() {
    CoilHeat.Warmth hot = heat(COIL).afterCurrent(CoilHeat.Warmth.NONE, 10_000, HOUR_NS);

    assertThat(heat(COIL).bears(hot, HOUR_NS, 0)).isFalse();
    // 831 K by 25 J/K times 7 K/W, 175 s: below 40 K after 175 s × ln(831 / 40) = 531 s.
    assertThat(hot.most()).isCloseTo(10_000 * 2 * 1.0393 / 25, within(0.1));
    assertThat(heat(COIL).bears(hot, HOUR_NS + 530 * SECOND_NS, 0)).isFalse();
    assertThat(heat(COIL).bears(hot, HOUR_NS + 532 * SECOND_NS, 0)).isTrue();
    assertThat(heat(COIL).leastLeft(hot, HOUR_NS + 175 * SECOND_NS))
        .isCloseTo(hot.least() / Math.E, within(1e-9));
  }

  /** From 30 °C; 70 are allowed. */
  @Test
  void bearsTheHeatUpToTheCoilsLimit() {
    assertThat(heat(COIL).bears(new CoilHeat.Warmth(39.9, 39.9, 0), 0, 0)).isTrue();
    assertThat(heat(COIL).bears(new CoilHeat.Warmth(40.1, 40.1, 0), 0, 0)).isFalse();
    assertThat(heat(COIL).bears(new CoilHeat.Warmth(31.9, 31.9, 0), 0, 8)).isTrue();
    assertThat(heat(COIL).bears(new CoilHeat.Warmth(32.1, 32.1, 0), 0, 8)).isFalse();
  }

  /** The limit is kept for the smaller, and of the larger no more is asked than it takes. */
  @Test
  void reckonsForWhicheverCoilIsFitted() {
    CoilConfig large = coil(2.0, 6.0, 250, 7, 70);
    CoilHeat both = heat(COIL, large);

    CoilHeat.Warmth warm = both.afterBank(CoilHeat.Warmth.NONE, 40_000, 10_000, true, 0);

    assertThat(warm.most()).isCloseTo(16.5 / 25, within(1e-9));
    assertThat(warm.least()).isCloseTo(16.5 / 250, within(1e-9));
  }

  @Test
  void hasNothingToReckonWhereHeatIsNotBounded() {
    assertThat(heat(coil(2.0, 6.0, Double.POSITIVE_INFINITY, 7, 70)).present()).isFalse();
    assertThat(heat().present()).isFalse();
    assertThat(heat(COIL).present()).isTrue();
  }
}
