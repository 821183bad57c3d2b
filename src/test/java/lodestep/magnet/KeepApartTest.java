package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import lodestep.magnet.Against.Kind;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.TimeSpan;
import org.junit.jupiter.api.Test;

class KeepApartTest {

  private static final Shape.Rod ROD = new Shape.Rod(Length.ofMm(4.6), Length.ofMm(15.5));
  private static final HardMagnet DISC =
      new HardMagnet(
          HardMaterial.find("neodymium N42").orElseThrow(),
          new Shape.Rod(Length.ofMm(20), Length.ofMm(8)));

  private static double gapMm(HardMagnet other, double aperM) {
    return new KeepApart(ROD, new FieldStrength(aperM))
        .from(other.source(), other.shape().height())
        .orElseThrow()
        .mm();
  }

  /** The field of a disc on its axis in closed form gives the field back that was asked. */
  @Test
  @Against(Kind.ANOTHER_WAY)
  void theFieldAtTheGapIsTheOneThatIsSurvived() {
    for (double survived : new double[] {4e3, 12e3, 40e3}) {
      double at = DISC.fieldAt(Length.ofMm(gapMm(DISC, survived))).amperesPerMetre();
      assertThat(at).isCloseTo(survived, within(1e-4 * survived));
    }
  }

  /** Far off a magnet is a dipole: an eighth of the field at twice the distance of its middle. */
  @Test
  @Against(Kind.ANOTHER_WAY)
  void farOffItFallsAsADipolesField() {
    double near = gapMm(DISC, 800) + 4;
    double far = gapMm(DISC, 100) + 4;

    assertThat(far / near).isCloseTo(2, within(0.02));
  }

  @Test
  void mayTouchWhatIsWeakerThanItSurvives() {
    HardMagnet weak =
        new HardMagnet(
            HardMaterial.find("ceramic 8").orElseThrow(),
            new Shape.Rod(Length.ofMm(20), Length.ofMm(8)));

    assertThat(gapMm(weak, 400e3)).isZero();
  }

  @Test
  void isNowhereSafeOnABenchWithNothingSurvived() {
    assertThat(new KeepApart(ROD, new FieldStrength(0)).from(DISC.source(), DISC.shape().height()))
        .isEmpty();
  }

  // What time alone takes.

  private static final FaceModel KIND =
      FaceModel.of(AlloyBook.standard().find("alnico 5").orElseThrow(), ROD);
  private static final Length OFF = Length.ofMm(2);
  private static final TimeSpan SETTLED = new TimeSpan(10);
  private static final TimeSpan LATE = new TimeSpan(3600.0 * 100_000);

  private static double takes(double remembered, double level) {
    KnockDownCurve curve = KnockDownCurve.of(KIND, OFF, new FieldStrength(100e3));
    return SlowRelaxation.takes(
            curve,
            KIND.chargedField(OFF),
            new FluxDensity(level),
            new FieldStrength(remembered),
            SETTLED,
            LATE)
        .tesla();
  }

  /** {@link Keeping} reckons what the loop loses to time another way; creeping comes on top. */
  @Test
  @Against(Kind.COMPUTED)
  void afterAFullChargeTheLoopLosesWhatKeepingSays() {
    double full = KIND.chargedField(OFF).tesla();
    Keeping keeping = Keeping.of(KIND, OFF);
    double loop =
        keeping
            .lossTo(new FluxDensity(full), SlowRelaxation.actsAs(SETTLED.seconds(), LATE.seconds()))
            .tesla();
    double crept = full * (SlowRelaxation.creptPart(LATE.seconds()) - SlowRelaxation.creptPart(10));

    assertThat(takes(0, full)).isCloseTo(loop + crept, within(1e-4 * full));
  }

  /**
   * At most 3 per cent in 100,000 h, a public design guide says of fully charged alnico (from
   * memory), for which the fluctuation field was chosen; knocked down by ten per cent and more it
   * keeps within a few parts in ten thousand.
   */
  @Test
  @Against(Kind.COMPUTED)
  void aKnockDownKeepsNearlyAllThatTimeWouldTake() {
    double full = KIND.chargedField(OFF).tesla();

    assertThat(takes(0, full) / full).isBetween(0.005, 0.031);
    assertThat(takes(20e3, 0.9 * full) / full).isBetween(2e-4, 1.5e-3);
  }
}
