package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.hipparchus.special.elliptic.carlson.CarlsonEllipticIntegral;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Fields of uniformly magnetised bodies and of current sheets, in closed form. */
class FluxSourceTest {

  private static final Cylinder ROD = new Cylinder(2.5e-3, 8.5e-3);
  private static final Block BAR = new Block(30e-3, 1.5e-3, 6e-3);

  /** Computed beforehand, and confirmed by a quadrature over the charged faces. */
  @Against(Against.Kind.COMPUTED)
  @ParameterizedTest
  @CsvSource({
    "0, 9.0, 0, 0.396917",
    "0, 9.5, 0, 0.309551",
    "0, 10.5, 0, 0.183380",
    "0, 13.5, 0, 0.049589",
    "2, 9.5, 0.157035, 0.216973",
    "2.5, 9.0, 0.272102, 0.186516",
    "10, 0, 0, -0.011890"
  })
  void rodHasTheFieldComputedBeforehand(double rhoMm, double zMm, double radial, double axial) {
    double slant = Math.sqrt(0.5) * rhoMm * 1e-3;

    Flux flux = ROD.at(new Place(slant, slant, zMm * 1e-3));

    assertThat(Math.hypot(flux.xTesla(), flux.yTesla())).isCloseTo(radial, within(1e-6));
    assertThat(flux.xTesla()).isCloseTo(flux.yTesla(), within(1e-12));
    assertThat(flux.zTesla()).isCloseTo(axial, within(1e-6));
  }

  /** Any text on magnetostatics: 1/√5 in the middle of the face, 1/√2 in that of the body. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void rodAsLongAsItIsThickHasTheTextbookFieldAtFaceAndCentre() {
    Cylinder rod = new Cylinder(1, 1);

    assertThat(rod.at(Place.onAxis(1)).zTesla()).isCloseTo(1 / Math.sqrt(5), within(1e-12));
    assertThat(rod.at(Place.onAxis(0)).zTesla()).isCloseTo(1 / Math.sqrt(2), within(1e-12));
  }

  /** Computed beforehand, and confirmed by a quadrature over the charged faces. */
  @Against(Against.Kind.COMPUTED)
  @ParameterizedTest
  @CsvSource({
    "0, 0, 6.5, 0, 0, 0.362372",
    "0, 0, 7, 0, 0, 0.279028",
    "0, 0, 8, 0, 0, 0.173527",
    "0, 0, 11, 0, 0, 0.067110",
    "0, 1, 7, 0, 0.137082, 0.229636",
    "0, 3, 7, 0, 0.141375, 0.026771",
    "29, 0, 7, 0.128635, 0, 0.237241"
  })
  void barHasTheFieldComputedBeforehand(
      double xMm, double yMm, double zMm, double bx, double by, double bz) {
    Flux flux = BAR.at(new Place(xMm * 1e-3, yMm * 1e-3, zMm * 1e-3));

    assertThat(flux.xTesla()).isCloseTo(bx, within(1e-6));
    assertThat(flux.yTesla()).isCloseTo(by, within(1e-6));
    assertThat(flux.zTesla()).isCloseTo(bz, within(1e-6));
  }

  @Against(Against.Kind.COMPUTED)
  @ParameterizedTest
  @CsvSource({"0.5, 0.435906", "1.0, 0.134782", "1.5, 0.045359"})
  void cubeHasTheFieldComputedBeforehand(double z, double expected) {
    Block cube = new Block(0.5, 0.5, 0.5);

    assertThat(cube.at(Place.onAxis(z)).zTesla()).isCloseTo(expected, within(1e-6));
  }

  /** The number N. Derby and S. Olbert's form gives, confirmed by a quadrature. */
  @Against(Against.Kind.COMPUTED)
  @Test
  void integralHasTheValueComputedBeforehand() {
    assertThat(EllipticIntegral.cel(0.3, 0.5, 1, 0.7)).isCloseTo(3.217272527098, within(1e-12));
  }

