package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.hipparchus.linear.CholeskyDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.junit.jupiter.api.Test;

/**
 * Goal: what is believed after observations. Method: by hand for one figure; for several beside the
 * normal equations, solved by Hipparchus.
 */
class GaussianTest {

  @Test
  void weighsOneObservationAgainstWhatWasBelieved() {
    // Standard deviations 3 and 4: the observation counts 9 parts of 25.
    Gaussian after = Gaussian.independent(3).observing(new double[] {1}, 10, 16);

    assertThat(after.expected(new double[] {1})).isCloseTo(3.6, within(1e-12));
    assertThat(after.variance(new double[] {1})).isCloseTo(5.76, within(1e-12));
  }

  /** m = (P⁻¹ + Σ a aᵀ/r)⁻¹ Σ a z/r for figures that are believed to be about zero. */
  @Test
  void agreesWithLeastSquaresOverAllObservations() {
    double[] deviations = {0.5, 2, 1, 0.1};
    int n = deviations.length;
    SplittableRandom random = new SplittableRandom(5);
    Gaussian belief = Gaussian.independent(deviations);
    RealMatrix information = MatrixUtils.createRealMatrix(n, n);
    for (int i = 0; i < n; i++) {
      information.setEntry(i, i, 1 / (deviations[i] * deviations[i]));
    }
    RealVector seen = MatrixUtils.createRealVector(new double[n]);
    for (int observation = 0; observation < 9; observation++) {
      double[] weights = random.doubles(n, -1, 1).toArray();
      double value = random.nextDouble(-3, 3);
      double variance = random.nextDouble(0.01, 1);
      belief = belief.observing(weights, value, variance);
      RealVector row = MatrixUtils.createRealVector(weights);
      information = information.add(row.outerProduct(row).scalarMultiply(1 / variance));
      seen = seen.add(row.mapMultiply(value / variance));
    }
    RealMatrix covariance = new CholeskyDecomposition(information).getSolver().getInverse();
    RealVector mean = covariance.operate(seen);

    for (int i = 0; i < n; i++) {
      double[] one = new double[n];
      one[i] = 1;
      assertThat(belief.expected(one)).isCloseTo(mean.getEntry(i), within(1e-9));
      assertThat(belief.variance(one)).isCloseTo(covariance.getEntry(i, i), within(1e-9));
    }
    double[] sum = {1, -1, 2, 0.5};
    RealVector weights = MatrixUtils.createRealVector(sum);
    assertThat(belief.variance(sum))
        .isCloseTo(weights.dotProduct(covariance.operate(weights)), within(1e-9));
  }

  @Test
  void learnsOfAPlaceFromItsNeighbours() {
    Gaussian smooth = Gaussian.smooth(new double[] {1, 0.5}, 2, 0.5);
    // e^(−½) of the variance is shared at one length's distance.
    Gaussian after = smooth.observing(new double[] {1, 0}, 1, 1e-12);

    assertThat(after.expected(new double[] {0, 1})).isCloseTo(Math.exp(-0.5), within(1e-9));
    assertThat(after.variance(new double[] {0, 1})).isCloseTo(4 * (1 - Math.exp(-1)), within(1e-9));
  }

  @Test
  void forgetsWhatIsCutOffAndDoubtsWhatDrifts() {
    Gaussian both = Gaussian.independent(1, 2).beside(Gaussian.independent(3));

    assertThat(both.size()).isEqualTo(3);
    assertThat(both.first(2).size()).isEqualTo(2);
    assertThat(both.first(2).variance(new double[] {1, 1})).isEqualTo(5);
    assertThat(both.drifted(1, 1).variance(new double[] {0, 1, 0})).isEqualTo(5);
    assertThat(both.wider(2).variance(new double[] {0, 0, 1})).isEqualTo(36);
  }

  /** What is known of each stays known; the one says nothing of the other. */
  @Test
  void keepsWhatIsKnownOfBothSidesBesideEachOther() {
    double[] one = {1};
    Gaussian left = Gaussian.independent(3).observing(one, 2, 9);
    Gaussian right = Gaussian.independent(3).observing(one, -4, 9);

    Gaussian both = left.beside(right);

    // Half of what was seen, where belief and observation are doubted alike.
    assertThat(both.expected(new double[] {1, 0})).isCloseTo(1, within(1e-12));
    assertThat(both.expected(new double[] {0, 1})).isCloseTo(-2, within(1e-12));
    assertThat(both.variance(new double[] {1, 1})).isCloseTo(9, within(1e-12));
  }
}
