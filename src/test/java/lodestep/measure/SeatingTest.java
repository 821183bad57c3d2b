package lodestep.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import lodestep.quantity.FluxDensity;
import org.hipparchus.distribution.continuous.TDistribution;
import org.junit.jupiter.api.Test;

/** Goal: few re-seatings promise no more than they showed. */
class SeatingTest {

  /** Against Hipparchus, an independent library: the standard deviation of Student's t. */
  @Test
  void widensTheFigureOfAStudyByTheDeviationOfStudentsT() {
    for (int freedom = 4; freedom < 60; freedom += 5) {
      Seating studied = new Seating(new StandardUncertainty(0.002, freedom), "a study");

      double deviation = Math.sqrt(new TDistribution(freedom).getNumericalVariance());
      assertThat(studied.counted()).isCloseTo(0.002 * deviation, within(1e-12));
    }
  }

  @Test
  void takesTheUsualFigureAsItIs() {
    assertThat(Seating.usual().counted()).isEqualTo(Seating.USUAL);
  }

  /** JCGM 100, 5.1.2: independent parts add by their squares; 0.3 per cent of 400 G is 1.2 G. */
  @Test
  void countsIntoALevelByTheSquares() {
    Seating seating = new Seating(StandardUncertainty.known(0.003), "a study");
    FluxDensity south = FluxDensity.ofGauss(-400);

    assertThat(seating.ofLevel(south, FluxDensity.ofGauss(0.5)).gauss())
        .isCloseTo(1.3, within(1e-9));
    assertThat(Seating.ofLevel(0, south, FluxDensity.ofGauss(0.5)).gauss())
        .isCloseTo(0.5, within(1e-12));
  }
}
