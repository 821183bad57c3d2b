package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import lodestep.device.ActResult.Lesson;
import lodestep.magnet.KnockDownCurve;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;

/** The aim grows bolder with what magnets of a kind have taught, and no other way. */
class LessonsTest {

  /** Falls evenly, by a hundredth for 500 A/m. */
  private static final KnockDownCurve CURVE =
      new KnockDownCurve(new FieldStrength(25_000), List.of(1.0, 0.5, 0.0, -0.5));

  private static final List<Progress.Point> CHARGED = List.of(new Progress.Point(0, 0.1));

  @Test
  void takesMoreOfTheWayAtFirstWhenTheKindHasTaught() {
    double untaught = new KnockDownAim(CURVE, 0.06, 0.001, 0, false).secant(CHARGED);
    double taught = new KnockDownAim(CURVE, 0.06, 0.001, 0, true).secant(CHARGED);

    assertThat(untaught).isCloseTo(0.65 * 19_850, within(10.0));
    assertThat(taught).isCloseTo(0.85 * 19_850, within(10.0));
  }

  @Test
  void keepsARatioThatMagnetsHaveTaughtForTheirKindAlone() {
    RigMemory memory = RigMemory.none().withRatio("jig, this kind", 0.9);

    assertThat(memory.ratio("jig, this kind")).isEqualTo(0.9);
    assertThat(memory.ratio("jig, another")).isEqualTo(1);
  }

  // What an attempt on a jig teaches. The curve loses a fifty-thousandth of a charge for each A/m.

  private static Attempt onJig(double... fieldAndLevel) {
    Attempt attempt = new Attempt().went(fieldAndLevel);
    attempt.knockDown = Attempt.onJig(false, 9);
    return attempt;
  }

  private static double taught(Attempt attempt) {
    Lessons.Learned learned = Lessons.of(attempt.dial()).orElseThrow();
    assertThat(learned.of()).isEqualTo("jig, tried kind");
    return learned.ratio();
  }

  @Test
  void teachesHowMuchOfTheFieldActs() {
    // 20 mT lost are 10 kA/m of the curve; reckoned were 12.5.
    assertThat(taught(onJig(0, 0.1, 12_500, 0.08))).isCloseTo(0.8, within(1e-9));
    // Of two points the geometric mean: 0.8 and 1.25, 0.8 and 0.8.
    assertThat(taught(onJig(0, 0.1, 12_500, 0.08, 16_000, 0.06))).isCloseTo(1, within(1e-9));
    assertThat(taught(onJig(0, 0.1, 12_500, 0.08, 25_000, 0.06))).isCloseTo(0.8, within(1e-9));
  }

  @Test
  void countsALaterMagnetByHalfAndOnTopOfWhatIsKnown() {
    Attempt attempt = onJig(0, 0.1, 12_500, 0.08);
    attempt.memory = RigMemory.none().withRatio("jig, tried kind", 1.1);

    assertThat(taught(attempt)).isCloseTo(1.1 * Math.sqrt(0.8), within(1e-9));
  }

  @Test
  void learnsFromNoPointThatSaysLittle() {
    // 2.9 and 3.1, 89.9 and 90.1 per cent lost.
    assertThat(Lessons.of(onJig(0, 0.1, 1_500, 0.0971).dial())).isEmpty();
    assertThat(taught(onJig(0, 0.1, 1_500, 0.0969))).isCloseTo(1_550 / 1_500.0, within(1e-9));
    assertThat(Lessons.of(onJig(0, 0.1, 45_000, 0.0099).dial())).isEmpty();
    assertThat(taught(onJig(0, 0.1, 45_000, 0.0101))).isCloseTo(44_950 / 45_000.0, within(1e-9));
    assertThat(Lessons.of(onJig(0, 0.1, 0, 0.08).dial())).isEmpty();
    assertThat(taught(onJig(0, 0.1, 0, 0.08, 12_500, 0.08))).isCloseTo(0.8, within(1e-9));
    // Such a point does not count among those that tell.
    assertThat(taught(onJig(0, 0.1, 1_000, 0.0995, 12_500, 0.08))).isCloseTo(0.8, within(1e-9));
  }

  @Test
  void learnsNothingFarFromOneNorWithoutAPoint() {
    assertThat(taught(onJig(0, 0.1, 6_300, 0.08))).isCloseTo(10 / 6.3, within(1e-9));
    assertThat(Lessons.of(onJig(0, 0.1, 6_200, 0.08).dial())).isEmpty();
    assertThat(taught(onJig(0, 0.1, 15_900, 0.08))).isCloseTo(10 / 15.9, within(1e-9));
    assertThat(Lessons.of(onJig(0, 0.1, 16_100, 0.08).dial())).isEmpty();
    assertThat(Lessons.of(onJig(0, 0.1).dial())).isEmpty();
    assertThat(Lessons.of(onJig().dial())).isEmpty();
  }

  @Test
  void teachesNothingOfACoilWhoseCurrentIsMeasured() {
    assertThat(Lessons.of(new Attempt().went(0, 0.1, 12_500, 0.08).dial())).isEmpty();
  }

  // What an act teaches of its source.

  @Test
  void keepsTheDriftOfASource() {
    RigMemory memory = RigMemory.none().after(new Lesson("series", 11, 10));
    assertThat(memory.ratio("series")).isCloseTo(1.1, within(1e-12));

    RigMemory more = memory.after(new Lesson("series", 9, 10));
    assertThat(more.ratio("series")).isCloseTo(0.99, within(1e-12));
    assertThat(more.ratio("full")).isEqualTo(1);
  }

  @Test
  void learnsNoDriftThatIsAFault() {
    RigMemory none = RigMemory.none();

    assertThat(none.after(new Lesson("series", 1.26, 1))).isEqualTo(none);
    assertThat(none.after(new Lesson("series", 1.25, 1))).isEqualTo(none);
    assertThat(none.after(new Lesson("series", 1.24, 1)).ratio("series")).isEqualTo(1.24);
    assertThat(none.after(new Lesson("series", 0.79, 1))).isEqualTo(none);
    assertThat(none.after(new Lesson("series", 0.8, 1))).isEqualTo(none);
    assertThat(none.after(new Lesson("series", 0.81, 1)).ratio("series")).isEqualTo(0.81);
    assertThat(none.after(new Lesson("series", Double.NaN, 1))).isEqualTo(none);
  }

  @Test
  void keepsEachThingItLearnsBesideTheOthers() {
    GapCurve gap = new GapCurve(0.9, 1e-3, new FluxDensity(-2e-4));
    RigMemory memory =
        RigMemory.none()
            .withRatio("series", 1.1)
            .withChargeProven("one kind", 0.1)
            .withChargeProven("another", 0.2)
            .with(gap)
            .withRatio("full", 0.9)
            .after(new Lesson("charging", 1.05, 1));

    assertThat(memory.ratios()).containsOnlyKeys("series", "full", "charging");
    assertThat(memory.chargeProven()).containsOnlyKeys("one kind", "another");
    assertThat(memory.gap()).isEqualTo(gap);
  }
}
