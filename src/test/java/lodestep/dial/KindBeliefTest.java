package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import lodestep.magnet.Spread;
import org.junit.jupiter.api.Test;

/** Goal: what is believed of the magnets of a kind, by closed forms. */
class KindBeliefTest {

  private static final KindBelief BEFORE = KindBelief.before(Attempt.SPREAD, 0.03);

  private static double widening(double surprise, double weight) {
    return new KindBelief(BEFORE.common(), Attempt.SPREAD, surprise, weight).widening();
  }

  /** The alloy's own spread counts as six magnets that lie apart as it says. */
  @Test
  void widensByTheMeanSquareOfTheSurprisesBesideSixOfTheAlloys() {
    assertThat(widening(0, 0)).isEqualTo(1);
    assertThat(widening(4, 4)).isEqualTo(1);
    assertThat(widening(10, 2)).isCloseTo(Math.sqrt(16.0 / 8), within(1e-12));
    assertThat(widening(1, 6)).isCloseTo(Math.sqrt(7.0 / 12), within(1e-12));
  }

  @Test
  void widensNoFurtherThanByThreeAndNarrowsToNoLessThanHalf() {
    assertThat(widening(1_000, 0)).isEqualTo(3);
    assertThat(widening(0, 100)).isEqualTo(0.5);
  }

  /** A surprise counts by as much of it as lies in the magnet and not in its lot. */
  @Test
  void countsASurpriseByTheMagnetsOwnShare() {
    KindBelief known = new KindBelief(BEFORE.common(), Attempt.SPREAD, 3, 2);

    KindBelief after = known.taught(BEFORE.common(), new Surprise(0, 0, -4, 0.25));

    assertThat(after.surprise()).isCloseTo(3 + 0.25 * 16, within(1e-12));
    assertThat(after.weight()).isCloseTo(2.25, within(1e-12));
  }

  /** The coil may have changed by a thousandth from one magnet to the next, and nothing else. */
  @Test
  void doubtsTheCoilALittleMoreWithEachMagnet() {
    KindBelief after = BEFORE.taught(BEFORE.common(), new Surprise(0, 0, 0, 0));

    assertThat(variance(after, KindBelief.COIL)).isCloseTo(9e-4 + 1e-6, within(1e-12));
    assertThat(variance(after, KindBelief.GAUGE)).isCloseTo(4e-4, within(1e-12));
  }

  /** The form of the curve is known to 8 per cent; of an alloy not known three times as badly. */
  @Test
  void doubtsTheFormOfAnUnknownAlloysCurveByItsRoundness() {
    KindBelief unknown = KindBelief.before(new Spread(0.2, 0.02, 0.3, 0.02, 0.75), 0.03);
    KindBelief round = KindBelief.before(new Spread(0.03, 0.015, 0.04, 0.02, 0.1), 0.03);

    assertThat(variance(BEFORE, KindBelief.REST)).isCloseTo(0.0064, within(1e-12));
    assertThat(variance(unknown, KindBelief.REST)).isCloseTo(9 * 0.0064, within(1e-12));
    assertThat(variance(round, KindBelief.REST)).isCloseTo(0.0064, within(1e-12));
  }

  private static double variance(KindBelief kind, int figure) {
    double[] weights = new double[KindBelief.SIZE];
    weights[figure] = 1;
    return kind.common().variance(weights);
  }
}
