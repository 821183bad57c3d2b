package lodestep.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import lodestep.magnet.Against;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ConformityRiskTest {

  private static final double HALF = 0.2;
  private static final double SIGMA = 0.12;
  private static final double U = 0.04;

  private static ConformityRisk guarded(double r) {
    return new ConformityRisk(0, SIGMA, U, HALF, r * 2 * U);
  }

  /**
   * Reckoned beforehand by another program from the formulas of JCGM 106:2012, 9.4 (the Guide's own
   * printed results for such an example were not at hand).
   */
  @Against(Against.Kind.COMPUTED)
  @ParameterizedTest
  @CsvSource({
    "-1, .06940, .00068",
    "-0.5, .04490, .00710",
    "0, .01894, .03721",
    "0.25, .00988, .06903",
    "0.5, .00433, .11466",
    "1, .00047, .24767"
  })
  void globalRisksAreThoseOfTheTable(double r, double consumer, double producer) {
    assertThat(guarded(r).consumer()).isCloseTo(consumer, within(6e-6));
    assertThat(guarded(r).producer()).isCloseTo(producer, within(6e-6));
  }

  /** Hipparchus's distribution. */
  @Test
  void conformingItemsAreCountedBeforeAnyIsMeasured() {
    assertThat(guarded(0).conforming())
        .isCloseTo(new NormalDistribution(0, SIGMA).probability(-HALF, HALF), within(1e-12))
        .isCloseTo(0.9044, within(5e-5));
  }

  /** Another way: items and their measured values are drawn, and those judged wrongly counted. */
  @Test
  void risksAreWhatDrawnItemsShow() {
    ConformityRisk risk = new ConformityRisk(0.05, SIGMA, U, HALF, 0.03);
    Random random = new Random(106);
    int wronglyAccepted = 0;
    int wronglyRefused = 0;
    int drawn = 400_000;
    for (int item = 0; item < drawn; item++) {
      double truth = 0.05 + SIGMA * random.nextGaussian();
      boolean accepted = Math.abs(truth + U * random.nextGaussian()) <= HALF - 0.03;
      boolean conforms = Math.abs(truth) <= HALF;
      wronglyAccepted += accepted && !conforms ? 1 : 0;
      wronglyRefused += !accepted && conforms ? 1 : 0;
    }

    assertThat(risk.consumer()).isCloseTo((double) wronglyAccepted / drawn, within(5e-4));
    assertThat(risk.producer()).isCloseTo((double) wronglyRefused / drawn, within(1.5e-3));
  }

  /** JCGM 106:2012, 8.3.2: the guard band in standard uncertainties and the risk at its end. */
  @ParameterizedTest
  @CsvSource({
    "0, 0.500, 5e-4",
    "1, 0.159, 5e-4",
    "1.28, 0.100, 5e-4",
    "1.645, 0.050, 5e-5",
    "2, 0.0228, 5e-5",
    "3, 0.00135, 5e-6"
  })
  void specificRiskAtTheAcceptanceLimitFollowsTheGuardBand(
      double guardOverU, double risk, double digit) {
    assertThat(ConformityRisk.specificAtLimit(guardOverU * U, U)).isCloseTo(risk, within(digit));
    // The same where next to nothing is known of the items and the other limit is far.
    ConformityRisk vague = new ConformityRisk(0, 1e4, U, 100 * U, 0);
    assertThat(vague.specific((100 - guardOverU) * U)).isCloseTo(risk, within(digit + 1e-6));
  }

  @Test
  void whereTheGuardBandsMeetNothingIsAccepted() {
    ConformityRisk none = new ConformityRisk(0, SIGMA, U, HALF, HALF);

    assertThat(none.consumer()).isZero();
    assertThat(none.producer()).isCloseTo(none.conforming(), within(1e-9));
  }

  @Test
  void narrowMeasurementOnWideStockIsNotLostBetweenTwoPoints() {
    ConformityRisk fine = new ConformityRisk(0, 1, 1e-3, 0.5, 2e-3);

    // One-sided at each limit, stock density 0.3521 there: u times density times ∫ Φ(−z−2) dz each.
    double tail = 1e-3 * 0.352065 * 0.0084907 * 2;
    assertThat(fine.consumer()).isCloseTo(tail, within(tail * 0.01));
  }
}
