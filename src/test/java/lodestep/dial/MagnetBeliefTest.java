package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import lodestep.magnet.CurveFamily;
import org.junit.jupiter.api.Test;

/**
 * Goal: what is believed of a magnet before and after its readings. Method: magnets that fall by an
 * even 2 µT for each A/m from 100 mT, so that every field can be reckoned by hand.
 */
class MagnetBeliefTest {

  private static final CurveFamily EVEN = CurveFamily.stretched(Attempt.EVEN, Attempt.SPREAD);
  private static final KindBelief BEFORE = KindBelief.before(Attempt.SPREAD, 0.03);
  private static final double TOLD = 0.0007;

  private static List<List<Progress.Point>> went(double... fieldAndLevel) {
    return List.of(new Attempt().went(fieldAndLevel).points);
  }

  private static MagnetBelief after(KindBelief kind, double... fieldAndLevel) {
    return MagnetBelief.after(EVEN, kind, 0.1, TOLD, went(fieldAndLevel));
  }

  private static KindBelief taught(int magnets, double scale) {
    KindBelief kind = BEFORE;
    for (int i = 0; i < magnets; i++) {
      kind = after(kind, 0, 0.1, 20_000 * scale, 0.06, 25_000 * scale, 0.05).taught();
    }
    return kind;
  }

  @Test
  void expectsTheNominalCurveOfTheFirstMagnet() {
    MagnetBelief first = after(BEFORE, 0, 0.1);

    assertThat(first.fieldLeaving(0.06, 0, 0)).isCloseTo(20_000, within(1e-6));
    assertThat(first.levelAfter(20_000, 0).tesla()).isCloseTo(0.06, within(1e-9));
    // Ten per cent of the field are 4 mT: twice 20 kA/m times a tenth.
    assertThat(first.levelAfter(20_000, 0).uncertainty()).isCloseTo(0.004, withinPercentage(6));
  }

  /** The more of the lot have needed a tenth more field, the more is expected of the next. */
  @Test
  void expectsOfTheNextWhatTheLotHasShown() {
    double one = after(taught(1, 1.1), 0, 0.1).fieldLeaving(0.06, 0, 0);
    double five = after(taught(5, 1.1), 0, 0.1).fieldLeaving(0.06, 0, 0);

    assertThat(one).isBetween(21_700.0, 22_000.0);
    assertThat(five).isBetween(one, 22_001.0);
    assertThat(five).isCloseTo(22_000, withinPercentage(0.3));
    // What is left of the doubt is from magnet to magnet: 2 per cent, and the rest of 0.6.
    assertThat(after(taught(12, 1.1), 0, 0.1).levelAfter(22_000, 0).uncertainty())
        .isLessThan(0.04 * 0.025)
        .isGreaterThan(0.04 * 0.01);
  }

  @Test
  void keepsToItsOwnReadingsNearThem() {
    MagnetBelief known = after(BEFORE, 0, 0.1, 19_000 * 1.2, 0.062);

    assertThat(known.levelAfter(19_000 * 1.2, 0).tesla()).isCloseTo(0.062, within(1e-4));
    // A little further on the same stretch holds; a reading is good to a thousandth.
    assertThat(known.fieldLeaving(0.06, 0, 0)).isCloseTo(24_000, withinPercentage(1));
    assertThat(known.levelAfter(24_000, 0).uncertainty()).isLessThan(0.0005);
    // Far from there it is less sure.
    assertThat(known.levelAfter(38_000, 0).uncertainty()).isGreaterThan(0.001);
  }

  @Test
  void knowsAfterANewChargeWhatItHasSeen() {
    List<List<Progress.Point>> twice =
        List.of(new Attempt().went(0, 0.1, 24_000, 0.06).points, new Attempt().went(0, 0.1).points);
    MagnetBelief anew = MagnetBelief.after(EVEN, BEFORE, 0.1, TOLD, twice);

    assertThat(anew.fieldLeaving(0.06, 0, 0)).isCloseTo(24_000, withinPercentage(0.2));
  }

