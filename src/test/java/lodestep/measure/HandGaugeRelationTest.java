package lodestep.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import lodestep.measure.PairedReadings.Outcome;
import lodestep.measure.PairedReadings.Pair;
import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;

class HandGaugeRelationTest {

  private static final FluxDensity STEP = FluxDensity.ofGauss(1);

  private static Pair pair(String magnet, double nest, double hand) {
    return new Pair(magnet, FluxDensity.ofGauss(nest), FluxDensity.ofGauss(hand));
  }

  /** Magnets from 200 G to 560 G with this relation and this relative scatter. */
  private static PairedReadings drawn(
      Random random, int count, double scatter, DoubleUnaryOperator handOfNest) {
    List<Pair> pairs = new ArrayList<>();
    for (int at = 0; at < count; at++) {
      double nest = 200 + 360.0 * at / (count - 1);
      double hand = handOfNest.applyAsDouble(nest) * (1 + scatter * random.nextGaussian());
      pairs.add(pair("m" + at, nest, hand));
    }
    return new PairedReadings(pairs);
  }

  private static HandGaugeRelation found(PairedReadings pairs) {
    return pairs
        .relation(STEP)
        .match(
            Outcome.Found::relation,
            none -> {
              throw new AssertionError(none.why());
            });
  }

  private static String why(PairedReadings pairs) {
    return pairs.relation(STEP).match(found -> "found " + found.relation(), Outcome.None::why);
  }

  /** By hand: ratios 1.10, 1.12, 1.08 with mean 1.10 and deviation 0.02. */
  @Test
  void ratioIsTheMeanOfTheMagnetsRatios() {
    HandGaugeRelation relation =
        found(
            new PairedReadings(
                List.of(pair("a", 300, 330), pair("b", -400, -448), pair("c", 500, 540))));

    assertThat(relation.ratio()).isCloseTo(1.10, within(1e-12));
    assertThat(relation.scatter()).isCloseTo(0.02 / 1.10, within(1e-12));
    double step = 1.10 / 330 / Math.sqrt(12);
    assertThat(relation.uncertainty().value())
        .isCloseTo(Math.hypot(0.02, step) / Math.sqrt(3), within(1e-12));
    assertThat(relation.from().gauss()).isCloseTo(297, within(1e-9));
    assertThat(relation.to().gauss()).isCloseTo(594, within(1e-9));
  }

  @Test
  void severalPairsOfOneMagnetCountAsOneMagnet() {
    PairedReadings pairs =
        new PairedReadings(List.of(pair("a", 300, 330), pair("a", 302, 332), pair("b", 400, 440)));

    assertThat(why(pairs)).startsWith("2 magnets were read by both gauges; pair 3 or more");
  }

  /** The statement "95 per cent" tried on relations that are known, as JCGM 100 means it. */
  @Test
  void statedUncertaintyCoversTheTrueRatioNinetyFiveTimesInAHundred() {
    Random random = new Random(7);
    int covered = 0;
    int relations = 0;
    for (int run = 0; run < 4_000; run++) {
      Outcome outcome = drawn(random, 6, 0.01, nest -> 1.18 * nest).relation(STEP);
      if (outcome instanceof Outcome.Found found) {
        HandGaugeRelation relation = found.relation();
        double factor = UncertaintyBudget.coverage(0.95, relation.uncertainty().degreesOfFreedom());
        relations++;
        boolean inside =
            Math.abs(relation.ratio() - 1.18) <= factor * relation.uncertainty().value();
        covered += inside ? 1 : 0;
      }
    }

    assertThat((double) covered / relations).isBetween(0.94, 0.975);
    // Three tests at one per cent each may refuse a good one.
    assertThat(relations).isBetween(3_850, 3_999);
  }

  @Test
  void offsetIsToldWithItsSizeRatherThanSpreadOverTheRatio() {
    PairedReadings pairs = drawn(new Random(3), 7, 0.002, nest -> 1.1 * nest + 15);

    assertThat(why(pairs))
        .contains("a ratio alone does not tell it")
        .contains("+15.")
        .contains("zero it");
  }

  @Test
  void bendIsToldByTheRatioAtBothEnds() {
    PairedReadings pairs =
        drawn(new Random(4), 7, 0.002, nest -> nest * (1.1 + 0.1 * (nest - 200) / 360));

    assertThat(why(pairs)).contains("the ratio goes from 1.1").contains("at 200 G to 1.2");
  }

  @Test
  void oneMagnetReadWronglyIsNamed() {
    List<Pair> pairs = new ArrayList<>(drawn(new Random(5), 7, 0.003, n -> 1.1 * n).pairs());
    Pair wrong = pairs.get(3);
    pairs.set(
        3, new Pair(wrong.magnet(), wrong.nest(), new FluxDensity(wrong.hand().tesla() * 1.06)));

    assertThat(why(new PairedReadings(pairs))).startsWith("m3 does not go with the others");
  }

  @Test
  void poorlyKnownRatioIsNoRelation() {
    PairedReadings pairs =
        new PairedReadings(List.of(pair("a", 300, 300), pair("b", 400, 480), pair("c", 500, 520)));

    assertThat(why(pairs)).contains("known to 5.").contains("hold the hand gauge in a rest");
  }

  @Test
  void whatCouldNotBeTestedIsSaid() {
    Outcome few =
        new PairedReadings(List.of(pair("a", 300, 330), pair("b", 400, 441), pair("c", 500, 549)))
            .relation(STEP);

    assertThat(few.match(Outcome.Found::untested, none -> "")).contains("fewer than 5 magnets");
  }

  @Test
  void levelsAreConvertedBothWaysWithTheRatiosUncertainty() {
    HandGaugeRelation relation =
        new HandGaugeRelation(
            1.25,
            new StandardUncertainty(0.01, 6),
            0.02,
            FluxDensity.ofGauss(250),
            FluxDensity.ofGauss(700));

    HandGaugeRelation.Level nest = relation.nest(FluxDensity.ofGauss(-500));
    assertThat(nest.value().gauss()).isCloseTo(-400, within(1e-9));
    assertThat(nest.uncertainty().value()).isCloseTo(3.2e-4, within(1e-12));
    HandGaugeRelation.Level hand =
        relation.hand(FluxDensity.ofGauss(400), StandardUncertainty.known(3e-4));
    assertThat(hand.value().gauss()).isCloseTo(500, within(1e-9));
    // By hand: 1.25 × 3 G and 0.01 × 400 G, squared and added.
    assertThat(hand.uncertainty().value()).isCloseTo(Math.hypot(3.75e-4, 4e-4), within(1e-12));
    assertThat(relation.nestWidth(FluxDensity.ofGauss(10)).gauss()).isCloseTo(8, within(1e-9));
  }

  @Test
  void levelOutsideTheRangeIsRefusedWithTheRange() {
    HandGaugeRelation relation =
        new HandGaugeRelation(
            1.25,
            StandardUncertainty.known(0.01),
            0.02,
            FluxDensity.ofGauss(250),
            FluxDensity.ofGauss(700));

    assertThatThrownBy(() -> relation.nest(FluxDensity.ofGauss(710)))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("710 G on the hand gauge is outside")
        .hasMessageContaining("from 250 G to 700 G");
    assertThatThrownBy(() -> relation.hand(FluxDensity.ofGauss(190), StandardUncertainty.known(0)))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("238 G");
  }
}