  /** A general-purpose library's symmetric integrals (Carlson), which share nothing with ours. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Property(tries = 500)
  void integralIsThatOfCarlsonsForms(
      @ForAll @DoubleRange(min = 0.01, max = 3) double k,
      @ForAll @DoubleRange(min = 0.01, max = 3) double p,
      @ForAll @DoubleRange(min = -2, max = 2) double c,
      @ForAll @DoubleRange(min = -2, max = 2) double s) {
    double first = CarlsonEllipticIntegral.rF(0, k * k, 1);
    double third = CarlsonEllipticIntegral.rJ(0, k * k, 1, p);

    double size = Math.abs(c) * first + Math.abs(s - p * c) / 3 * third;
    assertThat(EllipticIntegral.cel(k, p, c, s))
        .isCloseTo(c * first + (s - p * c) / 3 * third, within(1e-11 * (1 + size)));
  }

  /** What flows in flows out: no charge outside a magnet, in or across its mantle. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Property(tries = 200)
  void noFluxIsLostAnywhere(
      @ForAll @DoubleRange(min = -20, max = 20) double xMm,
      @ForAll @DoubleRange(min = -20, max = 20) double yMm,
      @ForAll @DoubleRange(min = 6.5, max = 20) double zMm) {
    Place place = new Place(xMm * 1e-3, yMm * 1e-3, zMm * 1e-3);

    assertThat(divergence(BAR, place)).isCloseTo(0, within(0.02));
    if (zMm > 9) {
      assertThat(divergence(ROD, place)).isCloseTo(0, within(0.02));
    }
  }

  /** Teslas per metre; the fields here change by some hundred of them. */
  private static double divergence(FluxSource source, Place place) {
    double step = 1e-6;
    double x =
        source.at(place.moved(step, 0, 0)).xTesla() - source.at(place.moved(-step, 0, 0)).xTesla();
    double y =
        source.at(place.moved(0, step, 0)).yTesla() - source.at(place.moved(0, -step, 0)).yTesla();
    double z =
        source.at(place.moved(0, 0, step)).zTesla() - source.at(place.moved(0, 0, -step)).zTesla();
    return (x + y + z) / (2 * step);
  }

  @Test
  void fieldGoesThroughTheFaceUnbroken() {
    for (FluxSource source :
        new FluxSource[] {new Block(1e-2, 1e-3, 4e-3), new Cylinder(3e-3, 4e-3)}) {
      double below = source.at(new Place(5e-4, 3e-4, 4e-3 - 1e-10)).zTesla();
      double on = source.at(new Place(5e-4, 3e-4, 4e-3)).zTesla();
      double above = source.at(new Place(5e-4, 3e-4, 4e-3 + 1e-10)).zTesla();

      assertThat(below).isCloseTo(above, within(1e-6));
      assertThat(on).isCloseTo(above, within(1e-6));
    }
  }

  /** Far off, both are the same dipole: 2 µ0 m / 4π z³, with a tesla through the volume as µ0 m. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void farOffEachIsADipole() {
    double distance = 2;

    double rod = ROD.at(Place.onAxis(distance)).zTesla();
    double bar = BAR.at(Place.onAxis(distance)).zTesla();

    double rodVolume = Math.PI * 2.5e-3 * 2.5e-3 * 17e-3;
    double barVolume = 60e-3 * 3e-3 * 12e-3;
    double cube = 2 * Math.PI * distance * distance * distance;
    assertThat(rod).isCloseTo(rodVolume / cube, within(1e-4 * rodVolume / cube));
    assertThat(bar).isCloseTo(barVolume / cube, within(1e-3 * barVolume / cube));
  }

  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void aHallElementReadsTheMeanOverItsSquare() {
    HallElement element = new HallElement(0.4e-3);

    double read = element.reads(ROD, Place.onAxis(9.5e-3));

    double sum = 0;
    int points = 41;
    for (int i = 0; i < points; i++) {
      for (int j = 0; j < points; j++) {
        double x = (i + 0.5 - 0.5 * points) / points * 0.4e-3;
        double y = (j + 0.5 - 0.5 * points) / points * 0.4e-3;
        sum += ROD.at(new Place(x, y, 9.5e-3)).zTesla();
      }
    }
    assertThat(read).isCloseTo(sum / (points * points), within(1e-6));
    assertThat(read).isLessThan(ROD.at(Place.onAxis(9.5e-3)).zTesla());
  }

  @Test
  void refusesWhatIsNoSize() {
    assertThatThrownBy(() -> new Cylinder(0, 1)).hasMessageContaining("cylinder's radius");
    assertThatThrownBy(() -> new Cylinder(1, Double.NaN)).hasMessageContaining("half length");
    assertThatThrownBy(() -> new Block(1, -1, 1)).hasMessageContaining("along y");
    assertThatThrownBy(() -> new Place(0, Double.NaN, 0)).hasMessageContaining("place's y");
    assertThatThrownBy(() -> new HallElement(-1)).hasMessageContaining("Hall element's side");
  }
}
