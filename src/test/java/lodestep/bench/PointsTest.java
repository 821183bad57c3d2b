package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.magnet.Shape;
import lodestep.measure.Seating;
import lodestep.measure.SettledReading;
import lodestep.port.GaugeEvent.PointRead;
import lodestep.port.GaugeEvent.PointsJudged;
import lodestep.port.GaugeEvent.PointsStarted;
import lodestep.port.HandAsk;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;

/**
 * Goal: a reading says where it was taken, and the figure that the plan names is the one judged.
 */
class PointsTest {

  private static final RigConfig RIG = ReferenceRig.virtual();
  private static final Shape BAR =
      new Shape.Bar(Length.ofMm(60), Length.ofMm(11.5), Length.ofMm(3.1), Shape.Axis.THROUGH_WIDTH);
  private static final Shape ROD = new Shape.Rod(Length.ofMm(5.1), Length.ofMm(18));

  private static PointSeries series(String at, String counts, double targetGauss) {
    return new PointSeries(
        new PointSeries.Subject(
            7,
            "wren",
            BAR,
            targetGauss > 0,
            FluxDensity.ofGauss(targetGauss),
            FluxDensity.ofGauss(8)),
        PointsAsked.read(at, counts),
        RIG.nest("bar nest"),
        Seating.usual());
  }

  private static PointsJudged judged(PointSeries series, double... gauss) {
    List<SettledReading> readings =
        java.util.Arrays.stream(gauss)
            .mapToObj(
                reading ->
                    new SettledReading(
                        FluxDensity.ofGauss(reading), FluxDensity.ofGauss(0.3), 50, 60))
            .toList();
    return series.judged(3, readings);
  }

  @Test
  void readsWhatAPlanSays() {
    PointsAsked asked = PointsAsked.read(" 1/6;Middle ; 5 / 6 ; both faces", "mean of both faces");

    assertThat(asked.points())
        .extracting(PointsAsked.Point::words)
        .containsExactly("1/6", "middle", "5/6");
    assertThat(asked.points().get(0).alongMetres(BAR)).isCloseTo(-0.020, within(1e-12));
    assertThat(asked.points().get(2).alongMetres(BAR)).isCloseTo(0.020, within(1e-12));
    assertThat(asked.bothFaces()).isTrue();
    assertThat(PointsAsked.read(asked.words(), asked.counts().words())).isEqualTo(asked);
    assertThat(PointsAsked.read("2/4, 1/3", "").points().get(0).words()).isEqualTo("middle");
    assertThat(PointsAsked.read("middle; strings face", "").bothFaces()).isFalse();
  }

  @Test
  void refusesWhatCannotBeReadOrCannotCount() {
    isRefused("midle", "", "did you mean 'middle'?");
    isRefused("7/6", "", "'7/6' is no point");
    isRefused("0/6", "", "no point");
    isRefused("1/6; 2/12", "", "there twice");
    isRefused("1/6; 5/6", "", "the middle cannot count, since it is not read");
    isRefused("middle; 1/6", "mean of both faces", "only the strings face is read");
    isRefused("middle", "most", "no figure that can count");
    isRefused("both faces", "", "name 1 to");
    assertThat(PointsAsked.read("1/6; middle", "").objection(ROD).orElseThrow())
        .contains("no edge to be read along");
    assertThat(PointsAsked.usual(ROD).objection(ROD)).isEmpty();
    assertThat(PointsAsked.usual(BAR).points()).hasSize(3);
  }

  private static void isRefused(String at, String counts, String why) {
    assertThatIllegalArgumentException()
        .isThrownBy(() -> PointsAsked.read(at, counts))
        .withMessageContaining(why);
  }

  @Test
  void planOnRecordSaysWhereItsMagnetIsRead() {
    String plan =
        """
        name,alloy,shape,size,pole up,target,tolerance,read at,counts
        a,alnico 5,bar,60 x 11.5 x 3.1 mm,north,240 G,8 G,,
        b,alnico 5,bar,60 x 11.5 x 3.1 mm,north,240 G,8 G,1/4; 3/4,least
        """;

    assertThat(PointsAsked.planned(plan, 2)).isEmpty();
    assertThat(PointsAsked.planned(plan, 3).orElseThrow())
        .isEqualTo(PointsAsked.read("1/4; 3/4", "least"));
    assertThat(PointsAsked.planned("", 2)).isEmpty();
  }

