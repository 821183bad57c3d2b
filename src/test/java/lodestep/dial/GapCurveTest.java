package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import lodestep.config.JigConfig;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;
import org.junit.jupiter.api.Test;

/** The jig's field against the gap: against an outside formula, and as the gauge corrects it. */
class GapCurveTest {

  private static final JigConfig RIG =
      new JigConfig(
          new JigConfig.Screw(Length.ofMm(2), 1600, Length.ofMm(78), Length.ofMm(2), 8),
          new JigConfig.Opposing(Length.ofMm(22), Length.ofMm(14), new FluxDensity(1.26), false),
          Length.ofMm(92),
          Length.ofMm(3),
          new Length(6),
          Temperature.ofDegC(60));
  private static final Length STAND_OFF = Length.ofMm(2);

  /**
   * Outside check: the field on the axis of a thin solenoid as the sum of its current loops, B = µ0
   * I r² / (2 (r² + z²)^1.5) for each (Biot and Savart's law, any textbook of electrodynamics),
   * summed by Hipparchus's Gauss quadrature. A uniformly charged cylinder is such a solenoid with
   * the sheet current J/µ0. The program's own formula sums two charged discs.
   */
  @Test
  void agreesWithTheFieldOfASheetOfCurrentLoops() {
    double radius = 11e-3;
    double length = 14e-3;
    double polarisation = GapCurve.magnet(RIG).polarisationTesla();
    for (double distance : new double[] {3e-3, 8e-3, 20e-3, 60e-3}) {
      double loops =
          new GaussIntegratorFactory()
              .legendre(60, distance, distance + length)
              .integrate(z -> radius * radius / (2 * Math.pow(radius * radius + z * z, 1.5)));

      assertThat(GapCurve.gaugeTesla(GapCurve.magnet(RIG), distance))
          .isCloseTo(polarisation * loops, within(1e-9));
    }
  }

  /** The polarisation in air is a few per cent below the remanence, as for every hard magnet. */
  @Test
  void takesThePolarisationALittleBelowTheRemanence() {
    assertThat(GapCurve.magnet(RIG).polarisationTesla()).isBetween(1.2, 1.26);
  }

  private static List<GapCurve.Station> seen(double strength, double height, double sign) {
    List<GapCurve.Station> stations = new ArrayList<>();
    for (double mm : new double[] {2, 20, 40, 52, 62, 70, 76}) {
      double distance = (92 + height - mm + 2) * 1e-3;
      double tesla = sign * strength * GapCurve.gaugeTesla(GapCurve.magnet(RIG), distance);
      // An offset of the converter, the same at every height, is not the magnet's.
      stations.add(new GapCurve.Station(Length.ofMm(mm), new FluxDensity(tesla + 7e-4)));
    }
    return stations;
  }

  @Test
  void findsStrengthHeightAndStrayFieldUnderAnOffset() {
    GapCurve curve =
        GapCurve.measured(RIG, STAND_OFF, seen(0.93, 0.8, -1)).fits().orElseThrow().curve();

    assertThat(curve.strength()).isCloseTo(0.93, within(0.005));
    assertThat(curve.heightMetres()).isCloseTo(0.8e-3, within(0.05e-3));
    double stray = 0.93 * GapCurve.gaugeTesla(GapCurve.magnet(RIG), 92.8e-3);
    assertThat(curve.stray().tesla()).isCloseTo(-stray, within(3e-6));
  }

  @Test
  void saysThatTheMagnetIsTheWrongWayRoundOrNotThere() {
    assertThat(why(seen(1, 0, 1))).contains("the wrong way round", "south");
    assertThat(why(seen(0, 0, -1))).contains("0 % of the field", "carriage");
    assertThat(why(seen(1.6, 0, -1))).contains("remanence");
  }

  private static String why(List<GapCurve.Station> stations) {
    return ((GapCurve.Measured.Refused) GapCurve.measured(RIG, STAND_OFF, stations)).why();
  }

  @Test
  void movesAndScalesTheFieldsToldAsItWasMeasured() {
    Length work = Length.ofMm(16);
    List<Double> told = GapCurve.told(RIG, work);
    List<Double> plain = GapCurve.TOLD.fields(told);
    List<Double> corrected =
        new GapCurve(0.9, 0.5e-3, new FluxDensity(0), Optional.empty()).fields(told);
    for (int i = 20; i < plain.size(); i++) {
      // Half a millimetre higher is two spacings earlier on the way down.
      assertThat(corrected.get(i)).isCloseTo(0.9 * plain.get(i - 2), within(plain.get(i) * 1e-3));
    }
    FieldStrength lowest = GapCurve.magnet(RIG).meanFieldThrough(Length.ofMm(3), work);
    assertThat(plain.get(plain.size() - 2))
        .isCloseTo(lowest.amperesPerMetre(), within(0.05 * lowest.amperesPerMetre()));
  }