  @Test
  void asksForLessFieldTheSmallerTheRiskIsToBe() {
    MagnetBelief first = after(BEFORE, 0, 0.1);

    double bold = first.fieldLeaving(0.06, 1, 0);
    double careful = first.fieldLeaving(0.06, 2, 0);

    assertThat(20_000 / bold).isCloseTo(bold / careful, within(1e-9));
    assertThat(first.fieldLeaving(0.06, 1, 0.1)).isLessThan(bold);
  }

  @Test
  void tellsAMagnetThatIsNoneOfItsLot() {
    KindBelief lot = taught(6, 1);

    assertThat(after(lot, 0, 0.1, 20_000, 0.06).surprise().isStrange()).isFalse();
    assertThat(after(lot, 0, 0.104, 20_400, 0.0624).surprise().isStrange()).isFalse();
    // A third weaker at its full charge, as a cracked one; half as hard again, as another alloy.
    assertThat(after(lot, 0, 0.067).surprise().isStrange()).isTrue();
    assertThat(after(lot, 0, 0.067).surprise().fullOff()).isCloseTo(Math.log(0.67), within(0.01));
    assertThat(after(lot, 0, 0.1, 20_000, 0.073).surprise().isStrange()).isTrue();
  }

  @Test
  void learnsNothingFromAMagnetThatIsNoneOfItsLot() {
    KindBelief lot = taught(6, 1);

    assertThat(after(lot, 0, 0.067, 20_000, 0.03).taught()).isSameAs(lot);
  }

  /** Magnets that lie wider apart than their alloy's figures say widen what is expected. */
  @Test
  void learnsHowFarTheLotsMagnetsLieApart() {
    KindBelief alike = BEFORE;
    KindBelief wide = BEFORE;
    for (int i = 0; i < 10; i++) {
      double scale = i % 2 == 0 ? 1.06 : 0.94;
      alike = after(alike, 0, 0.1, 20_000, 0.06).taught();
      wide = after(wide, 0, 0.1, 20_000 * scale, 0.06).taught();
    }

    assertThat(wide.widening()).isGreaterThan(1.4);
    assertThat(alike.widening()).isLessThan(0.8);
    assertThat(after(wide, 0, 0.1).levelAfter(20_000, 0).uncertainty())
        .isGreaterThan(1.5 * after(alike, 0, 0.1).levelAfter(20_000, 0).uncertainty());
  }

  @Test
  void learnsNothingFromAReadingThatHasNotMoved() {
    MagnetBelief still = after(BEFORE, 0, 0.1, 100, 0.0998);

    assertThat(still.fieldLeaving(0.06, 0, 0)).isCloseTo(20_000, within(1e-6));
  }

  // Closed forms. The variance of a weighted sum of independent figures is the sum of the squares.

  private static double sum(double... deviations) {
    double sum = 0;
    for (double deviation : deviations) {
      sum += deviation * deviation;
    }
    return sum;
  }

  /**
   * The gauge's gain is doubted by 2 per cent, remanence by 3 from lot to lot and 1.5 from magnet
   * to magnet, the seating by half a per cent, and this reading by 2.
   */
  @Test
  void isSurprisedByAFullChargeInPartsOfAllThatIsDoubtedOfIt() {
    MagnetBelief first = MagnetBelief.charged(EVEN, BEFORE, 0.104, 0.1, 0.02);

    assertThat(first.surprise().fullOff()).isCloseTo(Math.log(1.04), within(1e-12));
    assertThat(first.surprise().full())
        .isCloseTo(Math.log(1.04) / Math.sqrt(sum(0.02, 0.03, 0.015, 0.005, 0.02)), within(1e-9));
  }

