package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;

class HysteresisTest {

  private static final double MU0 = 4e-7 * Math.PI;

  /**
   * MMPA Standard 0100-00, section II, from memory. Br and (BH)max are fitted and so come back
   * exactly; HcB and HcJ share one free figure and are the check, at three per cent.
   */
  @Against(Against.Kind.FROM_MEMORY)
  @Test
  void loopHasTheAlloysPublishedFigures() {
    for (Alloy alloy : AlloyBook.standard().alloys()) {
      LoopFigures figures = LoopFigures.of(Hysteresis.of(alloy));

      assertThat(figures.remanenceTesla())
          .as("Br of %s, fitted", alloy.name())
          .isCloseTo(alloy.remanence().tesla(), within(1e-9));
      assertThat(figures.energyProductJoulesPerCubicMetre())
          .as("(BH)max of %s, fitted", alloy.name())
          .isCloseTo(alloy.energyProductJoulesPerCubicMetre(), within(1.0));
      if (!alloy.family().isDialed()) {
        // Their coercivities are quoted as minima, and no rig of ours moves along their loops.
        continue;
      }
      assertThat(figures.coercivityBAmperesPerMetre())
          .as("HcB of %s", alloy.name())
          .isCloseTo(alloy.coercivityB().amperesPerMetre(), Percentage.withPercentage(3));
      assertThat(figures.coercivityJAmperesPerMetre())
          .as("HcJ of %s", alloy.name())
          .isCloseTo(alloy.coercivityJ().amperesPerMetre(), Percentage.withPercentage(3));
    }
  }

  /**
   * Second-quadrant points (H in kA/m, B in T) of cast alnico 5 from the material library of an
   * open finite-element program (D. C. Meeker, 2023).
   */
  private static final double[][] ALNICO_5_POINTS = {
    {-51.015, 0},
    {-49.906, 0.1883},
    {-48.728, 0.3767},
    {-47.396, 0.5777},
    {-45.437, 0.7920},
    {-40.814, 0.9799},
    {-32.876, 1.0857},
    {-24.206, 1.1396},
    {-15.896, 1.1745},
    {-7.915, 1.2011},
    {0, 1.2252}
  };

  /**
   * The form of the loop: a fit of all points, made beforehand, was 1.6 per cent of Br at worst.
   */
  @Against(Against.Kind.COMPUTED)
  @Test
  void formOfTheLoopFollowsThePublishedPoints() {
    assertThat(worstMiss(new Hysteresis(1.232, 52.05e3, 6.36e3, 2.26))).isLessThan(0.017);
  }

  /**
   * The identification, which knows the four figures of the same points and no more; the recoil
   * permeability is the middle of 3.3 to 3.4, implied by fits of such curves. The knee is missed
   * most.
   */
  @Against(Against.Kind.READ)
  @Test
  void loopFromFourFiguresPassesNearThePublishedPoints() {
    assertThat(worstMiss(Hysteresis.of(trial(1.2252, 51.0, 51.4, 40.0, 3.35)))).isLessThan(0.03);
  }

  private static double worstMiss(Hysteresis loop) {
    double worst = 0;
    for (double[] point : ALNICO_5_POINTS) {
      double net = point[0] * 1e3;
      double polarisation = point[1] - MU0 * net;
      worst = Math.max(worst, Math.abs(loop.descendingTesla(net) - polarisation) / 1.2252);
    }
    return worst;
  }

