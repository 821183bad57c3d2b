package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import lodestep.magnet.Shape;
import lodestep.quantity.Length;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;

class HandMagnetTest {

  private static final double MU_0 = 1.256637e-6;

  private final HandMagnet disc =
      new HandMagnet(new Shape.Rod(Length.ofMm(22), Length.ofMm(14)), 1.2, 0.018);

  /**
   * Source: field on the axis of a magnetic dipole, B = µ0 m / (2π z³), in any text on
   * electromagnetism; a quarter of a metre off a body of two centimetres is one.
   */
  @Test
  void isADipoleFarAway() {
    double moment = 1.2 / MU_0 * Math.PI * 0.011 * 0.011 * 0.014;
    double middle = 0.25 + 0.018 + 0.002 + 0.007;
    double dipole = MU_0 * moment / (2 * Math.PI * Math.pow(middle, 3));

    assertThat(disc.atGauge(0.25, 0.002)).isCloseTo(dipole, Percentage.withPercentage(0.5));
  }

  @Test
  void isWeakerAtTheGaugeThanAtTheWorkAndGrowsAsItComesNearer() {
    double before = 0;
    for (double gap = 0.2; gap > 0.001; gap *= 0.8) {
      double atWork = disc.atWork(gap);
      assertThat(atWork).isGreaterThan(before);
      assertThat(disc.atGauge(gap, 0.002)).isLessThan(MU_0 * atWork);
      before = atWork;
    }
  }

  @Test
  void pullsTheReadingTheWayItDrives() {
    HeldMagnet south = new HeldMagnet(disc, 0.03, false);
    HeldMagnet north = new HeldMagnet(disc, 0.03, true);

    assertThat(south.atGauge(0.002)).isNegative();
    assertThat(north.atGauge(0.002)).isCloseTo(-south.atGauge(0.002), within(1e-15));
    assertThat(north.atWork()).isEqualTo(south.atWork()).isPositive();
  }
}