  /** By hand: (250 + 240 + 254 + 251 + 241 + 252) / 6 = 248, and so on. */
  @Test
  void figureThatCountsIsThePlans() {
    String at = "1/6; middle; 5/6; both faces";
    double[] read = {250, 240, 254, -251, -241, -252};

    assertThat(judged(series(at, "", 240), read).fieldMicroTesla()).isEqualTo(24_000);
    assertThat(judged(series(at, "middle of the other face", 240), read).fieldMicroTesla())
        .isEqualTo(24_100);
    assertThat(judged(series(at, "mean", 240), read).fieldMicroTesla()).isEqualTo(24_800);
    assertThat(judged(series(at, "mean of both faces", 240), read).fieldMicroTesla())
        .isEqualTo(24_800);
    assertThat(judged(series(at, "middle of both faces", 240), read).fieldMicroTesla())
        .isEqualTo(24_050);
    assertThat(judged(series(at, "least of both faces", 240), read).fieldMicroTesla())
        .isEqualTo(24_000);
    PointsJudged south =
        judged(series(at, "least of the other face", -240), -250, -240, -254, 251, 241, 252);
    assertThat(south.fieldMicroTesla()).isEqualTo(-24_100);
    assertThat(south.leastMicroTesla()).isEqualTo(24_000);
    assertThat(south.mostMicroTesla()).isEqualTo(25_400);
    assertThat(south.inside()).isTrue();
  }

  /**
   * By hand: √(0.3² + (0.0015 · 240)²) = 0.469 G for one, √(0.3² + 0.36²/3) = 0.365 G for three.
   */
  @Test
  void uncertaintyCountsThePlacingOfEachReading() {
    String at = "1/6; middle; 5/6";

    assertThat(judged(series(at, "middle", 240), 250, 240, 254).uncertaintyNanoTesla())
        .isBetween(46_800L, 47_000L);
    assertThat(judged(series(at, "mean", 240), 240, 240, 240).uncertaintyNanoTesla())
        .isBetween(36_400L, 36_700L);
    // 8 G less 2 · 0.469 G: 247.0 G is proven inside, 247.1 G is not.
    assertThat(judged(series("middle", "", 240), 247.0).inside()).isTrue();
    assertThat(judged(series("middle", "", 240), 247.1).inside()).isFalse();
    assertThat(judged(series("middle", "", 240), 247.1).why())
        .contains("not proven inside 240.0 G");
  }

  @Test
  void wrongFaceIsSeenByItsPole() {
    PointSeries series = series("1/4; middle; both faces", "mean", 240);
    ToldGauge bench =
        new ToldGauge(
            SeriesJob.begin(
                series.work(RIG, ToldGauge.CALIBRATION),
                List.of(new LedgerEvent.CalibrationSet(500_000, 0, 0, 0, ""))));
    bench.step();
    bench.done(0);
    assertThat(bench.job.sentence())
        .contains("15.00 mm from its left end (1/4)", "strings face (north)");
    bench.done(-250);
    assertThat(bench.job.cue().ask()).isEqualTo(HandAsk.LOOK);
    assertThat(bench.job.sentence()).contains("a south pole", "turn it over");
    bench.done(250);
    assertThat(bench.job.cue().ask()).isEqualTo(HandAsk.SEAT);
    assertThat(bench.job.sentence()).contains("shift it", "under its middle");
    bench.done(240);
    assertThat(bench.job.cue().ask()).isEqualTo(HandAsk.TAKE_OUT);
    bench.reads(0, 0.1);
    bench.done(-251);
    bench.done(-242);

    assertThat(bench.job.over()).isTrue();
    assertThat(bench.all(PointsStarted.class))
        .singleElement()
        .extracting("faces")
        .isEqualTo("both");
    assertThat(bench.all(PointRead.class))
        .extracting(PointRead::face)
        .containsExactly("strings", "strings", "other", "other");
    assertThat(bench.all(PointRead.class))
        .extracting(PointRead::alongMicroMetres)
        .containsExactly(-15_000L, 0L, -15_000L, 0L);
    assertThat(bench.all(PointsJudged.class))
        .singleElement()
        .satisfies(judged -> assertThat(judged.fieldMicroTesla()).isBetween(24_490L, 24_510L));
  }
}
