package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.function.DoubleUnaryOperator;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;
import org.hipparchus.special.BesselJ;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: a ring is a magnet like the others. Against ways that know nothing of two cylinders. */
class RingTest {

  private static final GaussIntegrator RULE = new GaussIntegratorFactory().legendre(32, 0, 1);

  private static Shape.Ring ring(double outsideMm, double insideMm, double lengthMm) {
    return new Shape.Ring(Length.ofMm(outsideMm), Length.ofMm(insideMm), Length.ofMm(lengthMm));
  }

  private static double pieces(DoubleUnaryOperator f, double from, double to, int pieces) {
    double width = (to - from) / pieces;
    double sum = 0;
    for (int piece = 0; piece < pieces; piece++) {
      double low = from + piece * width;
      sum += width * RULE.integrate(part -> f.applyAsDouble(low + part * width));
    }
    return sum;
  }

  /**
   * Magnetostatic energy in the space of wave numbers, with a general-purpose library's Bessel
   * functions: N = 2/(L (a² − b²)) ∫ (a J₁(ka) − b J₁(kb))² (1 − e^(−kL))/k² dk. M. Beleggia, M. De
   * Graef, J. Magn. Magn. Mater. 263, L1 (2003), their way, from memory; the end of the integral by
   * the mean of the oscillation.
   */
  private static double byWaveNumbers(double a, double b, double length) {
    double end = 1500 / (a - b);
    double integral =
        pieces(
            k -> {
              double charge = a * BesselJ.value(1, k * a) - b * BesselJ.value(1, k * b);
              return k == 0 ? 0 : charge * charge * -Math.expm1(-k * length) / (k * k);
            },
            0,
            end,
            1500);
    double tail = (a + b) / (2 * Math.PI * end * end);
    return 2 * (integral + tail) / (length * (a * a - b * b));
  }

  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @CsvSource({"16.4, 6.3, 9.4", "16.4, 6.3, 1.2", "23, 14, 31", "9, 1.5, 4"})
  void hasTheFactorFoundByWaveNumbers(double outsideMm, double insideMm, double lengthMm) {
    double expected = byWaveNumbers(0.5 * outsideMm, 0.5 * insideMm, lengthMm);

    assertThat(ring(outsideMm, insideMm, lengthMm).demagnetisingFactor())
        .isCloseTo(expected, within(2e-6));
  }

  /** A wide ring of thin wall is a long prism bent round: Aharoni's factor of that. */
  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @CsvSource({"2, 2", "2, 6", "3, 1"})
  void aWideThinRingIsALongPrism(double wallMm, double lengthMm) {
    double prism = DemagnetisingFactor.ofPrism(1e5, wallMm, lengthMm);

    double ring = DemagnetisingFactor.ofRing(4000, 4000 - 2 * wallMm, lengthMm);

    assertThat(ring).isCloseTo(prism, within(2e-3 * prism));
  }

  @Property(tries = 100)
  void aSmallHoleLeavesARodsFactor(
      @ForAll @DoubleRange(min = 1, max = 50) double diameter,
      @ForAll @DoubleRange(min = 1, max = 50) double length) {
    double rod = DemagnetisingFactor.ofCylinder(diameter, length);

    assertThat(DemagnetisingFactor.ofRing(diameter, 1e-4 * diameter, length))
        .isCloseTo(rod, within(1e-6));
  }

  @Property(tries = 200)
  void theFactorLiesBetweenNothingAndOne(
      @ForAll @DoubleRange(min = 2, max = 200) double outsideMm,
      @ForAll @DoubleRange(min = 0.01, max = 0.99) double part,
      @ForAll @DoubleRange(min = 0.5, max = 200) double lengthMm) {
    double factor = DemagnetisingFactor.ofRing(outsideMm, part * outsideMm, lengthMm);

    assertThat(factor).isBetween(0.0, 1.0);
    assertThat(DemagnetisingFactor.ofRing(outsideMm, part * outsideMm, 1.01 * lengthMm))
        .isLessThan(factor);
  }

  /** B along the axis, by the charge of both faces summed up: 1/4π ∫ Δz/r³ dA. */
  private static double byCharge(double b, double a, double length, double rho, double z) {
    return face(b, a, rho, z - 0.5 * length) - face(b, a, rho, z + 0.5 * length);
  }

  private static double face(double b, double a, double rho, double up) {
    return pieces(
            r ->
                pieces(
                    angle -> {
                      double square = r * r + rho * rho - 2 * r * rho * Math.cos(angle) + up * up;
                      return r * up / (square * Math.sqrt(square));
                    },
                    0,
                    Math.PI,
                    12),
            b,
            a,
            12)
        / (2 * Math.PI);
  }

  /** Over the wall, over the hole, beside the ring; in millimetres from the middle. */
  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @CsvSource({"0, 5.7", "0, 7.7", "5.675, 6.7", "5.675, 5.7", "2, 6.7", "8.2, 6.2", "14, 8"})
  void hasTheFieldOfItsChargedFaces(double rhoMm, double zMm) {
    Shape.Ring ring = ring(16.4, 6.3, 9.4);

    double ours = ring.perTesla().at(new Place(rhoMm * 1e-3, 0, zMm * 1e-3)).zTesla();

    assertThat(ours).isCloseTo(byCharge(3.15, 8.2, 9.4, rhoMm, zMm), within(1e-6));
  }