  /** The square loop B = Br − µ0 |H|, of a magnet with a recoil permeability near one. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void energyProductOfASquareLoopIsTheTextbookFigure() {
    Hysteresis square = new Hysteresis(1.2, 2e6, 1e4, 0);

    LoopFigures figures = LoopFigures.of(square);

    assertThat(figures.energyProductJoulesPerCubicMetre())
        .isCloseTo(1.2 * 1.2 / (4 * MU0), within(1.0));
    assertThat(figures.coercivityBAmperesPerMetre()).isCloseTo(1.2 / MU0, within(1.0));
  }

  @Test
  void refusesFiguresThatNoLoopHas() {
    assertThatThrownBy(() -> Hysteresis.of(trial(1.2, 50, 51, 300, 3)))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("the figures of alloy 'trial' do not belong to one loop");
  }

  @Test
  void refusesALoopThatIsNone() {
    for (double wrong : List.of(0.0, -1.0, Double.NaN, Double.POSITIVE_INFINITY)) {
      assertThatThrownBy(() -> new Hysteresis(wrong, 5e4, 5e3, 2)).hasMessageContaining("tesla");
      assertThatThrownBy(() -> new Hysteresis(1, wrong, 5e3, 2)).hasMessageContaining("centre");
      assertThatThrownBy(() -> new Hysteresis(1, 5e4, wrong, 2)).hasMessageContaining("width");
    }
    assertThatThrownBy(() -> new Hysteresis(1, 5e4, 5e3, -0.1)).hasMessageContaining("suscept");
  }

  /** The descending branch is what the Everett function says of a fall from saturation. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Property(tries = 200)
  void everettFunctionMakesTheDescendingBranch(
      @ForAll @DoubleRange(min = -2e5, max = 2e5) double net) {
    Hysteresis loop = new Hysteresis(1.1, 6e4, 1.5e4, 2.5);
    double saturating = 2e6;

    double fallen = loop.saturationTesla() + loop.everettTesla(net, saturating);

    assertThat(fallen + MU0 * 2.5 * net).isCloseTo(loop.descendingTesla(net), within(1e-12));
  }

  /** No part of the Preisach plane has a negative weight, so no branch can run backwards. */
  @Property(tries = 500)
  void everettFunctionIsPositiveOverEveryRectangle(
      @ForAll @DoubleRange(min = -2e5, max = 2e5) double low,
      @ForAll @DoubleRange(min = 0, max = 1e5) double down,
      @ForAll @DoubleRange(min = 0, max = 1e5) double gap,
      @ForAll @DoubleRange(min = 0, max = 1e5) double up) {
    Hysteresis loop = Hysteresis.of(AlloyBook.standard().find("alnico 4").orElseThrow());
    double a = low + down + gap;

    double weight =
        loop.everettTesla(a + up, low)
            - loop.everettTesla(a, low)
            - loop.everettTesla(a + up, low + down)
            + loop.everettTesla(a, low + down);

    assertThat(weight).isGreaterThanOrEqualTo(-1e-12);
  }

  @Test
  void scalingStretchesTheFigures() {
    Alloy alloy = AlloyBook.standard().find("alnico 3").orElseThrow();
    LoopFigures usual = LoopFigures.of(Hysteresis.of(alloy));

    LoopFigures scaled = LoopFigures.of(Hysteresis.of(alloy).scaled(1.02, 0.95));

    assertThat(scaled.remanenceTesla()).isCloseTo(1.02 * usual.remanenceTesla(), within(1e-12));
    assertThat(scaled.coercivityJAmperesPerMetre())
        .isCloseTo(0.95 * usual.coercivityJAmperesPerMetre(), within(1e-5));
  }

  static Alloy trial(double br, double hcbKilo, double hcjKilo, double bhMaxKilo, double recoil) {
    FigureSource source = new FigureSource(FigureSource.Kind.MEASURED, "a test");
    Map<Figure, Alloy.Known> figures = new EnumMap<>(Figure.class);
    Map.of(
            Figure.REMANENCE, br,
            Figure.COERCIVITY_B, hcbKilo * 1e3,
            Figure.COERCIVITY_J, hcjKilo * 1e3,
            Figure.ENERGY_PRODUCT, bhMaxKilo * 1e3,
            Figure.RECOIL, recoil,
            Figure.SATURATING_FIELD, hcjKilo * 5e3)
        .forEach((figure, value) -> figures.put(figure, new Alloy.Known(value, source)));
    return new Alloy("trial", Alloy.Family.ALNICO, "cast", figures);
  }
}
