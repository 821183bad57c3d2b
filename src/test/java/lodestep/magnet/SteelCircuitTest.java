package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import lodestep.quantity.Length;
import lodestep.voice.SteelString;
import lodestep.voice.StringPull;
import org.junit.jupiter.api.Test;

/** Goal: bars between soft steel make the field that others find. */
class SteelCircuitTest {

  /** Moment of bodies in an even field along z, over field and volume. */
  private static double polarizability(SteelBody body, double volume) {
    SteelCharges steel = new SteelCharges(List.of(List.of(body)));
    double[] given = steel.means(place -> -place.zMetres());
    double[] charges = steel.undoing(given);
    double moment = 0;
    for (int at = 0; at < charges.length; at++) {
      moment -= charges[at] * given[at];
    }
    return moment / volume;
  }

  /**
   * A cube of endless permeability: 3.6443. J. Helsing, K.-M. Perfekt, Appl. Comput. Harmon. Anal.
   * 34, 445 (2013), from memory.
   */
  @Against(Against.Kind.FROM_MEMORY)
  @Test
  void aCubeOfSteelIsPolarisedAsPublished() {
    double alpha = polarizability(new SteelBody.Plate(new Place(0, 0, 0), 1e-2, 1e-2, 1e-2), 8e-6);

    assertThat(alpha).isCloseTo(3.6443, within(0.04));
  }

  /**
   * A post 3.4 times as long as thick: its demagnetising factor at a susceptibility of 1000 is
   * 0.0801 by finite elements around the axis, worked out beforehand.
   */
  @Against(Against.Kind.COMPUTED)
  @Test
  void aPostOfSteelIsPolarisedAsFiniteElementsSay() {
    SteelBody.Post post = new SteelBody.Post(new Place(0, 0, -8.5e-3), 2.5e-3, 17e-3);
    double volume = Math.PI * 2.5e-3 * 2.5e-3 * 17e-3;

    double alpha = polarizability(post, volume);

    assertThat(1 / alpha).isCloseTo(0.0801, within(0.0016));
  }

  /** A law: steel near a magnet is polarised and not charged. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void chargesUndoTheGivenPotentialWithNoNetCharge() {
    SteelBody.Post one = new SteelBody.Post(new Place(0, 0, 0), 2.4e-3, 14e-3);
    SteelBody.Post other = new SteelBody.Post(new Place(0, 10e-3, 0), 2.4e-3, 14e-3);
    SteelCharges steel = new SteelCharges(List.of(List.of(one), List.of(other)));
    PlacedBar bar = new PlacedBar(new Place(8e-3, 0, 2e-3), 5e-3, 20e-3, 1.5e-3, false, 1);

    double[] charges = steel.undoing(steel.means(bar::potentialAt));
    for (SteelCharges.Body body : steel.bodies(charges)) {
      double net = 0;
      double size = 0;
      for (double charge : body.charges()) {
        net += charge;
        size += Math.abs(charge);
      }
      assertThat(net).isCloseTo(0, within(1e-9 * size));
    }
  }

  /** A bar's potential falls as its field says: central differences against the closed form. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void aBarsPotentialFallsAsItsField() {
    for (boolean upright : new boolean[] {true, false}) {
      PlacedBar bar = new PlacedBar(new Place(1e-3, 2e-3, 3e-3), 6e-3, 25e-3, 2e-3, upright, -1);
      Place place = new Place(9e-3, -4e-3, 8e-3);
      Flux flux = bar.perTesla().at(place);
      double step = 1e-6;

      assertThat(-slope(bar, place, step, 0, 0)).isCloseTo(flux.xTesla(), within(1e-6));
      assertThat(-slope(bar, place, 0, step, 0)).isCloseTo(flux.yTesla(), within(1e-6));
      assertThat(-slope(bar, place, 0, 0, step)).isCloseTo(flux.zTesla(), within(1e-6));
    }
  }

  private static double slope(PlacedBar bar, Place place, double x, double y, double z) {
    double step = Math.max(x, Math.max(y, z));
    return (bar.potentialAt(place.moved(x, y, z)) - bar.potentialAt(place.moved(-x, -y, -z)))
        / (2 * step);
  }

  /**
   * What finite elements found.
   *
   * @param mean polarisation of the bars, in mT, as are the fields along z
   * @param near 2 mm above an inner pole
   * @param inner 3 mm above it
   * @param outer 3 mm above the outermost
   * @param other 3 mm above the last but one, of the other row where there is one
   * @param inPole half way up an inner pole
   * @param falls of the field at 3 mm above an inner pole and the outermost, in T/m: {@link
   *     SteelCase#gradient}
   * @param pulls there, in mT&sup2;/m: {@link SteelCase#pull}
   */
  private record Theirs(
      double mean,
      double near,
      double inner,
      double outer,
      double other,
      double inPole,
      List<Double> falls,
      List<Double> pulls) {}

