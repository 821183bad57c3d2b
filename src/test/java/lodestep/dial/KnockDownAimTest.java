package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import lodestep.magnet.KnockDownCurve;
import lodestep.quantity.FieldStrength;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: the next pulse's field, against figures reckoned by hand. Method: a curve that falls evenly
 * by 2 µT for each A/m from 100 mT, a target of 60 mT and an accepted half width of 1 mT: the aim
 * is at 60.3 mT.
 */
class KnockDownAimTest {

  private static final double AIM = 0.0603;

  private static KnockDownAim aim(int recharges, boolean taught) {
    return new KnockDownAim(Attempt.EVEN, 0.06, 0.001, recharges, taught);
  }

  private static List<Progress.Point> points(double... fieldAndLevel) {
    return new Attempt().went(fieldAndLevel).points;
  }

  @Test
  void goesNineTenthsOfTheRestOnceItKnowsAPointOfTheMagnet() {
    // This one needs a fifth more field than the curve: 12 kA/m for the 20 mT that 10 would take.
    double next = aim(0, false).secant(points(0, 0.1, 12_000, 0.08));

    assertThat(next).isCloseTo(12_000 + 1.2 * 0.9 * (0.08 - AIM) / 2e-6, within(0.1));
  }

  @Test
  void goesAllTheWayFromTheSecondPointOnByTheNewestChord() {
    // Between the points 6 kA/m took what the curve would take with 5.
    double next = aim(0, false).secant(points(0, 0.1, 9_000, 0.08, 15_000, 0.07));

    assertThat(next).isCloseTo(15_000 + 1.2 * (0.07 - AIM) / 2e-6, within(0.1));
  }

  @ParameterizedTest
  @CsvSource({"1, 0.93", "2, 0.8649"})
  void goesShorterAfterEachFallBelow(int recharges, double care) {
    assertThat(aim(recharges, false).secant(points(0, 0.1)))
        .isCloseTo(0.65 * care * (0.1 - AIM) / 2e-6, within(0.1));
  }

  /** A hundredth of the charge lost says nothing yet of the magnet, a little more does. */
  @Test
  void searchesUntilTheMagnetHasMoved() {
    // Of the way on the curve from 99.1 mT a part of 0.65: more than 15 per cent on 500 A/m.
    assertThat(aim(0, false).secant(points(0, 0.1, 500, 0.0991)))
        .isCloseTo((0.1 - (0.0991 - 0.65 * (0.0991 - AIM))) / 2e-6, within(0.1));
    // From 30 kA/m the curve says nothing more, and the field grows by 15 per cent.
    assertThat(aim(0, false).secant(points(0, 0.1, 30_000, 0.0991))).isCloseTo(34_500, within(0.1));
    // A loss of 1.1 per cent after 600 A/m: the curve would take 550.
    assertThat(aim(0, false).secant(points(0, 0.1, 600, 0.0989)))
        .isCloseTo(600 + 600.0 / 550 * 0.9 * (0.0989 - AIM) / 2e-6, within(0.1));
  }

  @Test
  void growsByTheLeastThatCanBeToldWhereItIsThereAlready() {
    assertThat(aim(0, false).secant(points(0, 0.1, 20_000, 0.0602)))
        .isCloseTo(20_010, within(0.001));
  }

  @Test
  void aimsNoHigherThanItIs() {
    // Below the aim, inside the band: the way is none, not one back.
    KnockDownAim wide = new KnockDownAim(Attempt.EVEN, 0.06, 0.01, 0, false);

    assertThat(wide.secant(points(0, 0.1))).isCloseTo(0.65 * (0.1 - 0.063) / 2e-6, within(0.1));
    assertThat(wide.secant(points(0, 0.1, 20_000, 0.061))).isCloseTo(20_010, within(0.001));
  }

  @Test
  void believesNoMagnetThatNeedsMoreThanEightFifthsOfTheField() {
    // Twice the field of the curve, and half of it.
    assertThat(aim(0, false).secant(points(0, 0.1, 20_000, 0.08)))
        .isCloseTo(20_000 + 1.6 * 0.9 * (0.08 - AIM) / 2e-6, within(0.1));
    assertThat(aim(0, false).secant(points(0, 0.1, 5_000, 0.08)))
        .isCloseTo(5_000 + 0.9 * (0.08 - AIM) / 1.6 / 2e-6, within(0.1));
  }

  @Test
  void believesNoChordFarFromTheWholeWay() {
    // The whole way says 1.1, the newest chord 3.2 and 0.2; they are held to 1.1 x 1.6 and / 1.6,
    // and by the bounds of a magnet to 1.6 and 0.6875.
    assertThat(aim(0, false).secant(points(0, 0.1, 7_800, 0.0825, 11_000, 0.08)))
        .isCloseTo(11_000 + 1.6 * (0.08 - AIM) / 2e-6, within(0.5));
    assertThat(aim(0, false).secant(points(0, 0.1, 10_500, 0.085, 11_000, 0.08)))
        .isCloseTo(11_000 + 1.1 / 1.6 * (0.08 - AIM) / 2e-6, within(0.1));
  }

