package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Opposing magnet and jaws: the field along the work, and what an uneven field leaves. */
class ApproachTest {

  private static final double MU0 = 4e-7 * Math.PI;
  private static final Shape.Rod ROD = new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5));
  private static final Shape.Bar BAR =
      new Shape.Bar(Length.ofMm(58), Length.ofMm(11), Length.ofMm(4), Shape.Axis.THROUGH_WIDTH);
  private static final Shape.Ring RING =
      new Shape.Ring(Length.ofMm(14.5), Length.ofMm(5.6), Length.ofMm(8.2));
  private static final Hysteresis LOOP = new Hysteresis(1.25, 53e3, 6.3e3, 2.3);
  private static final HardMagnet DISC = hard("ceramic 8", 20, 8);

  private static HardMagnet hard(String material, double diameterMm, double lengthMm) {
    return new HardMagnet(
        HardMaterial.find(material).orElseThrow(),
        new Shape.Rod(Length.ofMm(diameterMm), Length.ofMm(lengthMm)));
  }

  private static Approach disc(double gapMm) {
    return new Approach(DISC, Length.ofMm(gapMm), ROD);
  }

  private static double amperes(FieldStrength field) {
    return field.amperesPerMetre();
  }

  /** The discs of {@link HardMagnetTest}, which a quadrature confirmed, seen from the work. */
  @ParameterizedTest
  @ValueSource(doubles = {0, 1, 3.5, 20})
  void theFieldAlongTheWorkIsThatOnTheMagnetsAxis(double gapMm) {
    FieldInWork field = disc(gapMm).inWork();

    double near = amperes(DISC.fieldAt(Length.ofMm(gapMm)));
    double far = amperes(DISC.fieldAt(Length.ofMm(gapMm + 16.5)));
    assertThat(amperes(field.near())).isCloseTo(-near, within(1e-6 * near));
    assertThat(amperes(field.far())).isCloseTo(-far, within(1e-6 * far));
  }

  /** Through a slender rod the mean over the volume is nearly that along the axis. */
  @Test
  void theMeanOverTheWorkIsNearlyThatOnItsAxis() {
    double mean = amperes(disc(3).inWork().mean());

    double axial = amperes(DISC.meanFieldThrough(Length.ofMm(3), Length.ofMm(16.5)));
    assertThat(-mean).isCloseTo(axial, within(0.03 * axial));
  }

  @Test
  void theNearEndSeesSeveralTimesTheFarEnd() {
    List<FieldStrength> profile = disc(2).inWork().profile(5);

    assertThat(profile.get(0).amperesPerMetre() / profile.get(4).amperesPerMetre())
        .isBetween(3.0, 30.0);
  }

  /** A point on the axis beyond the work is as far from the magnet as gap, work and stand-off. */
  @Test
  void theGaugeReadsTheParkedMagnetFromBeyondTheWork() {
    double stray = disc(40).strayAt(new HallElement(0), Length.ofMm(2)).tesla();

    double expected = MU0 * amperes(DISC.fieldAt(Length.ofMm(40 + 16.5 + 2)));
    assertThat(stray).isCloseTo(expected, within(1e-9));
    assertThat(disc(40).strayAt(new HallElement(2e-3), Length.ofMm(2)).tesla())
        .isCloseTo(expected, within(0.01 * expected));
  }

  /**
   * A field that is even after all leaves what the even calculation says: the rod to the last
   * digits, the bar but for its far cells, whose mean is taken at their middle and of which it has
   * others when cut from end to end.
   */
  @Test
  void anEvenFieldLeavesTheSameEitherWay() {
    double peak = 37e3;
    FluxSource even = place -> new Flux(0, 0, -MU0 * peak);
    for (Shape shape : List.of(ROD, BAR)) {
      double one = ResolvedMagnet.of(shape, LOOP).knockedDown(new FieldStrength(peak)).meanTesla();
      double other = ResolvedMagnet.forUnevenFields(shape, LOOP).knockedDown(even).meanTesla();
      assertThat(other).isCloseTo(one, within(shape == ROD ? 1e-9 : 1e-5));
    }
  }

  /** From far off, a great magnet's field is nearly even, and so is what it leaves. */
  @Test
  void aGreatMagnetFarOffActsAsAnEvenField() {
    Approach far = new Approach(hard("neodymium n52", 190, 190), Length.ofMm(160), ROD);
    double peak = -amperes(far.inWork().mean());

    double left = ResolvedMagnet.of(ROD, LOOP).knockedDown(far.against()).meanTesla();

    double even = ResolvedMagnet.of(ROD, LOOP).knockedDown(new FieldStrength(peak)).meanTesla();
    double charged = ResolvedMagnet.of(ROD, LOOP).charged().meanTesla();
    assertThat(peak).isGreaterThan(20e3);
    assertThat(left).isCloseTo(even, within(0.01 * charged));
  }

  @Test
  void theNearerItComesTheLessIsLeft() {
    ResolvedMagnet magnet = ResolvedMagnet.forUnevenFields(ROD, LOOP);
    double last = magnet.charged().meanTesla();
    for (double gapMm : new double[] {30, 15, 8, 4, 2, 1}) {
      double left = magnet.knockedDown(disc(gapMm).against()).meanTesla();
      assertThat(left).isLessThan(last);
      last = left;
    }
  }

  /**
   * What stands near the magnet loses most, so the face that it came to reads less than the other.
   */
  @Test
  void theFaceItCameToReadsLess() {
    ResolvedMagnet.Resolved left =
        ResolvedMagnet.forUnevenFields(ROD, LOOP).knockedDown(disc(2).against());

    double came = left.at(Place.onAxis(8.25e-3 + 1e-3)).zTesla();
    double other = left.at(Place.onAxis(-8.25e-3 - 1e-3)).zTesla();
    assertThat(came).isLessThan(0.8 * other);
  }

  /** The same magnet from the other side leaves the mirror image. */
  @Test
  void fromTheOtherSideItLeavesTheMirrorImage() {
    FluxSource above = disc(3).against();
    FluxSource below =
        place -> {
          Flux flux = above.at(new Place(place.xMetres(), place.yMetres(), -place.zMetres()));
          return new Flux(-flux.xTesla(), -flux.yTesla(), flux.zTesla());
        };
    for (Shape shape : List.of(ROD, BAR)) {
      ResolvedMagnet magnet = ResolvedMagnet.forUnevenFields(shape, LOOP);
      double z = 0.5 * shape.height().metres() + 1e-3;
      double one = magnet.knockedDown(above).at(Place.onAxis(z)).zTesla();
      double other = magnet.knockedDown(below).at(Place.onAxis(-z)).zTesla();
      assertThat(one).isCloseTo(other, within(1e-7));
    }
  }

  @Test
  void aBarOfMirroredPartsRefusesAnUnevenField() {
    assertThatThrownBy(() -> ResolvedMagnet.of(BAR, LOOP).knockedDown(disc(3).against()))
        .hasMessageContaining("end to end");
  }

  /**
   * Between two alike jaws the field is that of both, alike from both ends and least in between.
   */
  @Test
  void betweenJawsTheFieldIsThatOfBoth() {
    HardMagnet jaw = hard("neodymium n42", 25, 20);
    FieldInWork field = new Jaws(jaw, Optional.of(jaw), Length.ofMm(0.5), ROD).inWork();

    double middle = 2 * amperes(jaw.fieldAt(Length.ofMm(0.5 + 8.25)));
    double end = amperes(jaw.fieldAt(Length.ofMm(0.5))) + amperes(jaw.fieldAt(Length.ofMm(17)));
    assertThat(amperes(field.profile(3).get(1))).isCloseTo(middle, within(1e-6 * middle));
    assertThat(amperes(field.near())).isCloseTo(end, within(1e-6 * end));
    assertThat(amperes(field.far())).isCloseTo(end, within(1e-6 * end));
    assertThat(amperes(field.least())).isCloseTo(middle, within(1e-3 * middle));
  }

  /** What touches the work's face is seen from the work: half of a wide jaw's polarisation. */
  @Test
  void aJawThatTouchesIsSeenFromTheWork() {
    HardMagnet jaw = hard("neodymium n42", 60, 60);
    FieldInWork field = new Jaws(jaw, Optional.empty(), Length.ofMm(0), ROD).inWork();

    double expected =
        jaw.polarisationTesla() * jaw.shape().axisFieldPerPolarisation(Length.ofMm(0));
    assertThat(amperes(field.near()) * MU0).isCloseTo(expected, within(1e-6));
  }

  /** A part's way by {@link Course} is that of {@link MagnetModel}'s memory with no shape to it. */
  @Test
  void aPartChargedFromNothingFollowsTheVirginCurve() {
    Course course = new Course.FromNothing(LOOP);
    MagnetModel model = new MagnetModel(LOOP, 0);
    for (double peak : new double[] {9e3, 41e3, 55e3, 76e3, 140e3, 400e3}) {
      MagnetState left = model.afterPulse(model.uncharged(), new FieldStrength(peak));
      assertThat(course.tesla(peak, 0)).isCloseTo(model.polarisationTesla(left), within(1e-9));
    }
  }

  /** The slope that Newton's method goes by is that of the branch, on both courses. */
  @Test
  void theSlopeIsTheBranchs() {
    for (Course course : List.of(new Course.FromNothing(LOOP), new Course.FromSaturation(LOOP))) {
      boolean out = course instanceof Course.FromNothing;
      double turn = out ? 58e3 : -51e3;
      for (double net : new double[] {turn * 1.2, turn * 0.8, turn * 0.1, -turn * 0.7}) {
        double apart = 0.5;
        double rise =
            course.tesla(course.turn(turn, net + apart), net + apart)
                - course.tesla(course.turn(turn, net - apart), net - apart);
        double slope = course.slope(course.turn(turn, net), net, out);
        assertThat(slope).isCloseTo(rise / (2 * apart), within(1e-3 * slope));
      }
    }
  }

  /** Jaws of any strength: what a saturated magnet of this shape keeps, in every cell. */
  @Test
  void aFieldThatSaturatesLeavesAFullCharge() {
    FluxSource strong = place -> new Flux(0, 0, 3);
    for (Shape shape : List.of(ROD, BAR, RING)) {
      ResolvedMagnet magnet = ResolvedMagnet.forUnevenFields(shape, LOOP);
      Place face = shape.readAt(Length.ofMm(1));
      double full = magnet.charged().at(face).zTesla();
      assertThat(magnet.charged(strong).at(face).zTesla()).isCloseTo(full, within(1e-4 * full));
    }
  }

  /** One jaw at one end: that end takes the charge and the other lags behind, of every shape. */
  @Test
  void oneJawChargesItsOwnEndMost() {
    HardMagnet jaw = hard("neodymium n42", 20, 10);
    for (Shape shape : List.of(ROD, BAR, RING)) {
      ResolvedMagnet magnet = ResolvedMagnet.forUnevenFields(shape, LOOP);
      Place face = shape.readAt(Length.ofMm(1));
      double last = magnet.charged().at(face).zTesla();
      for (double gapMm : new double[] {0, 2, 5}) {
        Jaws jaws = new Jaws(jaw, Optional.empty(), Length.ofMm(gapMm), shape);
        ResolvedMagnet.Resolved left = magnet.charged(jaws.charging());
        double near = left.at(face).zTesla();
        assertThat(near).as("%s, %.0f mm", shape.words(), gapMm).isBetween(0.0, last);
        assertThat(left.at(face.below()).zTesla()).isLessThan(near);
        last = near;
      }
    }
  }

  /** Two alike jaws charge both ends alike, and no less than one of them. */
  @Test
  void twoJawsChargeBothEndsAlike() {
    HardMagnet jaw = hard("neodymium n42", 20, 10);
    Length gap = Length.ofMm(4);
    Place face = ROD.readAt(Length.ofMm(1));
    ResolvedMagnet magnet = ResolvedMagnet.forUnevenFields(ROD, LOOP);
    ResolvedMagnet.Resolved both =
        magnet.charged(new Jaws(jaw, Optional.of(jaw), gap, ROD).charging());
    ResolvedMagnet.Resolved one =
        magnet.charged(new Jaws(jaw, Optional.empty(), gap, ROD).charging());

    double near = both.at(face).zTesla();
    assertThat(both.at(face.below()).zTesla()).isCloseTo(near, within(1e-6));
    assertThat(near).isGreaterThan(one.at(face).zTesla());
  }

  @Test
  void refusesANegativeGap() {
    assertThatThrownBy(() -> disc(-1)).hasMessageContaining("cannot be negative");
    assertThatThrownBy(() -> new Jaws(DISC, Optional.of(DISC), Length.ofMm(-1), ROD))
        .hasMessageContaining("cannot be negative");
  }
}
