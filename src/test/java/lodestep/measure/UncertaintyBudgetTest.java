package lodestep.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import lodestep.magnet.Against;
import org.hipparchus.distribution.continuous.TDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class UncertaintyBudgetTest {

  /** JCGM 100:2008, H.1: the end gauge, all in nanometres. */
  private static UncertaintyBudget endGauge() {
    double standard = 50.000623e6;
    double expansion = 11.5e-6;
    double theta = -0.1;
    // As table H.1 states it; where it comes from is tried below.
    StandardUncertainty difference = new StandardUncertainty(9.7, 25.6);
    return new UncertaintyBudget(
        "length of the end gauge",
        standard + 215,
        "nm",
        List.of(
            new UncertaintyBudget.Input(
                "standard", standard, "nm", new StandardUncertainty(25, 18), 1, "certificate"),
            new UncertaintyBudget.Input("difference", 215, "nm", difference, 1, "five readings"),
            new UncertaintyBudget.Input(
                "expansion", expansion, "1/K", StandardUncertainty.known(1.2e-6), 0, "limits"),
            new UncertaintyBudget.Input(
                "bed", theta, "K", StandardUncertainty.known(0.41), 0, "limits"),
            new UncertaintyBudget.Input(
                "unlike expansion",
                0,
                "1/K",
                new StandardUncertainty(0.58e-6, 50),
                -standard * theta,
                "limits"),
            new UncertaintyBudget.Input(
                "unlike temperature",
                0,
                "K",
                new StandardUncertainty(0.029, 2),
                -standard * expansion,
                "limits")));
  }

  /** All figures as JCGM 100:2008, H.1 and its table H.1 print them. */
  @Against(Against.Kind.READ)
  @Test
  void endGaugeOfTheGuideComesOutToItsPrintedDigits() {
    UncertaintyBudget budget = endGauge();

    assertThat(budget.value() * 1e-6).isCloseTo(50.000838, within(5e-7));
    assertThat(budget.inputs().get(4).contribution().value()).isCloseTo(2.9, within(0.05));
    assertThat(budget.inputs().get(5).contribution().value()).isCloseTo(16.6, within(0.1));
    assertThat(budget.combined().value()).isCloseTo(31.7, within(0.05));
    assertThat(budget.combined().degreesOfFreedom()).isCloseTo(16.7, within(0.05));
    assertThat(budget.expanded(0.99).factor()).isCloseTo(2.92, within(5e-3));
    assertThat(budget.expanded(0.99).value()).isCloseTo(93, within(0.5));
    // H.1.7: 95 per cent.
    assertThat(budget.expanded(0.95).factor()).isCloseTo(2.12, within(5e-3));
    assertThat(budget.expanded(0.95).value()).isCloseTo(68, within(1.0));
  }

  /**
   * JCGM 100:2008, H.1.3.2 and H.1.6: random effects of comparing, of the comparator, systematic.
   */
  @Test
  void differenceOfTheGuideIsMadeOfItsThreeParts() {
    StandardUncertainty difference =
        StandardUncertainty.combined(
            List.of(
                new StandardUncertainty(5.8, 24),
                new StandardUncertainty(3.9, 5),
                new StandardUncertainty(6.7, 8)));

    assertThat(difference.value()).isCloseTo(9.7, within(0.05));
    // The Guide goes on with the rounded 9.7, whose fourth power is 0.75 per cent larger.
    assertThat(difference.degreesOfFreedom() * Math.pow(9.7 / difference.value(), 4))
        .isCloseTo(25.6, within(0.05));
  }

  @Test
  void sharesOfAllInputsMakeTheWhole() {
    UncertaintyBudget budget = endGauge();

    double shares = budget.inputs().stream().mapToDouble(budget::share).sum();
    assertThat(shares).isCloseTo(1, within(1e-12));
    assertThat(budget.share(budget.inputs().get(0))).isCloseTo(0.62, within(0.01));
    assertThat(budget.share(budget.inputs().get(3))).isZero();
  }

  /** JCGM 100:2008, table G.2. */
  @ParameterizedTest
  @CsvSource({
    "1, 0.95, 12.71",
    "2, 0.95, 4.30",
    "4, 0.99, 4.60",
    "8, 0.95, 2.31",
    "8.97, 0.95, 2.31",
    "16, 0.99, 2.92",
    "20, 0.9545, 2.13",
    "100, 0.9973, 3.077",
    "Infinity, 0.95, 1.960",
    "Infinity, 0.9545, 2.000"
  })
  void coverageIsThatOfTheGuidesTable(double freedom, double probability, double factor) {
    assertThat(UncertaintyBudget.coverage(probability, freedom)).isCloseTo(factor, within(6e-3));
  }

  @ParameterizedTest
  @CsvSource({"1, 0.5", "3, 0.95", "30, 0.999"})
  void coverageLeavesOutHalfOnEachSideByTheLibrary(double freedom, double probability) {
    double factor = UncertaintyBudget.coverage(probability, freedom);

    // Hipparchus, whose own quantile is checked against its distribution.
    assertThat(new TDistribution(freedom).probability(-factor, factor))
        .isCloseTo(probability, within(1e-9));
  }
}