  @Test
  void goesByTheWholeWayWhereTheNewestPulseDidNothing() {
    assertThat(aim(0, false).secant(points(0, 0.1, 11_000, 0.08, 11_500, 0.08)))
        .isCloseTo(11_500 + 1.15 * (0.08 - AIM) / 2e-6, within(0.1));
  }

  @Test
  void countsEqualStepsFromTheLastPulseOn() {
    assertThat(aim(0, false).equalStep(points(0, 0.1))).isCloseTo(500, within(1e-6));
    assertThat(aim(0, false).equalStep(points(0, 0.1, 4_000, 0.095)))
        .isCloseTo(4_500, within(1e-6));
    // A weaker magnet falls by less for an ampere per metre.
    assertThat(aim(0, false).equalStep(points(0, 0.08))).isCloseTo(625, within(1e-6));
  }

  @Test
  void takesTheSteepestPlaceOfTheCurveForASafeStep() {
    List<Double> fractions = new ArrayList<>(List.of(1.0, 0.95, 0.7, 0.2, 0.1));
    KnockDownCurve steep = new KnockDownCurve(new FieldStrength(10_000), fractions);
    KnockDownAim aim = new KnockDownAim(steep, 0.06, 0.001, 0, false);

    // At most half of the charge in 10 kA/m; the charge is the larger of both.
    assertThat(aim.safeStep(points(3_000, 0.09), 0.1))
        .isCloseTo(3_000 + 0.8 * (0.09 - AIM) / (0.5 * 0.1 / 10_000), within(0.1));
    assertThat(aim.safeStep(points(3_000, 0.09), 0.05))
        .isCloseTo(3_000 + 0.8 * (0.09 - AIM) / (0.5 * 0.09 / 10_000), within(0.1));
  }

  @Test
  void takesAMagnetThatHasNotMovedForASoftOne() {
    // 5 kA/m more, 1.06 of the curve's, and a fall steeper by 1.15 of a magnet of 0.1 T.
    double soft = 0.0995 - 1.15 * 1.06 * 5_000 * 2e-6;

    assertThat(aim(0, false).lowestAfter(7_000, points(0, 0.1, 2_000, 0.0995), 0.09))
        .isCloseTo(soft, within(1e-9));
    assertThat(aim(0, false).lowestAfter(5_000, points(0, 0.1), 0.12))
        .isCloseTo(0.1 - 1.15 * 1.06 * 5_000 * 2e-6 * 1.2, within(1e-9));
  }

  /** Where the curve bends it matters from which place of it a soft magnet starts. */
  @Test
  void startsFromTheFieldASoftMagnetHasFelt() {
    KnockDownCurve bent = new KnockDownCurve(new FieldStrength(10_000), List.of(1.0, 0.995, 0.4));
    KnockDownAim aim = new KnockDownAim(bent, 0.06, 0.001, 0, false);

    // It has felt 10 kA/m as 10.6, and feels 11 as 11.66: 1.06 kA/m of the steep part.
    assertThat(aim.lowestAfter(11_000, points(0, 0.1, 10_000, 0.0995), 0.1))
        .isCloseTo(0.0995 - 1.15 * 0.1 * 1.06 * 0.0595, within(1e-9));
  }

  @Test
  void takesAMagnetThatHasMovedByItsOwnScale() {
    // It needs a fifth more than the curve, so 6 kA/m do what 5 would.
    assertThat(aim(0, false).lowestAfter(18_000, points(0, 0.1, 12_000, 0.08), 0.1))
        .isCloseTo(0.08 - 1.15 * 5_000 * 2e-6, within(1e-9));
    // A hundredth lost is not yet moved, a little more is.
    assertThat(aim(0, false).lowestAfter(2_000, points(0, 0.1, 1_000, 0.0991), 0.1))
        .isCloseTo(0.0991 - 1.15 * 1_060 * 2e-6, within(1e-9));
    assertThat(aim(0, false).lowestAfter(2_000, points(0, 0.1, 1_000, 0.0989), 0.1))
        .isCloseTo(0.0989 - 1.15 * 1_000 / 1.6 * 2e-6, within(1e-9));
  }

  /** The place on a bent curve is that of the level it reads, not that of the field it felt. */
  @Test
  void startsFromTheLevelAMovedMagnetReads() {
    KnockDownCurve bent =
        new KnockDownCurve(new FieldStrength(10_000), List.of(1.0, 0.995, 0.4, 0.35));
    KnockDownAim aim = new KnockDownAim(bent, 0.06, 0.001, 0, false);

    // Seven tenths are 14,958 A/m of the curve where it felt 11,000; 6,000 more are 8,159 of it.
    assertThat(aim.lowestAfter(17_000, points(0, 0.1, 11_000, 0.07), 0.1))
        .isCloseTo(0.07 - 1.15 * 0.1 * (0.7 - 0.384416), within(1e-6));
  }
}
