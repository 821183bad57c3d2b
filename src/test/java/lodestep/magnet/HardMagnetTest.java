package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class HardMagnetTest {

  private static final double MU0 = 4e-7 * Math.PI;

  /** A material of exactly one tesla that no field moves, so that geometry alone is seen. */
  private static final HardMaterial ONE_TESLA =
      new HardMaterial("one tesla", new FluxDensity(1), new FieldStrength(1e6), 1, "invented");

  /**
   * Closed form of two charged discs (equation in the documentation of an open magnet-field
   * library), confirmed by a quadrature of the surface charge to 1e-6 T: rod 5 x 17 mm, one tesla.
   */
  @Against(Against.Kind.COMPUTED)
  @ParameterizedTest
  @CsvSource({"0.5, 0.396917", "1, 0.309551", "2, 0.183380", "5, 0.049589"})
  void fieldOnTheAxisOfARodIsThatOfTwoChargedDiscs(double distanceMm, double tesla) {
    HardMagnet rod = new HardMagnet(ONE_TESLA, rod(5, 17));

    assertThat(rod.fieldAt(Length.ofMm(distanceMm)).amperesPerMetre() * MU0)
        .isCloseTo(tesla, within(1e-6));
  }

  /** The closed form's own integral along the axis: the mean of z/√(z²+R²) is a difference. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Property(tries = 200)
  void meanThroughTheWorkIsTheIntegralOfTheClosedForm(
      @ForAll @DoubleRange(min = 0, max = 40) double gapMm,
      @ForAll @DoubleRange(min = 1, max = 40) double depthMm,
      @ForAll @DoubleRange(min = 4, max = 30) double diameterMm) {
    double lengthMm = 10;
    HardMagnet disc = new HardMagnet(ONE_TESLA, rod(diameterMm, lengthMm));
    double radius = diameterMm / 2;
    double far = rise(gapMm + lengthMm, depthMm, radius);
    double near = rise(gapMm, depthMm, radius);

    FieldStrength mean = disc.meanFieldThrough(Length.ofMm(gapMm), Length.ofMm(depthMm));

    assertThat(mean.amperesPerMetre() * MU0).isCloseTo(0.5 * (far - near) / depthMm, within(1e-7));
  }

  /** Far away any magnet is a dipole: B = J V / (2 π z³), any text on magnetostatics. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void isADipoleFarAway() {
    Shape.Bar block =
        new Shape.Bar(
            Length.ofMm(20), Length.ofMm(10), Length.ofMm(5), Shape.Axis.THROUGH_THICKNESS);
    HardMagnet magnet = new HardMagnet(ONE_TESLA, block);
    double z = 0.6;
    double dipole = 20e-3 * 10e-3 * 5e-3 / (2 * Math.PI * z * z * z);

    double field = magnet.fieldAt(new Length(z - 2.5e-3)).amperesPerMetre() * MU0;

    assertThat(field / dipole).isCloseTo(1, within(0.001));
  }

  /**
   * A thin plate has N near one, so that it carries Br/µrec (any text on permanent magnets); a long
   * rod has N near zero and carries Br.
   */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void polarisationStandsOnTheRecoilLine() {
    HardMaterial ceramic = HardMaterial.find("Ceramic 8").orElseThrow();

    double plate = new HardMagnet(ceramic, rod(150, 0.6)).polarisationTesla();
    double needle = new HardMagnet(ceramic, rod(1, 150)).polarisationTesla();

    assertThat(plate).isCloseTo(0.385 / 1.05, within(0.003));
    assertThat(needle).isCloseTo(0.385, within(0.001));
  }

  @Property(tries = 100)
  void fieldFallsWithTheGap(
      @ForAll @DoubleRange(min = 0, max = 80) double gapMm,
      @ForAll @DoubleRange(min = 0.01, max = 20) double moreMm) {
    HardMaterial material = HardMaterial.find("neodymium n42").orElseThrow();
    HardMagnet magnet = new HardMagnet(material, rod(15, 6));

    FieldStrength near = magnet.meanFieldThrough(Length.ofMm(gapMm), Length.ofMm(14));
    FieldStrength far = magnet.meanFieldThrough(Length.ofMm(gapMm + moreMm), Length.ofMm(14));

    assertThat(far).isLessThan(near);
  }

  @Test
  void findsMaterialsByAnySpelling() {
    assertThat(HardMaterial.find("CERAMIC-5")).isPresent();
    assertThat(HardMaterial.find("Neodymium N52")).isPresent();
    assertThat(HardMaterial.find("alnico 5")).isEmpty();
  }

  @Test
  void refusesSizesAndFiguresOutOfRange() {
    HardMagnet disc = new HardMagnet(ONE_TESLA, rod(10, 5));

    assertThatThrownBy(() -> disc.fieldAt(Length.ofMm(-0.1)))
        .hasMessageContaining("cannot be negative");
    assertThatThrownBy(() -> disc.meanFieldThrough(Length.ofMm(1), Length.ofMm(0)))
        .hasMessageContaining("the depth of the work is 0.00 mm");
    assertThatThrownBy(
            () -> new HardMaterial("x", new FluxDensity(0), new FieldStrength(1), 1, "none"))
        .hasMessageContaining("above zero");
    assertThatThrownBy(
            () -> new HardMaterial("x", new FluxDensity(1), new FieldStrength(1), 0.9, "none"))
        .hasMessageContaining("recoil permeability of 1 to 2");
  }

  private static double rise(double fromMm, double byMm, double radiusMm) {
    return Math.hypot(fromMm + byMm, radiusMm) - Math.hypot(fromMm, radiusMm);
  }

  private static Shape.Rod rod(double diameterMm, double lengthMm) {
    return new Shape.Rod(Length.ofMm(diameterMm), Length.ofMm(lengthMm));
  }
}
