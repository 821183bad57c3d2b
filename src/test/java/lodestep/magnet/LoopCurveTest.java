package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;

/**
 * Goal: a measured curve gives back the loop it was taken from, whatever the alloy, and what is no
 * curve is refused. Method: points of known loops; {@code HysteresisTest} has published ones.
 */
class LoopCurveTest {

  private static final double MU0 = 4e-7 * Math.PI;

  /** Points of this loop from the remanence down to where its flux density is nearly gone. */
  private static List<LoopCurve.Point> points(Hysteresis loop, int count) {
    double reach = 0.98 * LoopFigures.of(loop).coercivityBAmperesPerMetre();
    List<LoopCurve.Point> points = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      double net = -reach * i / (count - 1);
      points.add(point(net, loop.descendingTesla(net) + MU0 * net));
    }
    return points;
  }

  private static LoopCurve.Point point(double net, double tesla) {
    return new LoopCurve.Point(new FieldStrength(net), new FluxDensity(tesla));
  }

  @Test
  void givesBackTheLoopOfEachAlnico() {
    for (Alloy alloy : AlloyBook.standard().alloys()) {
      if (alloy.family() != Alloy.Family.ALNICO) {
        continue;
      }
      Hysteresis loop = Hysteresis.of(alloy);

      LoopCurve.Identified found = new LoopCurve(points(loop, 12)).identified();

      assertThat(found.worstMiss()).as(alloy.name()).isLessThan(1e-3);
      assertThat(found.figures().get(Figure.REMANENCE))
          .isCloseTo(alloy.remanence().tesla(), Percentage.withPercentage(0.2));
      assertThat(found.figures().get(Figure.ENERGY_PRODUCT))
          .isCloseTo(alloy.energyProductJoulesPerCubicMetre(), Percentage.withPercentage(0.5));
    }
  }

  /** The loop that an alloy of these figures has is the one that was identified. */
  @Test
  void itsFiguresBelongToThatLoop() {
    Alloy alloy = AlloyBook.standard().find("alnico 6").orElseThrow();
    Hysteresis loop = Hysteresis.of(alloy).scaled(0.97, 1.04);
    LoopCurve.Identified found = new LoopCurve(points(loop, 9)).identified();

    Alloy lot =
        alloy.lot("trial", found.figures(), new FigureSource(FigureSource.Kind.MEASURED, "a test"));

    Hysteresis again = Hysteresis.of(lot);
    assertThat(again.saturationTesla())
        .isCloseTo(found.loop().saturationTesla(), Percentage.withPercentage(0.1));
    assertThat(again.centreAmperesPerMetre())
        .isCloseTo(found.loop().centreAmperesPerMetre(), Percentage.withPercentage(0.1));
    assertThat(again.widthAmperesPerMetre())
        .isCloseTo(found.loop().widthAmperesPerMetre(), Percentage.withPercentage(0.5));
    assertThat(again.susceptibility()).isCloseTo(found.loop().susceptibility(), within(1e-6));
  }

  @Test
  void refusesWhatIsNoCurve() {
    List<LoopCurve.Point> good =
        points(Hysteresis.of(AlloyBook.standard().find("alnico 5").orElseThrow()), 8);
    List<LoopCurve.Point> rising = new ArrayList<>(good);
    rising.set(3, point(good.get(3).net().amperesPerMetre(), 2));
    Map.of(
            good.subList(0, 5),
            "5 points tells too little",
            good.subList(0, 6),
            "measure it from the remanence",
            good.subList(2, 8),
            "measure it from the remanence",
            rising,
            "does not fall",
            with(good, point(1000, 1.3)),
            "does not lie on a demagnetising curve",
            with(good, point(-60e3, -0.1)),
            "does not lie on a demagnetising curve")
        .forEach(
            (points, why) ->
                assertThatThrownBy(() -> new LoopCurve(points)).hasMessageContaining(why));
  }

  private static List<LoopCurve.Point> with(List<LoopCurve.Point> good, LoopCurve.Point more) {
    List<LoopCurve.Point> all = new ArrayList<>(good);
    all.add(more);
    return all;
  }

  /** It falls to half within one step, and goes on as if nothing had been. */
  @Test
  void refusesACurveThatNoLoopFollows() {
    List<LoopCurve.Point> steps = new ArrayList<>();
    for (int i = 0; i < 8; i++) {
      steps.add(point(-10e3 * i, i < 4 ? 1.2 - 0.001 * i : 0.55 - 0.05 * i));
    }

    assertThatThrownBy(() -> new LoopCurve(steps).identified())
        .hasMessageContaining("no loop follows its curve");
  }
}
