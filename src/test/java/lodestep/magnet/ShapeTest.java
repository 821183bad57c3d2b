package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import lodestep.magnet.Shape.Axis;
import lodestep.magnet.Shape.Bar;
import lodestep.magnet.Shape.Rod;
import lodestep.quantity.Length;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ShapeTest {

  /**
   * Aharoni, J. Appl. Phys. 83, 3432 (1998), equation 1; the figures were confirmed by the integral
   * of the charge of face against face, to six digits. The cube is a third by symmetry.
   */
  @Against(Against.Kind.COMPUTED)
  @ParameterizedTest
  @CsvSource({
    "1, 1, 1, 0.333333",
    "1, 1, 2, 0.198316",
    "1, 1, 5, 0.088316",
    "1, 1, 10, 0.045731",
    "1, 1, 0.1, 0.805078",
    "2, 1, 1, 0.400842",
    "1, 2, 3, 0.182818",
    "3, 2, 1, 0.538790",
    "60, 3, 12, 0.216214",
    "60, 12, 3, 0.743034",
    "3, 12, 60, 0.040752"
  })
  void prismHasAharonisFactor(double a, double b, double c, double expected) {
    assertThat(DemagnetisingFactor.ofPrism(a, b, c)).isCloseTo(expected, within(1e-6));
  }

  /**
   * Chen, Brug, Goldfarb, IEEE Trans. Magn. 27(4), 3601 (1991), magnetometric column for zero
   * susceptibility, at five printed digits as another program's tests quote it.
   */
  @Against(Against.Kind.READ)
  @ParameterizedTest
  @CsvSource({"1, 0.31158", "2, 0.18186", "5, 0.07991"})
  void rodHasThePublishedFactor(double lengthOverDiameter, double expected) {
    assertThat(rod(2, 2 * lengthOverDiameter).demagnetisingFactor())
        .isCloseTo(expected, within(5e-6));
  }

  /** From the Nagaoka coefficient, beforehand. */
  @Against(Against.Kind.COMPUTED)
  @ParameterizedTest
  @CsvSource({"0.5, 0.474490", "10, 0.041193", "20, 0.020908", "50, 0.008438"})
  void rodHasTheFactorComputedBeforehand(double lengthOverDiameter, double expected) {
    assertThat(rod(2, 2 * lengthOverDiameter).demagnetisingFactor())
        .isCloseTo(expected, within(1e-6));
  }

  /**
   * Sato and Ishii, J. Appl. Phys. 66, 983 (1989), from memory: 1/(2n + 1) for a square prism n
   * times as long as wide, an approximation that is 4 per cent high at ten.
   */
  @Against(Against.Kind.FROM_MEMORY)
  @ParameterizedTest
  @CsvSource({"1, 0.001", "2, 0.01", "5, 0.03", "10, 0.045"})
  void squarePrismIsNearTheKnownApproximation(double n, double part) {
    double known = 1 / (2 * n + 1);

    assertThat(DemagnetisingFactor.ofPrism(1, 1, n)).isCloseTo(known, within(part * known));
    assertThat(DemagnetisingFactor.ofPrism(1, 1, n)).isLessThanOrEqualTo(known * (1 + 1e-9));
  }

  /** Sum rule: the factors along three axes of one body add up to one. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Property(tries = 200)
  void factorsOfABarAddUpToOne(
      @ForAll @DoubleRange(min = 0.5, max = 200) double lengthMm,
      @ForAll @DoubleRange(min = 0.5, max = 200) double widthMm,
      @ForAll @DoubleRange(min = 0.5, max = 200) double thicknessMm) {
    double sum = 0;
    for (Axis axis : Axis.values()) {
      double factor = bar(lengthMm, widthMm, thicknessMm, axis).demagnetisingFactor();
      assertThat(factor).isBetween(0.0, 1.0);
      sum += factor;
    }

    assertThat(sum).isCloseTo(1, within(1e-6));
  }

  @Property(tries = 200)
  void rodsFactorFallsAsItGrowsLonger(
      @ForAll @DoubleRange(min = 0.5, max = 100) double diameterMm,
      @ForAll @DoubleRange(min = 0.5, max = 100) double lengthMm) {
    double shorter = rod(diameterMm, lengthMm).demagnetisingFactor();
    double longer = rod(diameterMm, lengthMm * 1.01).demagnetisingFactor();

    assertThat(longer).isBetween(0.0, shorter);
  }

  /**
   * Closed form on the axis for one tesla, confirmed by a quadrature of the surface charge to 1e-6
   * T: rod 5 x 17 mm (also the equation of the documentation of an open magnet-field library).
   */
  @Against(Against.Kind.COMPUTED)
  @ParameterizedTest
  @CsvSource({"0.5, 0.396917", "1, 0.309551", "2, 0.183380", "5, 0.049589"})
  void rodsFieldIsThatOfTwoChargedDiscs(double standOffMm, double expected) {
    assertThat(rod(5, 17).faceFieldPerPolarisation(Length.ofMm(standOffMm)))
        .isCloseTo(expected, within(1e-6));
  }

  /** As for the rod: bar 60 x 12 x 3 mm through its width. */
  @Against(Against.Kind.COMPUTED)
  @ParameterizedTest
  @CsvSource({"0.5, 0.362372", "1, 0.279028", "2, 0.173527", "5, 0.067110"})
  void barsFieldIsThatOfTwoChargedRectangles(double standOffMm, double expected) {
    assertThat(bar(60, 12, 3, Axis.THROUGH_WIDTH).faceFieldPerPolarisation(Length.ofMm(standOffMm)))
        .isCloseTo(expected, within(1e-6));
  }

  /**
   * Exact: 1/√5 at the face of a rod as long as it is wide; a cube's face by symmetry of solids.
   */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void fieldAtTheFaceItselfIsExact() {
    assertThat(rod(2, 2).faceFieldPerPolarisation(Length.ofMm(0)))
        .isCloseTo(1 / Math.sqrt(5), within(1e-12));
    assertThat(bar(2, 2, 2, Axis.ALONG_LENGTH).faceFieldPerPolarisation(Length.ofMm(0)))
        .isCloseTo(0.435906, within(1e-6));
  }

  @Test
  void axisOfABarTellsWhichSizeIsCharged() {
    assertThat(bar(40, 10, 4, Axis.THROUGH_WIDTH).demagnetisingFactor())
        .isCloseTo(DemagnetisingFactor.ofPrism(40, 4, 10), within(1e-12));
    assertThat(bar(40, 10, 4, Axis.THROUGH_THICKNESS).demagnetisingFactor())
        .isCloseTo(DemagnetisingFactor.ofPrism(40, 10, 4), within(1e-12));
    assertThat(bar(40, 10, 4, Axis.ALONG_LENGTH).demagnetisingFactor())
        .isCloseTo(DemagnetisingFactor.ofPrism(10, 4, 40), within(1e-12));
  }

  @Test
  void refusesSizesThatNoMagnetHas() {
    assertThatThrownBy(() -> rod(0, 16))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("the rod's diameter is 0.00 mm; a magnet measures 0.50 mm to 200.00 mm");
    assertThatThrownBy(() -> rod(4.9, -16)).hasMessageContaining("rod's length is -16.00 mm");
    assertThatThrownBy(() -> bar(200.1, 10, 3, Axis.THROUGH_WIDTH))
        .hasMessageContaining("bar's length");
    assertThatThrownBy(() -> bar(50, 0.49, 3, Axis.THROUGH_WIDTH))
        .hasMessageContaining("bar's width");
    assertThatThrownBy(() -> bar(50, 10, 0, Axis.THROUGH_WIDTH))
        .hasMessageContaining("bar's thickness");
  }

  @Test
  void acceptsTheSmallestAndTheLargestSize() {
    assertThat(rod(0.5, 200).demagnetisingFactor()).isBetween(0.0, 0.01);
    assertThat(rod(200, 0.5).demagnetisingFactor()).isBetween(0.98, 1.0);
    assertThat(bar(200, 0.5, 0.5, Axis.ALONG_LENGTH).demagnetisingFactor()).isBetween(0.0, 0.01);
  }

  @Test
  void refusesANegativeStandOff() {
    assertThatThrownBy(() -> rod(5, 17).faceFieldPerPolarisation(Length.ofMm(-1)))
        .hasMessage("the stand-off is -1.00 mm; it cannot be negative");
  }

  @Test
  void writesItselfAsTheTradeDoes() {
    assertThat(rod(4.9, 16.5).words()).isEqualTo("rod 4.90 x 16.50 mm");
    assertThat(bar(58, 11.5, 3.4, Axis.THROUGH_THICKNESS).words())
        .isEqualTo("bar 58.00 x 11.50 x 3.40 mm, through its thickness");
  }

  private static Rod rod(double diameterMm, double lengthMm) {
    return new Rod(Length.ofMm(diameterMm), Length.ofMm(lengthMm));
  }

  private static Bar bar(double lengthMm, double widthMm, double thicknessMm, Axis axis) {
    return new Bar(Length.ofMm(lengthMm), Length.ofMm(widthMm), Length.ofMm(thicknessMm), axis);
  }
}
