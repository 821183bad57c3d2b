package lodestep.port;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;

/** Goal: the numbers beside a plot are ones that a person would write there. */
class RoundScaleTest {

  @Test
  void takesStepsOfOneTwoOrFive() {
    assertThat(RoundScale.over(0, 71.4, 10).ticks())
        .containsExactly(0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0);
    assertThat(RoundScale.over(0, 767, 5).ticks()).containsExactly(0.0, 200.0, 400.0, 600.0, 800.0);
    assertThat(RoundScale.over(-0.12, 0.31, 6).ticks())
        .containsExactly(-0.2, -0.1, 0.0, 0.1, 0.2, 0.3, 0.4);
    assertThat(RoundScale.over(0, 23, 5).ticks()).containsExactly(0.0, 5.0, 10.0, 15.0, 20.0, 25.0);
  }

  @Test
  void hasAStepEvenWhereAllIsOneValue() {
    assertThat(RoundScale.over(0, 0, 5).ticks()).hasSize(2);
    assertThat(RoundScale.over(300, 300, 5).high()).isGreaterThanOrEqualTo(300);
  }

  @Property(tries = 500)
  void holdsTheRangeInAFewRoundSteps(
      @ForAll @DoubleRange(min = -1e4, max = 1e4) double low,
      @ForAll @DoubleRange(min = 1, max = 1e4) double width) {
    RoundScale scale = RoundScale.over(low, low + width, 8);

    assertThat(scale.low()).isLessThanOrEqualTo(low + 1e-4 * width);
    assertThat(scale.high()).isGreaterThanOrEqualTo(low + width - 1e-4 * width);
    assertThat(scale.ticks().size()).isBetween(3, 9);
    double mantissa = scale.step() / Math.pow(10, Math.floor(Math.log10(scale.step()) + 1e-9));
    assertThat(Math.round(mantissa * 1e6)).isIn(1_000_000L, 2_000_000L, 5_000_000L);
  }

  @Test
  void refusesWhatIsNoRange() {
    assertThatThrownBy(() -> RoundScale.over(2, 1, 5)).hasMessageContaining("no axis");
    assertThatThrownBy(() -> RoundScale.over(0, Double.NaN, 5)).hasMessageContaining("no axis");
    assertThatThrownBy(() -> RoundScale.over(0, Double.POSITIVE_INFINITY, 5))
        .hasMessageContaining("no axis");
  }
}