  /** One place of a quarter millimetre after another, twelve before home and behind the lowest. */
  @Test
  void tellsTheFieldAtEachPlace() {
    Length work = Length.ofMm(16);
    List<Double> told = GapCurve.told(RIG, work);

    // The lowest place is 3 mm above the work, 73 mm from home: 292 places and home, and one more.
    assertThat(told).hasSize(294 + 24).isSorted();
    assertThat(told.get(12)).isEqualTo(fieldAtGap(76));
    assertThat(told.get(0)).isEqualTo(fieldAtGap(79));
    assertThat(told.get(12 + 292)).isCloseTo(fieldAtGap(3), within(1e-6));
    // Nothing comes nearer than touching.
    assertThat(told.get(told.size() - 1)).isCloseTo(fieldAtGap(0), within(1e-6));
  }

  private static double fieldAtGap(double mm) {
    return GapCurve.magnet(RIG)
        .meanFieldThrough(Length.ofMm(mm), Length.ofMm(16))
        .amperesPerMetre();
  }

  /** Doubles every 32 places, from 1,000 at home: 12 more on each side of forty. */
  private static final List<Double> DOUBLING =
      IntStream.range(-12, 52).mapToObj(place -> 1000 * Math.pow(2, place / 32.0)).toList();

  private static void assertMoved(double heightMetres, double strength) {
    List<Double> fields =
        new GapCurve(strength, heightMetres, new FluxDensity(0), Optional.empty()).fields(DOUBLING);
    assertThat(fields).hasSize(40);
    for (int place = 0; place < 40; place++) {
      assertThat(fields.get(place))
          .isCloseTo(
              strength * 1000 * Math.pow(2, (place - heightMetres / 250e-6) / 32),
              withinPercentage(0.01));
    }
  }

  @Test
  void movesByAnyHeightItCanMeasure() {
    assertMoved(0, 1);
    assertMoved(0.4e-3, 0.8);
    assertMoved(-0.4e-3, 1.2);
    assertMoved(3e-3, 1);
    assertMoved(-3e-3, 1);
  }

  @Test
  void staysOnWhatWasToldBeyondIt() {
    List<Double> up = new GapCurve(1, 5e-3, new FluxDensity(0), Optional.empty()).fields(DOUBLING);
    List<Double> down =
        new GapCurve(1, -5e-3, new FluxDensity(0), Optional.empty()).fields(DOUBLING);

    assertThat(up.get(0)).isEqualTo(DOUBLING.get(0));
    assertThat(down.get(39)).isCloseTo(DOUBLING.get(63), withinPercentage(0.01));
  }

  @Test
  void takesAStrengthFromSixTenthsToSevenFifths() {
    assertThat(GapCurve.measured(RIG, STAND_OFF, seen(0.62, 0, -1)).fits()).isPresent();
    assertThat(why(seen(0.58, 0, -1))).contains("shows 58 % of the field");
    assertThat(GapCurve.measured(RIG, STAND_OFF, seen(1.38, 0, -1)).fits()).isPresent();
    assertThat(why(seen(1.42, 0, -1))).contains("shows 142 % of the field");
    assertThat(why(seen(0.58, 0, 1))).contains("shows -58 % of the field");
    assertThat(why(seen(0.62, 0, 1))).contains("the wrong way round");
  }

  @Test
  void readsANorthFaceTheOtherWayRound() {
    JigConfig north =
        new JigConfig(
            RIG.screw(),
            new JigConfig.Opposing(Length.ofMm(22), Length.ofMm(14), new FluxDensity(1.26), true),
            RIG.heightAtHome(),
            RIG.smallestGap(),
            RIG.budget(),
            RIG.temperatureMax());

    GapCurve curve =
        GapCurve.measured(north, STAND_OFF, seen(0.9, 0, 1)).fits().orElseThrow().curve();
    assertThat(curve.strength()).isCloseTo(0.9, within(0.005));
    assertThat(curve.stray().tesla())
        .isCloseTo(0.9 * GapCurve.gaugeTesla(GapCurve.magnet(RIG), 92e-3), within(3e-6));
    assertThat(
            ((GapCurve.Measured.Refused) GapCurve.measured(north, STAND_OFF, seen(0.9, 0, -1)))
                .why())
        .contains("the wrong way round", "its north face");
  }

