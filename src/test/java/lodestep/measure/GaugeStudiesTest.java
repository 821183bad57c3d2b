package lodestep.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import lodestep.magnet.Against;
import lodestep.measure.CrossedStudy.Analysis;
import lodestep.measure.CrossedStudy.Measured;
import lodestep.measure.CrossedStudy.Scatter;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class GaugeStudiesTest {

  /** The measurement systems manual's study (AIAG, 4th ed.): a line for each person's trial. */
  private static final String PUBLISHED =
      """
      A .29 -.56 1.34 .47 -.80 .02 .59 -.31 2.26 -1.36
      A .41 -.68 1.17 .50 -.92 -.11 .75 -.20 1.99 -1.25
      A .64 -.58 1.27 .64 -.84 -.21 .66 -.17 2.01 -1.31
      B .08 -.47 1.19 .01 -.56 -.20 .47 -.63 1.80 -1.68
      B .25 -1.22 .94 1.03 -1.20 .22 .55 .08 2.12 -1.62
      B .07 -.68 1.34 .20 -1.28 .06 .83 -.34 2.19 -1.50
      C .04 -1.38 .88 .14 -1.46 -.29 .02 -.46 1.77 -1.49
      C -.11 -1.13 1.09 .20 -1.07 -.67 .01 -.56 1.45 -1.77
      C -.15 -.96 .67 .11 -1.45 -.49 .21 -.49 1.87 -2.16
      """;

  private static List<Measured> published() {
    List<Measured> readings = new ArrayList<>();
    PUBLISHED
        .lines()
        .forEach(
            line -> {
              String[] cells = line.split(" ", -1);
              for (int part = 1; part < cells.length; part++) {
                readings.add(
                    new Measured("part " + part, cells[0], Double.parseDouble(cells[part])));
              }
            });
    return readings;
  }

  /** All figures as the manual prints them. */
  @Against(Against.Kind.READ)
  @Test
  void averagesAndRangesGiveThePublishedStudysResults() {
    Scatter scatter = CrossedStudy.of(published()).averageAndRange();

    assertThat(scatter.repeatability()).isCloseTo(0.2019, within(6e-5));
    assertThat(scatter.reproducibility()).isCloseTo(0.2297, within(6e-5));
    assertThat(scatter.gauge()).isCloseTo(0.3058, within(6e-5));
    assertThat(scatter.parts()).isCloseTo(1.1046, within(6e-5));
    assertThat(scatter.total()).isCloseTo(1.1461, within(6e-5));
    assertThat(100 * scatter.ofTotal(scatter.repeatability())).isCloseTo(17.6, within(0.05));
    assertThat(100 * scatter.ofTotal(scatter.reproducibility())).isCloseTo(20.0, within(0.05));
    assertThat(100 * scatter.ofTotal(scatter.gauge())).isCloseTo(26.7, within(0.05));
    assertThat(100 * scatter.ofTotal(scatter.parts())).isCloseTo(96.4, within(0.05));
    assertThat(scatter.categories()).isEqualTo(5);
  }

  /**
   * Sums of squares and components as the manual prints them, from memory, and to more digits as
   * another program has them.
   */
  @Against(Against.Kind.FROM_MEMORY)
  @Test
  void analysisOfVarianceGivesThePublishedStudysResults() {
    Analysis analysis = CrossedStudy.of(published()).analysis();

    assertThat(analysis.people().squares()).isCloseTo(3.16726, within(5e-6));
    assertThat(analysis.people().freedom()).isEqualTo(2);
    assertThat(analysis.parts().squares()).isCloseTo(88.36193, within(6e-6));
    assertThat(analysis.parts().freedom()).isEqualTo(9);
    assertThat(analysis.interaction().squares()).isCloseTo(0.35898, within(5e-6));
    assertThat(analysis.interaction().freedom()).isEqualTo(18);
    assertThat(analysis.error().squares()).isCloseTo(2.75893, within(5e-6));
    assertThat(analysis.error().freedom()).isEqualTo(60);
    assertThat(analysis.total().squares()).isCloseTo(94.64711, within(6e-6));
    assertThat(analysis.interaction().over(analysis.error())).isCloseTo(0.434, within(5e-4));
    assertThat(analysis.interaction().probability(analysis.error())).isCloseTo(0.974, within(5e-4));
    assertThat(analysis.pooled()).isTrue();
    assertThat(analysis.yardstick().freedom()).isEqualTo(78);
    Scatter scatter = analysis.scatter();
    assertThat(scatter.repeatability()).isCloseTo(0.199933, within(1e-6));
    assertThat(scatter.reproducibility()).isCloseTo(0.226838, within(1e-6));
    assertThat(scatter.gauge()).isCloseTo(0.302372, within(1e-6));
    assertThat(scatter.parts()).isCloseTo(1.042327, within(1e-6));
    assertThat(100 * scatter.ofTotal(scatter.gauge())).isCloseTo(27.9, within(0.05));
    assertThat(scatter.categories()).isEqualTo(4);
  }

  @Test
  void orderOfTheReadingsDoesNotMatter() {
    List<Measured> turned = new ArrayList<>(published());
    Collections.reverse(turned);

    assertThat(CrossedStudy.of(turned).analysis().scatter().gauge())
        .isCloseTo(CrossedStudy.of(published()).analysis().scatter().gauge(), within(1e-12));
  }

  /** Method: readings made of known parts, among them persons who read some parts differently. */
  @Test
  void interactionThatIsThereIsKeptAndCountedToThePersons() {
    Random random = new Random(5);
    List<Measured> readings = new ArrayList<>();
    for (int part = 0; part < 60; part++) {
      double level = 10 * random.nextGaussian();
      for (int person = 0; person < 12; person++) {
        double own = 2 * random.nextGaussian();
        for (int trial = 0; trial < 3; trial++) {
          readings.add(new Measured("p" + part, "a" + person, level + own + random.nextGaussian()));
        }
      }
    }
    Analysis analysis = CrossedStudy.of(readings).analysis();

    assertThat(analysis.pooled()).isFalse();
    assertThat(analysis.scatter().repeatability()).isCloseTo(1, within(0.06));
    assertThat(analysis.scatter().reproducibility()).isCloseTo(2, within(0.2));
    assertThat(analysis.scatter().parts()).isCloseTo(10, within(2.0));
  }

  @Test
  void oneAppraiserLeavesRepeatabilityAlone() {
    List<Measured> one =
        published().stream().filter(reading -> reading.appraiser().equals("A")).toList();

    Analysis analysis = CrossedStudy.of(one).analysis();
    assertThat(analysis.scatter().reproducibility()).isZero();
    assertThat(CrossedStudy.of(one).averageAndRange().reproducibility()).isZero();
    assertThat(analysis.scatter().repeatability()).isGreaterThan(0);
  }

  @Test
  void oneMagnetMakesNoCrossedStudy() {
    List<Measured> one =
        published().stream().filter(reading -> reading.part().equals("part 1")).toList();

    assertThatThrownBy(() -> CrossedStudy.of(one))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("needs 2 to 1000 magnets")
        .hasMessageContaining("it has 1 magnet and 3 persons");
  }

  @Test
  void unevenStudyIsRefusedByNameOfPersonAndPart() {
    List<Measured> uneven = new ArrayList<>(published());
    uneven.remove(uneven.size() - 1);

    assertThatThrownBy(() -> CrossedStudy.of(uneven))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("C has read part 10 2 times, where 3 are asked");
  }

  /** d₂ and d₃ as handbooks print them (ISO 7870-2 and ASTM MNL 7, from memory). */
  @Against(Against.Kind.FROM_MEMORY)
  @ParameterizedTest
  @CsvSource({
    "2, 1.128, 0.853",
    "3, 1.693, 0.888",
    "4, 2.059, 0.880",
    "5, 2.326, 0.864",
    "10, 3.078, 0.797",
    "25, 3.931, 0.708"
  })
  void rangeConstantsAreTheTablesOfHandbooks(int n, double mean, double deviation) {
    assertThat(RangeConstants.of(n).mean()).isCloseTo(mean, within(5.1e-4));
    assertThat(RangeConstants.of(n).deviation()).isCloseTo(deviation, within(5.1e-4));
  }

  /** The manual's K₁ (one over d₂), K₂ and K₃ (one over the d₂ of one sample). */
  @Test
  void rangeConstantsAreTheManuals() {
    assertThat(1 / RangeConstants.of(2).mean()).isCloseTo(0.8862, within(5e-5));
    assertThat(1 / RangeConstants.of(3).mean()).isCloseTo(0.5908, within(5e-5));
    assertThat(1 / RangeConstants.of(2).ofOneSample()).isCloseTo(0.7071, within(5e-5));
    assertThat(1 / RangeConstants.of(3).ofOneSample()).isCloseTo(0.5231, within(5e-5));
    assertThat(1 / RangeConstants.of(10).ofOneSample()).isCloseTo(0.3146, within(5e-5));
  }

  @Test
  void sixDeviationsAreComparedWithTheWholeTolerance() {
    assertThat(Scatter.ofTolerance(0.5, 10)).isCloseTo(0.15, within(1e-12));
    assertThat(Scatter.verdict(0.0999)).isEqualTo("good");
    assertThat(Scatter.verdict(0.15)).isEqualTo("of limited use");
    assertThat(Scatter.verdict(0.31)).isEqualTo("not fit");
  }

  @Test
  void placementScatterIsPooledOverMagnetsInProportionToTheirLevels() {
    PlacementStudy study =
        new PlacementStudy(
            List.of(
                new PlacementStudy.Seated("weak", List.of(198.0, 200.0, 202.0, 199.0, 201.0)),
                new PlacementStudy.Seated(
                    "strong", List.of(-396.0, -400.0, -404.0, -398.0, -402.0))));

    // By hand: squares 10 on 200 and 40 on 400, four degrees of freedom each; relative 2.5 in 200².
    assertThat(study.seating().value()).isCloseTo(Math.sqrt(2.5) / 200, within(1e-12));
    assertThat(study.seating().degreesOfFreedom()).isEqualTo(8);
    // Chi-squared with 8 degrees of freedom is below 2.733 with 5 per cent (any table).
    assertThat(study.seatingAtMost())
        .isCloseTo(study.seating().value() * Math.sqrt(8 / 2.733), within(1e-6));
    assertThat(study.magnets().get(0).range()).isEqualTo(4);
  }

  @Test
  void placementStudySeesAMagnetThatMovesOneWay() {
    List<Measured> warming = new ArrayList<>();
    for (int seating = 0; seating < 8; seating++) {
      warming.add(new Measured("m", "", 420 - 0.4 * seating));
    }

    assertThat(PlacementStudy.of(warming).magnets().get(0).patterns())
        .extracting(IndividualsChart.Signal::rule)
        .contains(ChartRule.TREND);
  }

  @Test
  void fewSeatingsAreRefused() {
    assertThatThrownBy(
            () -> PlacementStudy.of(List.of(new Measured("m", "", 1), new Measured("m", "", 2))))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("m was seated 2 times");
  }
}
