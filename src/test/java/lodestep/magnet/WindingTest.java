package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Fields and inductance of air coils. */
class WindingTest {

  private static final double MU0 = 4e-7 * Math.PI;

  /** A single layer on its axis, B = µ0 n I/2 (cos θ1 + cos θ2): computed beforehand, twice. */
  @ParameterizedTest
  @CsvSource({"0, 56.198518", "20, 30.477926", "30, 8.591436"})
  void aSingleLayerHasTheTextbookFieldOnItsAxis(double zMm, double expectedMilliTesla) {
    Winding.Round layer = new Winding.Round(10e-3, 10e-3, 40e-3, 200);

    double tesla = 10 * layer.perAmpere().at(Place.onAxis(zMm * 1e-3)).zTesla();

    assertThat(tesla * 1e3).isCloseTo(expectedMilliTesla, within(1e-6));
    assertThat(10 * layer.onAxisTeslaPerAmpere(zMm * 1e-3)).isCloseTo(tesla, within(1e-12));
  }

  /** D. B. Montgomery's thick coil (1969), 15 000 ampere turns: computed beforehand, twice. */
  @ParameterizedTest
  @CsvSource({"0, 0.461647", "15, 0.283954"})
  void aThickCoilHasMontgomerysFieldOnItsAxis(double zMm, double expected) {
    Winding.Round coil = new Winding.Round(8e-3, 20e-3, 30e-3, 300);

    assertThat(50 * coil.onAxisTeslaPerAmpere(zMm * 1e-3)).isCloseTo(expected, within(1e-6));
    assertThat(50 * coil.perAmpere().at(Place.onAxis(zMm * 1e-3)).zTesla())
        .isCloseTo(expected, within(1e-6));
  }

  /** Off the axis the field of a coil without iron has no source: its change is known from Bz. */
  @Test
  void theFieldOffTheAxisFollowsFromThatOnIt() {
    FluxSource coil = new Winding.Round(8e-3, 20e-3, 30e-3, 300).perAmpere();
    double z = 9e-3;
    double step = 1e-5;
    double slope =
        (coil.at(Place.onAxis(z + step)).zTesla() - coil.at(Place.onAxis(z - step)).zTesla())
            / (2 * step);
    double rho = 0.2e-3;

    double radial = coil.at(new Place(rho, 0, z)).xTesla();

    assertThat(radial).isCloseTo(-0.5 * rho * slope, within(1e-3 * Math.abs(0.5 * rho * slope)));
  }

  /** A square loop in its middle, any text on magnetostatics: 2√2 µ0 I / (π side). */
  @Test
  void aSquareLoopHasTheTextbookFieldInItsMiddle() {
    Winding.Rectangular loop = new Winding.Rectangular(30e-3, 30e-3, 0, 1e-6, 1);

    double expected = 2 * Math.sqrt(2) * MU0 / (Math.PI * 30e-3);
    assertThat(loop.perAmpere().at(Place.onAxis(0)).zTesla())
        .isCloseTo(expected, within(1e-6 * expected));
  }

  /** B = µ0 I ab / (π √(a²+b²+z²)) · (1/(a²+z²) + 1/(b²+z²)), any text on magnetostatics. */
  @Test
  void aRectangularLoopHasTheTextbookFieldOnItsAxis() {
    Winding.Rectangular loop = new Winding.Rectangular(40e-3, 10e-3, 0, 1e-6, 1);
    double a = 20e-3;
    double b = 5e-3;
    double z = 7e-3;

    double expected =
        MU0
            * a
            * b
            / (Math.PI * Math.sqrt(a * a + b * b + z * z))
            * (1 / (a * a + z * z) + 1 / (b * b + z * z));
    assertThat(loop.perAmpere().at(Place.onAxis(z)).zTesla())
        .isCloseTo(expected, within(1e-6 * expected));
  }

  @Test
  void aDeepRectangularCoilIsTheSumOfItsLayers() {
    FluxSource deep = new Winding.Rectangular(40e-3, 10e-3, 6e-3, 14e-3, 400).perAmpere();
    Place place = new Place(11e-3, 2e-3, 12e-3);
    Flux sum = Flux.NONE;
    int layers = 400;
    for (int i = 0; i < layers; i++) {
      double out = 6e-3 * (2 * i + 1) / layers;
      sum =
          sum.plus(
              new Winding.Rectangular(40e-3 + out, 10e-3 + out, 0, 14e-3, 400.0 / layers)
                  .perAmpere()
                  .at(place));
    }

    assertThat(deep.at(place).zTesla()).isCloseTo(sum.zTesla(), within(1e-5 * sum.zTesla()));
    assertThat(deep.at(place).xTesla()).isCloseTo(sum.xTesla(), within(1e-9));
  }

  /**
   * Single layers: exact by Nagaoka's coefficient, computed beforehand; H. A. Wheeler's formula
   * (Proc. IRE 16, 1398 (1928)), good to one per cent, beside it.
   */
  @ParameterizedTest
  @CsvSource({"100, 10, 40, 80.747", "10, 12.7, 25.4, 1.7258"})
  void aSingleLayerHasNagaokasInductance(double turns, double rMm, double lMm, double expected) {
    Winding.Round layer = new Winding.Round(rMm * 1e-3, rMm * 1e-3, lMm * 1e-3, turns);

    double microHenries = layer.layerInductanceHenries() * 1e6;

    double rInch = rMm / 25.4;
    double lInch = lMm / 25.4;
    double wheeler = rInch * rInch * turns * turns / (9 * rInch + 10 * lInch);
    assertThat(microHenries).isCloseTo(expected, within(1e-4 * expected));
    assertThat(microHenries).isCloseTo(wheeler, within(0.01 * wheeler));
  }

  @Test
  void refusesWhatIsNoCoil() {
    assertThatThrownBy(() -> new Winding.Round(8e-3, 7e-3, 30e-3, 300))
        .hasMessageContaining("depth");
    assertThatThrownBy(() -> new Winding.Round(8e-3, 9e-3, 30e-3, Double.NaN))
        .hasMessageContaining("turns");
    assertThatThrownBy(() -> new Winding.Rectangular(8e-3, 0, 1e-3, 30e-3, 300))
        .hasMessageContaining("bore's size along y");
    assertThatThrownBy(() -> new Winding.Round(8e-3, 9e-3, 30e-3, 300).layerInductanceHenries())
        .hasMessageContaining("single thin layer");
  }
}