  @Test
  void findsHeightsOfBothSigns() {
    for (double mm : new double[] {-2.9, -1, 0, 1, 2.9}) {
      GapCurve curve =
          GapCurve.measured(RIG, STAND_OFF, seen(1, mm, -1)).fits().orElseThrow().curve();

      assertThat(curve.heightMetres()).isCloseTo(mm * 1e-3, within(0.03e-3));
      assertThat(curve.strength()).isCloseTo(1, within(0.005));
    }
  }

  /** Seven readings and three figures fitted leave four: the scatter is that of single readings. */
  @Test
  void countsTheScatterOfTheReadingsAsUncertainty() {
    List<GapCurve.Station> rough = new ArrayList<>();
    double[] off = {10e-6, -10e-6, -10e-6, 10e-6, 10e-6, -10e-6, 0};
    for (GapCurve.Station station : seen(1, 0, -1)) {
      double tesla = station.seen().tesla() + off[rough.size()];
      rough.add(new GapCurve.Station(station.position(), new FluxDensity(tesla)));
    }

    assertThat(fits(rough).strayUncertainty().tesla()).isBetween(8e-6, 13e-6);
    assertThat(fits(seen(1, 0, -1)).strayUncertainty().tesla()).isLessThan(1e-6);
    // Four readings leave one.
    assertThat(
            fits(List.of(rough.get(0), rough.get(1), rough.get(2), rough.get(5)))
                .strayUncertainty()
                .tesla())
        .isBetween(1e-6, 30e-6);
  }

  private static GapCurve.Measured.Fits fits(List<GapCurve.Station> stations) {
    return GapCurve.measured(RIG, STAND_OFF, stations).fits().orElseThrow();
  }

  @Test
  void readsNoMoreThanTheFaceItself() {
    assertThat(GapCurve.gaugeTesla(GapCurve.magnet(RIG), -1e-3))
        .isEqualTo(GapCurve.gaugeTesla(GapCurve.magnet(RIG), 0));
  }

  @Test
  void fitsNoHeightThatIsNoMistakeInMounting() {
    assertThat(fits(seen(1, 3.4, -1)).curve().heightMetres()).isCloseTo(3e-3, within(1e-9));
    assertThat(fits(seen(1, -3.4, -1)).curve().heightMetres()).isCloseTo(-3e-3, within(1e-9));
  }

  // A magnet left in a nest that is to be empty.

  private static boolean seesMore(double... mmAndTesla) {
    List<GapCurve.Station> stations = new ArrayList<>();
    for (int i = 0; i < mmAndTesla.length; i += 2) {
      stations.add(
          new GapCurve.Station(Length.ofMm(mmAndTesla[i]), new FluxDensity(mmAndTesla[i + 1])));
    }
    return GapCurve.moreThanTheJig(RIG, STAND_OFF, stations);
  }

  /** By Biot and Savart's law (see above) the strongest such jig, 3 mm lower, at this position. */
  private static double strongest(double mm) {
    double near = (92 - 3 - mm + 2) * 1e-3;
    double loops =
        new GaussIntegratorFactory()
            .legendre(60, near, near + 14e-3)
            .integrate(z -> 11e-3 * 11e-3 / (2 * Math.pow(11e-3 * 11e-3 + z * z, 1.5)));
    return 1.4 * GapCurve.magnet(RIG).polarisationTesla() * loops;
  }

  /** A Hall element's own offset and the room may make 5 mT of it. */
  @Test
  void seesAMagnetInTheNestByTheFirstReadingAlone() {
    assertThat(seesMore(2, strongest(2) + 5e-3 + 1e-5)).isTrue();
    assertThat(seesMore(2, -(strongest(2) + 5e-3 + 1e-5))).isTrue();
    assertThat(seesMore(2, strongest(2) + 5e-3 - 1e-5)).isFalse();
    assertThat(seesMore(2, -(strongest(2) + 5e-3 - 1e-5))).isFalse();
  }

  /** What was there at the first height is in both; noise and wander between them make 2 mT. */
  @Test
  void seesAMagnetInTheNestByWhatTheReadingHasGrownByOnTheWayDown() {
    double grown = strongest(62) + 2e-3;

    assertThat(seesMore(2, 4e-3, 40, 5e-3, 62, 4e-3 + grown + 1e-5)).isTrue();
    assertThat(seesMore(2, 4e-3, 40, 5e-3, 62, 4e-3 - grown - 1e-5)).isTrue();
    assertThat(seesMore(2, 4e-3, 40, 5e-3, 62, 4e-3 + grown - 1e-5)).isFalse();
    assertThat(seesMore(2, 4e-3, 40, 5e-3, 62, 4e-3 - grown + 1e-5)).isFalse();
  }
}