  /** Each trait counts by what it makes of the full charge, of the lot and of the magnet itself. */
  @Test
  void countsEachTraitsPartInTheDoubtOfAFullCharge() {
    List<List<Double>> perTrait = EVEN.perTrait();
    CurveFamily family =
        new CurveFamily(Attempt.EVEN, Attempt.SPREAD, List.of(1.0, 0.5, -0.4, 0.1), perTrait);

    MagnetBelief first = MagnetBelief.charged(family, BEFORE, 0.104, 0.1, 0.02);

    double remanence = sum(0.03, 0.015);
    double coercivity = 0.25 * sum(0.04, 0.02);
    double sizes = 0.16 * sum(0.01, 0.006);
    double roundness = 0.01 * sum(0.25, 0.03);
    double others = sum(0.02, 0.005, 0.02);
    assertThat(first.surprise().full())
        .isCloseTo(
            Math.log(1.04) / Math.sqrt(remanence + coercivity + sizes + roundness + others),
            within(1e-9));
  }

  /**
   * A fifth more field than the curve says, for 60 mT. Doubted are the coil by 3 per cent, the
   * coercivity by 4 and 2, the rest of the curve by 8 and 0.6, a third of the way from one place to
   * the next, whose covariance is that of a Gaussian of their distance. On this curve, f = 50 kA/m
   * (1 - x), the field changes by x / (1 - x) = 1.5 times what the level does.
   */
  @Test
  void isSurprisedByAKnockDownInPartsOfAllThatIsDoubtedOfIt() {
    MagnetBelief charged = MagnetBelief.charged(EVEN, BEFORE, 0.1, 0.1, 0.001);

    Surprise surprise = charged.knockedDown(24_000, 0.06, 0.02, 0.002).surprise();

    double ofLot = sum(0.03, 0.04) + between(0.08, 0.35);
    double own = sum(0.02) + between(0.006, 0.3) + sum(1.5 * 0.001);
    double noise = sum(0.02, 1.5 * 0.002 / 0.06);
    double whole = ofLot + own + noise;
    assertThat(surprise.field()).isCloseTo(Math.log(1.2) / Math.sqrt(whole), within(1e-4));
    assertThat(surprise.ownShare()).isCloseTo(1 - ofLot / whole, within(1e-4));
  }

  private static double between(double deviation, double length) {
    double alike = Math.exp(-0.5 * Math.pow((0.64 - 0.52) / length, 2));
    return deviation * deviation * (4.0 / 9 + 1.0 / 9 + 2 * 2.0 / 9 * alike);
  }

  /** A magnet that reads nothing or the other pole lies beyond what the curve tells. */
  @Test
  void learnsNothingFromAReadingThatHasTurnedOver() {
    MagnetBelief charged = after(BEFORE, 0, 0.1);

    for (double level : new double[] {0, -0.01}) {
      MagnetBelief after = charged.knockedDown(50_000, level, TOLD, 1e-5);
      assertThat(after.fieldLeaving(0.06, 0, 0)).isCloseTo(20_000, within(1e-6));
      assertThat(after.surprise()).isEqualTo(charged.surprise());
    }
  }

  /** d ln f / dB = -1 / (100 mT - B); beyond 0.995 of the full charge as it is there. */
  @Test
  void tellsHowMuchLessFieldAHigherLevelNeeds() {
    MagnetBelief first = after(BEFORE, 0, 0.1);

    assertThat(first.fieldPerLevel(0.06)).isCloseTo(-25, withinPercentage(0.1));
    assertThat(first.fieldPerLevel(0.02)).isCloseTo(-12.5, withinPercentage(0.1));
    assertThat(first.fieldPerLevel(0.1)).isCloseTo(-0.995 / 0.005 / 0.1, withinPercentage(2));
  }

  /** Below 0.15 of the full charge the rest of the curve is as at the last place it is told of. */
  @Test
  void expectsTheNominalCurveDownToNearlyNothing() {
    MagnetBelief first = after(BEFORE, 0, 0.1);

    assertThat(first.fieldLeaving(0.005, 0, 0)).isCloseTo(47_500, within(1e-6));
    assertThat(20_000 / first.fieldLeaving(0.06, 1, 0))
        .isCloseTo(47_500 / first.fieldLeaving(0.005, 1, 0), within(0.01));
  }
}
