package lodestep.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import lodestep.magnet.Against;
import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AcceptanceTest {

  private static final FluxDensity U = FluxDensity.ofGauss(2);

  private final Acceptance north =
      Acceptance.guarded(FluxDensity.ofGauss(420), FluxDensity.ofGauss(12));

  @ParameterizedTest
  @CsvSource({
    "420, ACCEPT",
    "427.9, ACCEPT",
    "412.1, ACCEPT",
    "428.1, ABOVE",
    "411.9, BELOW",
    "433, ABOVE",
    "300, BELOW",
    "-420, BELOW"
  })
  void acceptsInsideTheToleranceLessTheGuardBand(double gauss, Judgement expected) {
    assertThat(north.judge(FluxDensity.ofGauss(gauss), U)).isEqualTo(expected);
  }

  @ParameterizedTest
  @CsvSource({"-420, ACCEPT", "-428.1, ABOVE", "-411.9, BELOW", "420, BELOW"})
  void southPoleIsStrongerWhereTheReadingIsMoreNegative(double gauss, Judgement expected) {
    Acceptance south = Acceptance.guarded(FluxDensity.ofGauss(-420), FluxDensity.ofGauss(12));

    assertThat(south.judge(FluxDensity.ofGauss(gauss), U)).isEqualTo(expected);
  }

  @ParameterizedTest
  @CsvSource({"0, ACCEPT", "7.9, ACCEPT", "-7.9, ACCEPT", "8.1, ABOVE", "-8.1, ABOVE"})
  void demagnetisedMeansNearZeroOnEitherSide(double gauss, Judgement expected) {
    Acceptance zero = Acceptance.guarded(FluxDensity.ofGauss(0), FluxDensity.ofGauss(12));

    assertThat(zero.judge(FluxDensity.ofGauss(gauss), U)).isEqualTo(expected);
  }

  @Test
  void judgesAReadingByItsOwnUncertainty() {
    FluxDensity value = FluxDensity.ofGauss(428.1);

    assertThat(north.judge(new SettledReading(value, U, 50, 50))).isEqualTo(Judgement.ABOVE);
    assertThat(north.judge(new SettledReading(value, FluxDensity.ofGauss(1), 50, 50)))
        .isEqualTo(Judgement.ACCEPT);
  }

  @Test
  void gaugeMustBeFourStandardUncertaintiesFinerThanTheTolerance() {
    assertThat(Acceptance.canTell(FluxDensity.ofGauss(8.01), U)).isTrue();
    assertThat(Acceptance.canTell(FluxDensity.ofGauss(7.99), U)).isFalse();
    assertThat(Acceptance.tightestTolerance(U).gauss()).isCloseTo(8, within(1e-9));
  }

  @Test
  void uncertaintyAsWideAsTheToleranceAcceptsNothing() {
    FluxDensity wide = FluxDensity.ofGauss(6.1);

    assertThat(north.acceptedHalfWidthTesla(wide)).isNegative();
    assertThat(north.judge(FluxDensity.ofGauss(420), wide)).isNotEqualTo(Judgement.ACCEPT);
  }

  /**
   * JCGM 106:2012: highest specific consumer risk, at the acceptance limit, for a guard band of w/u
   * standard uncertainties; the figures are those of the normal distribution.
   */
  @ParameterizedTest
  @CsvSource({"0, 0.500", "1, 0.159", "1.28, 0.100", "1.645, 0.050", "2, 0.0228", "3, 0.00135"})
  void riskAtTheAcceptanceLimitIsThatOfTheNormalDistribution(double guardOverU, double risk) {
    FluxDensity u = new FluxDensity(1e-4);
    Acceptance acceptance =
        new Acceptance(
            new FluxDensity(0.05), new FluxDensity(0.004), guardOverU / Acceptance.COVERAGE);
    FluxDensity atLimit = new FluxDensity(0.05 + acceptance.acceptedHalfWidthTesla(u));

    assertThat(1 - acceptance.probabilityInside(atLimit, u))
        .isCloseTo(risk, within(Math.max(6e-4 * (risk > 0.01 ? 1 : 0), 1e-5)));
  }

  /**
   * Global consumer and producer risks computed beforehand for a process N(0, 0.12), a measurement
   * of 0.04 and a tolerance of ±0.2, in the manner of JCGM 106:2012, 9.5; here by integration over
   * our own acceptance limits. Of all magnets 0.9044 conform.
   */
  @Against(Against.Kind.COMPUTED)
  @ParameterizedTest
  @CsvSource({
    "0, 0.01894, 0.03721",
    "0.25, 0.00988, 0.06903",
    "0.5, 0.00433, 0.11466",
    "1, 0.00047, 0.24767"
  })
  void globalRisksAgreeWithThoseComputedBeforehand(double r, double consumer, double producer) {
    double sigma = 0.12;
    double u = 0.04;
    Acceptance acceptance = new Acceptance(new FluxDensity(0), new FluxDensity(0.2), r);
    double accepted = acceptance.acceptedHalfWidthTesla(new FluxDensity(u));
    Acceptance limits = new Acceptance(new FluxDensity(0), new FluxDensity(accepted), 0);
    double step = 1e-5;
    double wronglyAccepted = 0;
    double wronglyRefused = 0;
    for (double x = -1 + step / 2; x < 1; x += step) {
      double density = Math.exp(-0.5 * x * x / (sigma * sigma)) / (sigma * Math.sqrt(2 * Math.PI));
      double passes = limits.probabilityInside(new FluxDensity(x), new FluxDensity(u));
      wronglyAccepted += Math.abs(x) > 0.2 ? density * passes * step : 0;
      wronglyRefused += Math.abs(x) > 0.2 ? 0 : density * (1 - passes) * step;
    }

    assertThat(wronglyAccepted).isCloseTo(consumer, within(1e-5));
    assertThat(wronglyRefused).isCloseTo(producer, within(1e-5));
  }

  @Test
  void refusesNonsense() {
    FluxDensity target = FluxDensity.ofGauss(420);
    assertThatThrownBy(() -> Acceptance.guarded(target, FluxDensity.ofGauss(0)))
        .hasMessage("a tolerance must be above zero: 0.0 G");
    assertThatThrownBy(() -> Acceptance.guarded(target, FluxDensity.ofGauss(-3)))
        .hasMessageContaining("above zero");
    assertThatThrownBy(() -> new Acceptance(target, U, Double.NaN))
        .hasMessageContaining("guard factor");
    assertThatThrownBy(() -> new Acceptance(target, U, -1)).hasMessageContaining("guard factor");
  }
}
