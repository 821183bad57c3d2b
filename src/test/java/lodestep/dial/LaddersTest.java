package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/**
 * Goal: fields of the pulses that take a charge away. A coarse ladder from 200 kA/m by fifths to
 * below 0.15 of a coercivity of 40 kA/m; a fine one from 2.5 coercivities by 0.92.
 */
class LaddersTest {

  private static final Ladders LADDERS = new Ladders(200_000, 40_000, 600_000);

  /** 200 x 0.8^15 is 7.04 kA/m and 0.8^16 makes 5.63: seventeen pulses; 100 x 0.92^34 is 5.87. */
  private static final int COARSE = 17;

  private static final int ALL = COARSE + 35;

  @Test
  void fallsByFifthsFromSaturationToALittleOfTheCoercivity() {
    assertThat(LADDERS.field(0)).isEqualTo(200_000);
    assertThat(LADDERS.field(1)).isCloseTo(160_000, within(1e-6));
    assertThat(LADDERS.field(2)).isCloseTo(128_000, within(1e-6));
    assertThat(LADDERS.field(COARSE - 2)).isGreaterThan(6_000);
    assertThat(LADDERS.field(COARSE - 1)).isBetween(4_800.0, 6_000.0);
  }

  @Test
  void fallsFinelyFromTwoAndAHalfCoercivities() {
    assertThat(LADDERS.field(COARSE)).isEqualTo(100_000);
    assertThat(LADDERS.field(COARSE + 1)).isCloseTo(92_000, within(1e-6));
    assertThat(LADDERS.field(ALL - 2)).isGreaterThan(6_000);
    assertThat(LADDERS.field(ALL - 1)).isBetween(5_500.0, 6_000.0);
    assertThat(LADDERS.pulsesMax()).isEqualTo(ALL);
  }

  @Test
  void startsWithWhatTheSourceHas() {
    assertThat(new Ladders(200_000, 40_000, 150_000).field(0)).isEqualTo(150_000);
    assertThat(new Ladders(90_000, 40_000, 150_000).trimMost()).isEqualTo(90_000);
    assertThat(LADDERS.trimMost()).isEqualTo(100_000);
  }

  @Test
  void trimsBySmallSteppedGrowthFromSixTenthsOfTheCoercivity() {
    assertThat(LADDERS.trim(ALL)).isEqualTo(24_000);
    assertThat(LADDERS.trim(ALL + 1)).isCloseTo(25_200, within(1e-6));
    assertThat(LADDERS.trim(ALL + 2)).isCloseTo(26_460, within(1e-6));
  }

  @Test
  void letsTheReadingDecideAtTheEndOfALadderOnly() {
    assertThat(LADDERS.ended(0)).isTrue();
    assertThat(LADDERS.ended(1)).isFalse();
    assertThat(LADDERS.ended(COARSE - 1)).isFalse();
    assertThat(LADDERS.ended(COARSE)).isTrue();
    assertThat(LADDERS.ended(COARSE + 1)).isFalse();
    assertThat(LADDERS.ended(ALL - 1)).isFalse();
    assertThat(LADDERS.ended(ALL)).isTrue();
    assertThat(LADDERS.ended(ALL + 1)).isTrue();
  }

  @Test
  void countsFallingPulsesAndTrimsApart() {
    assertThat(LADDERS.words(COARSE)).isEqualTo("17 falling pulses");
    assertThat(LADDERS.words(ALL)).isEqualTo("52 falling pulses");
    assertThat(LADDERS.words(ALL + 1)).isEqualTo("52 falling pulses and 1 that took off the rest");
  }
}