  /**
   * Worked out beforehand by us with an independent program, gmsh and GetDP of Debian: {@link
   * SteelFiniteElementsTest}, which see.
   */
  @Against(Against.Kind.COMPUTED)
  @Test
  void barsBetweenSteelAreAsFiniteElementsSay() {
    assertAs(
        SteelCase.ROWS,
        new Theirs(
            683.0, 42.34, 32.54, 26.28, -31.64, 461, List.of(8.341, 7.395), List.of(6.652, 4.708)));
    assertAs(
        SteelCase.KEEPER,
        new Theirs(
            703.8, 50.94, 39.12, 32.42, -36.03, 507, List.of(9.728, 8.951), List.of(8.818, 8.661)));
    assertAs(
        SteelCase.SIDES,
        new Theirs(
            623.8,
            77.84,
            60.24,
            64.68,
            60.59,
            792,
            List.of(15.414, 18.206),
            List.of(12.296, 15.142)));
    assertAs(
        SteelCase.UNDER,
        new Theirs(
            429.9, 35.92, 28.32, 27.60, 28.72, 314, List.of(6.437, 7.305), List.of(2.164, 2.491)));
  }

  private static void assertAs(SteelCase pickup, Theirs theirs) {
    SteelCircuit circuit = pickup.circuit();
    FluxSource ours = circuit.times(pickup.aloneTesla());
    double row = pickup.rowX();
    assertField(pickup.aloneTesla() * circuit.overAlone(), theirs.mean(), 0.04);
    assertField(ours.at(pickup.above(row, 0.5, 2)).zTesla(), theirs.near(), 0.04);
    assertField(ours.at(pickup.above(row, 0.5, 3)).zTesla(), theirs.inner(), 0.04);
    assertField(ours.at(pickup.above(row, 2.5, 3)).zTesla(), theirs.outer(), 0.09);
    assertField(ours.at(pickup.above(-pickup.otherX(), 1.5, 3)).zTesla(), theirs.other(), 0.04);
    for (int at = 0; at < 2; at++) {
      double pitches = at == 0 ? 0.5 : 2.5;
      assertField(
          1e-3 * pickup.gradient(ours, row, pitches),
          theirs.falls().get(at),
          at == 0 ? 0.04 : 0.09);
      // A string is pulled by the field's square: twice as far off.
      double pulled = pickup.pull(ours, pitches);
      assertField(pulled, theirs.pulls().get(at), at == 0 ? 0.10 : 0.16);
      assertThat(pulledOf(pickup, ours, pitches)).isCloseTo(pulled, within(0.03 * pulled));
    }
    // The most along any pole, and more than half way up.
    double most = pickup.aloneTesla() * circuit.steelTesla() * 1e3;
    assertThat(most).isBetween(theirs.inPole(), 1.6 * theirs.inPole());
  }

  /** What {@link StringPull} tells of the pull 3 mm up, in T&sup2;. */
  private static double pulledOf(SteelCase pickup, FluxSource ours, double pitches) {
    Place top = pickup.above(pickup.rowX(), pitches, 0);
    SteelString string = SteelString.plain(Length.ofMm(0.25), Length.ofMm(640), 329.6);
    StringPull pull =
        StringPull.of(
            place -> ours.at(place.moved(top.xMetres(), top.yMetres(), top.zMetres())),
            0,
            3e-3,
            0,
            string,
            0.25);
    return pull.pullNewtons() * 4e-7 * Math.PI / string.coreSquareMetres();
  }

  private static void assertField(double tesla, double milliTesla, double part) {
    assertThat(tesla * 1e3).isCloseTo(milliTesla, within(part * Math.abs(milliTesla)));
  }
}
