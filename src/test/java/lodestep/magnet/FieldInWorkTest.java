package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;

/** The field along a work piece, resolved. */
class FieldInWorkTest {

  private static final double MU0 = 4e-7 * Math.PI;
  private static final Shape.Rod ROD = new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5));
  private static final Shape.Bar BAR =
      new Shape.Bar(Length.ofMm(58), Length.ofMm(11), Length.ofMm(4), Shape.Axis.THROUGH_WIDTH);

  /** A long thin layer makes n I all through a short magnet: any text on magnetostatics. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void inALongSolenoidItIsTheSameEverywhere() {
    FluxSource coil = new Winding.Round(6e-3, 6e-3, 4, 4000).perAmpere();
    FieldInWork field = new FieldInWork(coil, ROD);

    assertThat(field.mean().amperesPerMetre()).isCloseTo(1000, within(0.1));
    assertThat(field.near().amperesPerMetre()).isCloseTo(1000, within(0.1));
    assertThat(field.least().amperesPerMetre()).isCloseTo(1000, within(0.1));
  }

  /** The mean of a magnet's own field over itself is its textbook factor: N = 1 − mean B/J. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void theMeanOverABlockIsAharonisFactor() {
    Prism edges = BAR.edges();
    FluxSource block = new Block(0.5 * edges.a(), 0.5 * edges.b(), 0.5 * edges.c());
    double mean = new FieldInWork(block, BAR).mean().amperesPerMetre() * MU0;

    assertThat(1 - mean).isCloseTo(BAR.demagnetisingFactor(), within(5e-3));
  }

  /** And of a rod's, its Nagaoka coefficient. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void theMeanOverARodIsNagaokasCoefficient() {
    FluxSource rod = new Cylinder(2.45e-3, 8.25e-3);
    double mean = new FieldInWork(rod, ROD).mean().amperesPerMetre() * MU0;

    assertThat(1 - mean).isCloseTo(ROD.demagnetisingFactor(), within(2e-3));
  }

  @Test
  void theProfileGoesFromTheNearFaceToTheFar() {
    FluxSource above = new Cylinder(5e-3, 4e-3).raised(20e-3);
    FieldInWork field = new FieldInWork(above, ROD);

    assertThat(field.profile(5)).hasSize(5).isSortedAccordingTo(FieldInWorkTest::falling);
    assertThat(field.profile(5).get(0)).isEqualTo(field.near());
    assertThat(field.profile(5).get(4)).isEqualTo(field.far());
    assertThat(field.least()).isEqualTo(field.far());
    assertThatThrownBy(() -> field.profile(1)).hasMessageContaining("two points or more");
  }

  private static int falling(FieldStrength one, FieldStrength other) {
    return other.compareTo(one);
  }

  /** Between two magnets that repel, the field turns round in the middle. */
  @Test
  void whereTheFieldTurnsRoundTheLeastIsNothing() {
    Cylinder magnet = new Cylinder(5e-3, 4e-3);
    FluxSource repelling = magnet.raised(20e-3).plus(magnet.raised(-22e-3).times(-1));

    assertThat(new FieldInWork(repelling, ROD).least().amperesPerMetre()).isZero();
  }
}