  @Test
  void isReadOverTheMiddleOfItsWall() {
    Shape.Ring ring = ring(16.4, 6.3, 9.4);

    assertThat(ring.readAside()).isCloseTo(5.675e-3, within(1e-12));
    assertThat(ring.faceFieldPerPolarisation(Length.ofMm(2)))
        .isCloseTo(byCharge(3.15, 8.2, 9.4, 5.675, 6.7), within(1e-6));
    assertThat(ring.axisFieldPerPolarisation(Length.ofMm(2)))
        .isCloseTo(byCharge(3.15, 8.2, 9.4, 0, 6.7), within(1e-6));
  }

  /** Near to it the field over the hole is the other way round. */
  @Test
  void turnsItsSignRoundOverTheHole() {
    FaceModel kind =
        FaceModel.of(AlloyBook.standard().find("alnico 3").orElseThrow(), ring(16.4, 6.3, 9.4));

    assertThat(kind.chargedOnAxis(Length.ofMm(0.2)).tesla()).isNegative();
    assertThat(kind.chargedOnAxis(Length.ofMm(9)).tesla()).isPositive();
    assertThat(kind.chargedField(Length.ofMm(0.2)).tesla()).isPositive();
  }

  /** Cells without an answer across, evenly polarised, are the closed form. */
  @Test
  void cellsTogetherAreTheRing() {
    Shape.Ring ring = ring(16.4, 6.3, 9.4);
    RodCells cells = new RodCells(ring, 4, 16, 0);
    double mean = 0;
    double[] even = new double[cells.count()];
    for (int cell = 0; cell < cells.count(); cell++) {
      even[cell] = 1;
      for (int of = 0; of < cells.count(); of++) {
        mean += cells.volumePart(cell) * cells.field().getEntry(cell, of);
      }
    }

    assertThat(mean).isCloseTo(-ring.demagnetisingFactor(), within(2e-3));
    Place over = ring.readAt(Length.ofMm(2));
    assertThat(cells.outside(even).at(over).zTesla())
        .isCloseTo(ring.perTesla().at(over).zTesla(), within(1e-12));
  }

  /** Twice as many cells through the wall and along it move no reading by a per cent. */
  @Test
  void hasCellsEnough() {
    Shape.Ring ring = ring(16.4, 6.3, 9.4);
    Hysteresis loop = Hysteresis.of(AlloyBook.standard().find("alnico 5").orElseThrow());
    for (double peak : new double[] {0, 31e3}) {
      double coarse = left(new RodCells(ring, 4, 16, 3), loop, peak, ring);
      double fine = left(new RodCells(ring, 7, 24, 3), loop, peak, ring);

      assertThat(coarse).isCloseTo(fine, within(0.01 * fine));
    }
  }

  private static double left(RodCells cells, Hysteresis loop, double peak, Shape shape) {
    return new ResolvedMagnet(cells, loop)
        .knockedDown(new FieldStrength(peak))
        .at(shape.readAt(Length.ofMm(2)))
        .zTesla();
  }

  @Test
  void isKnockedDownAsItIsCharged() {
    FaceModel kind =
        FaceModel.of(AlloyBook.standard().find("alnico 3").orElseThrow(), ring(16.4, 6.3, 9.4));
    Keeping keeping = Keeping.of(kind, Length.ofMm(2));
    FluxDensity half = new FluxDensity(0.5 * keeping.full().tesla());

    assertThat(keeping.levelAfter(keeping.peakFor(half)).tesla())
        .isCloseTo(half.tesla(), within(1e-6));
  }

  /** The field of a wide coil is the same all through it; of a near magnet it is not. */
  @Test
  void seesAFieldOverItsWallAndNotInItsHole() {
    Shape.Ring ring = ring(16.4, 6.3, 9.4);
    FluxSource twist = place -> new Flux(0, 0, Math.hypot(place.xMetres(), place.yMetres()));

    double mean = new FieldInWork(twist, ring).mean().amperesPerMetre();

    // ∫ r · r dr over ∫ r dr between the two radii.
    double radius = 2.0 / 3 * (cube(8.2e-3) - cube(3.15e-3)) / (square(8.2e-3) - square(3.15e-3));
    assertThat(mean * Mu0.TESLA_PER_AMPERE_PER_METRE).isCloseTo(radius, within(1e-9));
  }

  private static double square(double x) {
    return x * x;
  }

  private static double cube(double x) {
    return x * x * x;
  }

  @Test
  void refusesSizesThatAreNoRing() {
    assertThatThrownBy(() -> ring(6.3, 16.4, 9.4))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage(
            "a ring's inside diameter is smaller than its outside one, and 16.40 mm is not"
                + " smaller than 6.30 mm");
    assertThatThrownBy(() -> ring(9, 9, 4)).hasMessageContaining("not smaller than 9.00 mm");
    assertThatThrownBy(() -> ring(9, 8.4, 4)).hasMessageContaining("ring's wall is 0.30 mm");
    assertThatThrownBy(() -> ring(9, 0, 4)).hasMessageContaining("ring's inside diameter is 0.00");
    assertThatThrownBy(() -> ring(201, 6, 4)).hasMessageContaining("ring's outside diameter");
    assertThatThrownBy(() -> ring(9, 4, -4)).hasMessageContaining("ring's length");
    assertThatThrownBy(() -> ring(9, 4, 4).faceFieldPerPolarisation(Length.ofMm(-1)))
        .hasMessage("the stand-off is -1.00 mm; it cannot be negative");
  }

  @Test
  void writesItselfAsTheTradeDoes() {
    assertThat(ring(16.4, 6.3, 9.4).words()).isEqualTo("ring 16.40 x 6.30 x 9.40 mm");
    assertThat(ring(16.4, 6.3, 9.4).volumeCubicMetres())
        .isCloseTo(0.25 * Math.PI * (16.4 * 16.4 - 6.3 * 6.3) * 9.4e-9, within(1e-15));
  }
}
