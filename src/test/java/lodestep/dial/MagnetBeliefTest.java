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
}
