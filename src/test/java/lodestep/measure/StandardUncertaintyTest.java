package lodestep.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;

class StandardUncertaintyTest {

  /**
   * JCGM 100:2008, example H.1 (end gauge), in nanometres: u_c = 32 (31.7 unrounded) and 16.7
   * effective degrees of freedom, cut to 16 there.
   */
  @Test
  void combinesTheEndGaugeOfTheGuide() {
    StandardUncertainty difference =
        StandardUncertainty.combined(
            List.of(
                new StandardUncertainty(5.8, 24),
                new StandardUncertainty(3.9, 5),
                new StandardUncertainty(6.7, 8)));
    StandardUncertainty length =
        StandardUncertainty.combined(
            List.of(
                new StandardUncertainty(25, 18),
                difference,
                new StandardUncertainty(2.9, 50),
                new StandardUncertainty(16.6, 2)));

    assertThat(difference.value()).isCloseTo(9.7, within(0.05));
    assertThat(difference.degreesOfFreedom()).isCloseTo(25.6, within(0.5));
    assertThat(length.value()).isCloseTo(31.7, within(0.05));
    assertThat(length.degreesOfFreedom()).isCloseTo(16.7, within(0.1));
  }

  /**
   * The pooled estimate of JCGM 100:2008, 4.2.4: with s of 2 and 3 and 4 and 9 degrees of freedom
   * &radic;((4 × 4 + 9 × 9) / 13), by hand.
   */
  @Test
  void poolsEstimatesOfOneScatter() {
    StandardUncertainty pooled =
        StandardUncertainty.pooled(
            List.of(new StandardUncertainty(2, 4), new StandardUncertainty(3, 9)));

    assertThat(pooled.value()).isCloseTo(Math.sqrt(97 / 13.0), within(1e-12));
    assertThat(pooled.degreesOfFreedom()).isEqualTo(13);
  }

  @Test
  void partsKnownBeforehandHaveNoEndOfFreedom() {
    StandardUncertainty sum =
        StandardUncertainty.combined(
            List.of(StandardUncertainty.known(3), StandardUncertainty.known(4)));

    assertThat(sum.value()).isCloseTo(5, within(1e-12));
    assertThat(sum.degreesOfFreedom()).isInfinite();
    assertThat(StandardUncertainty.combined(List.of()).value()).isZero();
  }

  @Test
  void refusesNonsense() {
    assertThatThrownBy(() -> StandardUncertainty.known(-1)).hasMessageContaining("uncertainty");
    assertThatThrownBy(() -> StandardUncertainty.known(Double.NaN)).hasMessageContaining("NaN");
    assertThatThrownBy(() -> new StandardUncertainty(1, 0)).hasMessageContaining("freedom");
    assertThatThrownBy(() -> new StandardUncertainty(1, Double.NaN)).hasMessageContaining("freed");
  }
}
