package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: bodies built of our cylinders take from themselves what a spheroid is known to. Inside a
 * spheroid of even polarisation the field is the same everywhere, and its factor is one of the few
 * in closed form; neither knows anything of Nagaoka or Aharoni.
 */
class SpheroidTest {

  private static final int LAYERS = 4000;

  /** J. A. Osborn, Phys. Rev. 67, 351 (1945), of a prolate spheroid along its long axis. */
  private static double factor(double ratio) {
    double squares = ratio * ratio - 1;
    double root = Math.sqrt(squares);
    double logarithm = Math.log((ratio + root) / (ratio - root));
    return (ratio / (2 * root) * logarithm - 1) / squares;
  }

  /**
   * The formula above, against the table that Stoner and Osborn (1945) print, from memory: what the
   * other tests here lean on, and no check of the program.
   */
  @Against(Against.Kind.COMPUTED)
  @ParameterizedTest
  @CsvSource({
    "2, 0.1735, 1e-4",
    "5, 0.0558, 5e-5",
    "10, 0.0203, 5e-5",
    "20, 0.00675, 5e-6",
    "50, 0.00144, 5e-6",
    "100, 0.000430, 5e-7"
  })
  void hasThePublishedFactor(double ratio, double expected, double digits) {
    assertThat(factor(ratio)).isCloseTo(expected, within(digits));
  }

  /** A stack of thin cylinders in the outline of a spheroid, one unit long, evenly polarised. */
  private static FluxSource stacked(double ratio) {
    double half = 1.0 / LAYERS;
    FluxSource[] layers = new FluxSource[LAYERS];
    for (int i = 0; i < LAYERS; i++) {
      double z = -1 + (2 * i + 1) * half;
      double radius = Math.sqrt(1 - z * z) / ratio;
      layers[i] = new Cylinder(radius, half).raised(z);
    }
    return place -> {
      Flux sum = Flux.NONE;
      for (FluxSource layer : layers) {
        sum = sum.plus(layer.at(place));
      }
      return sum;
    };
  }

  /** µ0 H = B - J is -N J wherever one looks inside; the steps of the outline blur it near them. */
  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @ValueSource(doubles = {1.2, 2, 3.5, 5})
  void aStackOfCylindersInItsOutlineHasItsFieldAndNoOther(double ratio) {
    FluxSource spheroid = stacked(ratio);
    double factor = factor(ratio);
    // In parts of the half axes, all well inside.
    double[][] inside = {{0, 0.0001}, {0, 0.5}, {0.4, 0.0001}, {0.3, 0.6}, {0.6, 0.3}};
    for (double[] at : inside) {
      Flux flux = spheroid.at(new Place(at[0] / ratio, 0, at[1]));

      assertThat(1 - flux.zTesla()).as("%s", at).isCloseTo(factor, within(1e-3));
      assertThat(flux.xTesla()).isCloseTo(0, within(1e-3));
    }
  }

  /**
   * The nearer to its ends a body holds its section, the more it takes from itself: a spheroid
   * keeps less of it than a cylinder as long and as thick, and both vanish alike.
   */
  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @ValueSource(doubles = {2, 3.4, 5, 10, 20})
  void aCylinderOfTheSameSizesTakesMore(double ratio) {
    assertThat(DemagnetisingFactor.ofCylinder(1, ratio)).isGreaterThan(factor(ratio));
    assertThat(DemagnetisingFactor.ofPrism(1, 1, ratio)).isGreaterThan(factor(ratio));
  }
}
