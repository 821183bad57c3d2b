package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.SplittableRandom;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: the quick model reads what the resolved magnet reads, at every level and stand-off. Method:
 * {@link ResolvedMagnet}, which {@code ResolvedMagnetTest} holds against finite elements.
 */
class FaceModelTest {

  private static final List<Shape> SHAPES =
      List.of(
          new Shape.Rod(Length.ofMm(4.6), Length.ofMm(15.5)),
          new Shape.Bar(
              Length.ofMm(56), Length.ofMm(11), Length.ofMm(3.1), Shape.Axis.THROUGH_WIDTH));

  private static Alloy alloy(String name) {
    return AlloyBook.standard().find(name).orElseThrow();
  }

  /**
   * Net field and what the shape takes at saturation, reckoned beforehand: 335 to 360 kA/m for a
   * rod of alnico 5, 430 to 465 for a bar of it through its width, about 710 for a rod of alnico 8.
   */
  @Against(Against.Kind.COMPUTED)
  @ParameterizedTest
  @CsvSource({
    "alnico 5, rod, 335, 360",
    "alnico 5, bar through width, 430, 465",
    "alnico 8, rod, 696, 724"
  })
  void saturatesByTheFieldThatItsShapeAsksFor(String name, String shape, double low, double high) {
    Shape of =
        shape.equals("rod")
            ? new Shape.Rod(Length.ofMm(5), Length.ofMm(17))
            : new Shape.Bar(
                Length.ofMm(60), Length.ofMm(12), Length.ofMm(3), Shape.Axis.THROUGH_WIDTH);

    assertThat(FaceModel.of(alloy(name), of).saturating().amperesPerMetre())
        .isBetween(low * 1e3, high * 1e3);
  }

  /**
   * By a textbook: across the axis the field falls by a quarter of its curvature along it times the
   * square of the distance, so that the mean over a square of side s falls by s²/24 of that
   * curvature.
   */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void readsTheMeanOverTheGaugesElement() {
    FaceModel point = FaceModel.of(alloy("alnico 5"), SHAPES.get(0));
    Length standOff = Length.ofMm(2);
    double side = 0.6e-3;
    double step = 0.1e-3;
    double here = point.chargedField(standOff).tesla();
    double curvature =
        (point.chargedField(new Length(2e-3 + step)).tesla()
                - 2 * here
                + point.chargedField(new Length(2e-3 - step)).tesla())
            / (step * step);

    double mean = point.seenBy(new HallElement(side)).chargedField(standOff).tesla();

    // The mean of x² and of y² over the square is s²/12 each; half the curvature across for each.
    double expected = here - curvature * side * side / 24;
    assertThat(mean).isCloseTo(expected, within(2e-4 * here));
    assertThat(mean).isLessThan(here);
    assertThat(point.seenBy(HallElement.POINT)).isEqualTo(point);
    assertThat(point.seenBy(new HallElement(side))).isNotEqualTo(point);
  }

  @Test
  void readsWhatTheResolvedMagnetReads() {
    for (String name : List.of("alnico 2", "alnico 5", "alnico 8")) {
      for (Shape shape : SHAPES) {
        FaceModel kind = FaceModel.of(alloy(name), shape);
        ResolvedMagnet resolved = ResolvedMagnet.of(shape, Hysteresis.of(kind.alloy()));
        MagnetState charged = kind.model().charged();
        double full = kind.chargedField(Length.ofMm(1)).tesla();
        for (double part : new double[] {0.1, 0.37, 0.52, 0.8}) {
          double peak = part * kind.alloy().coercivityJ().amperesPerMetre();
          double mean =
              kind.model()
                  .polarisationTesla(kind.model().afterPulse(charged, new FieldStrength(-peak)));
          double z = 0.5 * shape.height().metres() + 1e-3;
          double expected =
              resolved.knockedDown(new FieldStrength(peak)).at(Place.onAxis(z)).zTesla();

          assertThat(kind.at(Length.ofMm(1)).tesla(mean))
              .as("%s, peak of %.2f coercivities", kind, part)
              .isCloseTo(expected, within(0.004 * full));
        }
      }
    }
  }

  /** The range of the quick reading can be asked for, and ends where the type says. */
  @Test
  void saysWhereItsReadingsHold() {
    FaceModel kind = FaceModel.of(alloy("alnico 5"), SHAPES.get(0));
    FaceField face = kind.at(Length.ofMm(1));
    double full = kind.model().chargedPolarisationTesla();

    assertThat(face.holds(full)).isTrue();
    assertThat(face.holds(-0.5 * full)).isTrue();
    assertThat(face.holds((FaceModel.LEAST_PART - 0.001) * full)).isFalse();
    assertThat(face.holds(0)).isFalse();
  }

  /** Level, and so the planner's first guess, never rises as the pulse grows. */
  @Test
  void givesACurveThatFalls() {
    for (Shape shape : SHAPES) {
      KnockDownCurve curve =
          KnockDownCurve.of(
              FaceModel.of(alloy("alnico 5-7"), shape), Length.ofMm(2), new FieldStrength(110e3));

      assertThat(curve.fractions().get(0)).isEqualTo(1);
      assertThat(curve.fractionAt(100e3)).isNegative();
    }
  }

  /** Whatever shape a plan may name: an answer, and a plausible one. */
  @Test
  void worksOutEveryShapeThatAPlanCanName() {
    SplittableRandom random = new SplittableRandom(5);
    List<Alloy> alloys = AlloyBook.standard().alloys();
    for (int i = 0; i < 25; i++) {
      Shape shape = drawn(random);
      Alloy alloy = alloys.get(random.nextInt(alloys.size()));
      assertThatCode(
              () ->
                  assertThat(FaceModel.of(alloy, shape).chargedField(Length.ofMm(1)).tesla())
                      .isBetween(0.0, alloy.remanence().tesla()))
          .as("%s, %s", alloy.name(), shape.words())
          .doesNotThrowAnyException();
    }
  }

  private static Shape drawn(SplittableRandom random) {
    if (random.nextBoolean()) {
      return new Shape.Rod(size(random), size(random));
    }
    Shape.Axis[] axes = Shape.Axis.values();
    return new Shape.Bar(size(random), size(random), size(random), axes[random.nextInt(3)]);
  }

  /** From the smallest to the largest size there is, each decade as often. */
  private static Length size(SplittableRandom random) {
    double ratio = Shape.SIZE_MAX.metres() / Shape.SIZE_MIN.metres();
    return new Length(Shape.SIZE_MIN.metres() * Math.pow(ratio, random.nextDouble()));
  }
}
