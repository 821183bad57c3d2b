package lodestep.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import lodestep.magnet.Against;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** Goal: both charts agree with the handbook, and each rule sees its pattern and no shorter one. */
class ControlChartsTest {

  /** NIST/SEMATECH e-Handbook, 6.3.2.2, flow rates. */
  private static final List<Double> FLOW =
      List.of(49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1);

  /** The points of 6.3.2.4 before these ten. */
  private static final List<Double> BEFORE =
      List.of(52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5);

  @Against(Against.Kind.READ)
  @Test
  void individualsChartHasTheHandbooksLimits() {
    IndividualsChart chart = IndividualsChart.of(FLOW);

    // NIST/SEMATECH e-Handbook, 6.3.2.2, as printed.
    assertThat(chart.centre()).isCloseTo(50.81, within(5e-3));
    assertThat(chart.meanRange()).isCloseTo(1.8778, within(5e-5));
    assertThat(chart.upper()).isCloseTo(55.8041, within(5e-5));
    assertThat(chart.lower()).isCloseTo(45.8159, within(5e-5));
    assertThat(chart.rangeUpper()).isCloseTo(6.1347, within(5e-4));
    assertThat(chart.signals(FLOW, IndividualsChart.RULES)).isEmpty();
  }

  @Against(Against.Kind.READ)
  @Test
  void ewmaChartHasTheHandbooksMeansAndLimits() {
    EwmaChart chart = new EwmaChart(50, 2.0539, 0.3);
    List<Double> points = Stream.concat(BEFORE.stream(), FLOW.stream()).toList();

    // NIST/SEMATECH e-Handbook, 6.3.2.4, as printed.
    List<Double> printed =
        List.of(
            50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36,
            49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99);
    List<Double> means = chart.means(points);
    for (int at = 0; at < printed.size(); at++) {
      assertThat(means.get(at)).isCloseTo(printed.get(at), within(5.1e-3));
    }
    assertThat(chart.upper()).isCloseTo(52.5884, within(5e-5));
    // Printed 47.4115, which is not the mirror image of the upper one: cut off, not rounded.
    assertThat(chart.lower()).isCloseTo(47.4116, within(1.5e-4));
    assertThat(chart.beyond(points)).isEmpty();
  }

  @Test
  void ewmaChartSeesASmallLastingShiftThatNoSinglePointShows() {
    List<Double> shifted = DoubleStream.generate(() -> 51.8).limit(12).boxed().toList();

    // By hand: 1.8 (1 − 0.7ⁿ) passes 3 √(0.3 / 1.7) = 1.26 with the fourth point.
    assertThat(new EwmaChart(50, 1, 0.3).beyond(shifted).get(0)).isEqualTo(3);
    assertThat(new IndividualsChart(50, 1.128).signals(shifted, Set.of(ChartRule.FAR_POINT)))
        .isEmpty();
  }

  static Stream<Arguments> patterns() {
    return Stream.of(
        Arguments.of(ChartRule.FAR_POINT, points(3.01), points(2.99)),
        Arguments.of(ChartRule.FAR_POINT, points(-3.01), points(-2.99)),
        Arguments.of(ChartRule.TWO_OF_THREE, points(2.1, 0, 2.1), points(2.1, 0, 0, 2.1)),
        Arguments.of(ChartRule.TWO_OF_THREE, points(-2.1, -2.1), points(-2.1, 2.1)),
        Arguments.of(
            ChartRule.FOUR_OF_FIVE, points(1.1, 1.1, 0, 1.1, 1.1), points(1.1, 1.1, 0, 0, 1.1)),
        Arguments.of(
            ChartRule.ONE_SIDE,
            points(.1, .2, .1, .2, .1, .2, .1, .2),
            points(.1, .2, .1, .2, .1, .2, .1)),
        Arguments.of(
            ChartRule.TREND, points(-.2, -.1, 0, .1, .2, .3), points(-.2, -.1, 0, .1, .2, .2)),
        Arguments.of(
            ChartRule.ZIGZAG,
            points(0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1),
            points(0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0)),
        // 3.267 times 1.128.
        Arguments.of(ChartRule.JUMP, points(-1.85, 1.85), points(-1.84, 1.84)));
  }

  private static List<Double> points(double... sigmas) {
    return DoubleStream.of(sigmas).boxed().toList();
  }

  @ParameterizedTest
  @MethodSource("patterns")
  void ruleSeesItsPatternAndNotOneJustShortOfIt(
      ChartRule rule, List<Double> seen, List<Double> unseen) {
    IndividualsChart chart = new IndividualsChart(0, IndividualsChart.RANGE_PER_SIGMA);
    // Two of three must also be seen where only two have come: so the points before are quiet.
    List<Double> led = new ArrayList<>(List.of(0.0));
    led.addAll(seen);
    List<Double> ledUnseen = new ArrayList<>(List.of(0.0));
    ledUnseen.addAll(unseen);

    assertThat(chart.signals(rule == ChartRule.TWO_OF_THREE ? led : seen, Set.of(rule)))
        .singleElement()
        .extracting(IndividualsChart.Signal::rule)
        .isEqualTo(rule);
    assertThat(chart.signals(rule == ChartRule.TWO_OF_THREE ? ledUnseen : unseen, Set.of(rule)))
        .isEmpty();
  }

  /**
   * NIST/SEMATECH e-Handbook, 6.3.2: a gauge in order gives a false alarm once in 371 points by the
   * limits alone, and once in 91.75 with the three zone rules beside (Champ and Woodall 1987).
   */
  @Test
  void falseAlarmsComeAsOftenAsTheHandbookSays() {
    Random random = new Random(20);

    assertThat(runLength(random, Set.of(ChartRule.FAR_POINT), 4_000))
        .isCloseTo(370.4, within(20.0));
    assertThat(
            runLength(
                random,
                EnumSet.of(
                    ChartRule.FAR_POINT,
                    ChartRule.TWO_OF_THREE,
                    ChartRule.FOUR_OF_FIVE,
                    ChartRule.ONE_SIDE),
                20_000))
        .isCloseTo(91.75, within(2.0));
  }

  private static double runLength(Random random, Set<ChartRule> rules, int runs) {
    IndividualsChart chart = new IndividualsChart(0, IndividualsChart.RANGE_PER_SIGMA);
    long points = 0;
    for (int run = 0; run < runs; run++) {
      List<Double> taken = new ArrayList<>();
      List<IndividualsChart.Signal> signals = List.of();
      while (signals.isEmpty()) {
        for (int more = 0; more < 100; more++) {
          taken.add(random.nextGaussian());
        }
        signals = chart.signals(taken, rules);
      }
      points += signals.get(0).point() + 1;
    }
    return (double) points / runs;
  }

  @Test
  void chartOfPointsThatDoNotScatterIsRefused() {
    assertThatThrownBy(() -> IndividualsChart.of(List.of(5.0, 5.0, 5.0)))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> IndividualsChart.of(List.of(5.0)))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
