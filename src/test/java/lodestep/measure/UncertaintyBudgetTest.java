package lodestep.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.ArrayList;
import java.util.List;
import lodestep.magnet.Against;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

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

  /** JCGM 100:2008, table G.2; read in the same table, B.1, of NIST Technical Note 1297. */
  @Against(Against.Kind.READ)
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
    assertThat(UncertaintyBudget.coverage(probability, freedom)).isCloseTo(factor, within(5.1e-3));
  }

  /**
   * Against Commons Math 3.6.1. The program's library began as a branch of it; what the two share
   * is tried below without any.
   */
  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @CsvSource({"1, 0.5", "3, 0.95", "16, 0.99", "30, 0.999", "Infinity, 0.9545"})
  void coverageIsThatOfAnotherLibrary(double freedom, double probability) {
    double upper = (1 + probability) / 2;
    double other =
        Double.isInfinite(freedom)
            ? new NormalDistribution().inverseCumulativeProbability(upper)
            : new TDistribution(freedom).inverseCumulativeProbability(upper);

    assertThat(UncertaintyBudget.coverage(probability, freedom)).isCloseTo(other, within(1e-7));
  }

  /** Student's t in closed form: with one degree of freedom Cauchy's, with two a root. */
  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @ValueSource(doubles = {0.5, 0.9, 0.95, 0.99, 0.999})
  void coverageOfOneAndTwoDegreesOfFreedomIsThatOfTheClosedForm(double probability) {
    assertThat(UncertaintyBudget.coverage(probability, 1))
        .isCloseTo(Math.tan(Math.PI * probability / 2), withinPercentage(1e-7));
    assertThat(UncertaintyBudget.coverage(probability, 2))
        .isCloseTo(
            probability * Math.sqrt(2 / (1 - probability * probability)), withinPercentage(1e-7));
  }

  /**
   * JCGM 100:2008, H.1.7: with the terms of second order, of unlike expansion by the bed's
   * temperature and of expansion by unlike temperature, 34 nm; from memory.
   */
  @Against(Against.Kind.FROM_MEMORY)
  @Test
  void termsOfSecondOrderWidenTheEndGaugesUncertaintyAsTheGuideSays() {
    double standard = 50.000623e6;
    List<UncertaintyBudget.Input> inputs = new ArrayList<>(endGauge().inputs());
    inputs.add(
        new UncertaintyBudget.Input(
            "unlike expansion by bed",
            0,
            "1/K",
            StandardUncertainty.known(0.58e-6),
            standard * 0.41,
            "second order"));
    inputs.add(
        new UncertaintyBudget.Input(
            "expansion by unlike temperature",
            0,
            "1/K",
            StandardUncertainty.known(1.2e-6),
            standard * 0.029,
            "second order"));
    UncertaintyBudget second = new UncertaintyBudget("length", standard + 215, "nm", inputs);

    assertThat(inputs.get(6).contribution().value()).isCloseTo(11.8, within(0.15));
    assertThat(inputs.get(7).contribution().value()).isCloseTo(1.7, within(0.05));
    assertThat(second.combined().value()).isCloseTo(34, within(0.5));
  }
}
