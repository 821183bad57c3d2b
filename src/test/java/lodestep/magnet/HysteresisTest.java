package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;

class HysteresisTest {

  private static final double MU0 = 4e-7 * Math.PI;

  /**
   * MMPA Standard 0100-00 and the customary table of neodymium grades, from memory. Four figures
   * and three free ones: each is met within three per cent, the remanence exactly.
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
          .as("(BH)max of %s", alloy.name())
          .isCloseTo(alloy.energyProductJoulesPerCubicMetre(), Percentage.withPercentage(3));
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
   * The identification, which knows four figures read off the same points; the recoil permeability
   * is the middle of 3.3 to 3.4, implied by fits of such curves. The knee is missed most.
   */
  @Against(Against.Kind.COMPUTED)
  @Test
  void loopFromFourFiguresPassesNearThePublishedPoints() {
    assertThat(worstMiss(Hysteresis.of(trial(1.2252, 51.0, 51.4, 40.0, 3.35)))).isLessThan(0.03);
  }

  /**
   * Identified from every other point: those it was not told are met within five per cent of Br.
   */
  @Against(Against.Kind.READ)
  @Test
  void loopIdentifiedFromHalfOfThePublishedPointsMeetsTheOthers() {
    Hysteresis loop = curve(2).identified().loop();

    for (int i = 1; i < ALNICO_5_POINTS.length; i += 2) {
      assertThat(miss(loop, ALNICO_5_POINTS[i]))
          .as("at %.1f kA/m", ALNICO_5_POINTS[i][0])
          .isLessThan(0.05);
    }
  }

  /** A fit of all the points by another program, beforehand. */
  @Against(Against.Kind.COMPUTED)
  @Test
  void loopIdentifiedFromAllPointsIsTheOneFoundBeforehand() {
    LoopCurve.Identified found = curve(1).identified();

    assertThat(found.loop().saturationTesla()).isCloseTo(1.232, Percentage.withPercentage(1));
    assertThat(found.loop().centreAmperesPerMetre()).isCloseTo(52.05e3, within(500.0));
    assertThat(found.loop().widthAmperesPerMetre())
        .isCloseTo(6.36e3, Percentage.withPercentage(10));
    assertThat(found.worstMiss()).isLessThan(0.02);
    // Its largest energy product, 40.0 kJ/m³, and nine tenths of its remanence at 34.9 kA/m.
    assertThat(LoopFigures.of(found.loop()).energyProductJoulesPerCubicMetre())
        .isCloseTo(40.0e3, Percentage.withPercentage(3));
    assertThat(found.loop().descendingTesla(-34.9e3) / found.loop().descendingTesla(0))
        .isCloseTo(0.9, within(0.02));
  }

  /**
   * What the book calls alnico 5 is another grade than those points are of, by 4.5 per cent of the
   * remanence: it is not met by them, and a lot of which a curve is known is told by its curve.
   */
  @Against(Against.Kind.COMPUTED)
  @Test
  void theBooksAlnico5IsAStrongerGradeThanThePublishedCurve() {
    Hysteresis shipped = Hysteresis.of(AlloyBook.standard().find("alnico 5").orElseThrow());

    assertThat(worstMiss(shipped)).isBetween(0.04, 0.10);
  }

  private static LoopCurve curve(int every) {
    List<LoopCurve.Point> points = new ArrayList<>();
    for (int i = 0; i < ALNICO_5_POINTS.length; i += every) {
      points.add(
          new LoopCurve.Point(
              new FieldStrength(ALNICO_5_POINTS[i][0] * 1e3),
              new FluxDensity(ALNICO_5_POINTS[i][1])));
    }
    return new LoopCurve(points);
  }

  private static double miss(Hysteresis loop, double[] point) {
    double net = point[0] * 1e3;
    return Math.abs(loop.descendingTesla(net) - (point[1] - MU0 * net)) / 1.2252;
  }

  private static double worstMiss(Hysteresis loop) {
    double worst = 0;
    for (double[] point : ALNICO_5_POINTS) {
      worst = Math.max(worst, miss(loop, point));
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

  /**
   * No free energy: round any loop that closes, the field does work and gets none. Round a minor
   * loop from a to b and back the change of polarisation is the Everett function's either way.
   */
  @Against(Against.Kind.ANOTHER_WAY)
  @Property(tries = 200)
  void aClosedLoopGivesNoEnergy(
      @ForAll @DoubleRange(min = -2e5, max = 2e5) double low,
      @ForAll @DoubleRange(min = 1, max = 3e5) double span,
      @ForAll @DoubleRange(min = 0, max = 1) double trial) {
    List<Alloy> alloys = AlloyBook.standard().alloys();
    Hysteresis loop = Hysteresis.of(alloys.get((int) (trial * (alloys.size() - 1))));
    double high = low + span;
    int steps = 2000;
    double up = 0;
    double down = 0;
    // Work is the integral of H dJ, by the trapezium rule: rising from low, falling from high.
    for (int i = 0; i < steps; i++) {
      double from = low + span * i / steps;
      double to = low + span * (i + 1) / steps;
      double field = 0.5 * (from + to);
      up += field * (loop.everettTesla(to, low) - loop.everettTesla(from, low));
      down += field * (loop.everettTesla(from, high) - loop.everettTesla(to, high));
    }

    assertThat(up + down).isGreaterThanOrEqualTo(-1e-9 * loop.saturationTesla() * span);
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
