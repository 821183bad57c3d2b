package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
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
   * Finite elements (gmsh and GetDP of Debian: {@link SteelFiniteElementsTest}, steel of relative
   * permeability 1000, a bar whose every part follows its own recoil line), as worked out beforehand
   * by us with an independent program. A bar of 58 x 11.5 x 3.4 mm between two rows of 4.9 x 15 mm
   * posts, susceptibility 3, polarisation 1 T in no field: mean polarisation 683.0 mT; above an
   * inner pole 42.34 mT at 2 mm and 32.54 mT at 3 mm, above the outermost 26.28 mT, over the other
   * row -31.64 mT; along the string between the rows -29.52 mT.
   */
  @Against(Against.Kind.COMPUTED)
  @Test
  void aBarBetweenTwoRowsIsAsFiniteElementsSay() {
    double row = 5.75e-3 + 0.2e-3 + 2.45e-3;
    PlacedBar bar = new PlacedBar(new Place(0, 0, 0), 5.75e-3, 29e-3, 1.7e-3, false, 1);
    List<List<SteelBody>> steel = new ArrayList<>();
    posts(row, 10.2e-3, -1.7e-3, 15e-3).forEach(post -> steel.add(List.of(post)));
    posts(-row, 10.2e-3, -1.7e-3, 15e-3).forEach(post -> steel.add(List.of(post)));
    SteelCircuit circuit = SteelCircuit.of(List.of(bar), steel, 3);

    double alone = 1 / (1 + 3 * bar.demagnetisingFactor());
    assertThat(alone * circuit.overAlone()).isCloseTo(0.6830, within(0.04 * 0.6830));
    double top = -1.7e-3 + 15e-3;
    assertField(circuit.times(alone).at(new Place(row, 5.1e-3, top + 2e-3)).zTesla(), 42.34, 0.04);
    assertField(circuit.times(alone).at(new Place(row, 5.1e-3, top + 3e-3)).zTesla(), 32.54, 0.04);
    assertField(circuit.times(alone).at(new Place(row, 25.5e-3, top + 3e-3)).zTesla(), 26.28, 0.1);
    assertField(
        circuit.times(alone).at(new Place(-row, 15.3e-3, top + 3e-3)).zTesla(), -31.64, 0.04);
    assertField(circuit.times(alone).at(new Place(0, 5.1e-3, top + 3e-3)).xTesla(), -29.52, 0.07);
    assertThat(alone * circuit.steelTesla()).as("in a pole, half way up 0.461 T").isBetween(0.4, 0.6);
  }

  /**
   * Likewise a bar of 60 x 12 x 3.6 mm between a row of 4.9 x 14 mm posts and such a row through a
   * keeper of 60 x 6 x 4 mm, from another run: 703.8 mT; 50.94, 39.12, 32.42, -36.03, -33.41 mT.
   */
  @Against(Against.Kind.COMPUTED)
  @Test
  void aKeeperIsAsFiniteElementsSay() {
    PlacedBar bar = new PlacedBar(new Place(0, 0, 0), 6e-3, 30e-3, 1.8e-3, false, 1);
    double row = 6e-3 + 0.2e-3 + 2.45e-3;
    double other = -(6e-3 + 0.2e-3 + 3e-3);
    List<List<SteelBody>> steel = new ArrayList<>();
    posts(row, 10.2e-3, -1.8e-3, 14e-3).forEach(post -> steel.add(List.of(post)));
    List<SteelBody> kept = new ArrayList<>(posts(other, 10.2e-3, -1.8e-3, 14e-3));
    kept.add(new SteelBody.Plate(new Place(other, 0, 0), 3e-3, 30e-3, 2e-3));
    steel.add(kept);
    SteelCircuit circuit = SteelCircuit.of(List.of(bar), steel, 3);

    double alone = 1 / (1 + 3 * bar.demagnetisingFactor());
    double top = -1.8e-3 + 14e-3;
    assertThat(alone * circuit.overAlone()).isCloseTo(0.7038, within(0.04 * 0.7038));
    assertField(circuit.times(alone).at(new Place(row, 5.1e-3, top + 2e-3)).zTesla(), 50.94, 0.04);
    assertField(circuit.times(alone).at(new Place(row, 5.1e-3, top + 3e-3)).zTesla(), 39.12, 0.04);
    assertField(circuit.times(alone).at(new Place(row, 25.5e-3, top + 3e-3)).zTesla(), 32.42, 0.1);
    assertField(
        circuit.times(alone).at(new Place(other, 15.3e-3, top + 3e-3)).zTesla(), -36.03, 0.04);
    assertField(circuit.times(alone).at(new Place(0, 5.1e-3, top + 3e-3)).xTesla(), -33.41, 0.07);
  }

  private static List<SteelBody> posts(double x, double pitch, double foot, double length) {
    List<SteelBody> posts = new ArrayList<>();
    for (int at = 0; at < 6; at++) {
      posts.add(new SteelBody.Post(new Place(x, (at - 2.5) * pitch, foot), 2.45e-3, length));
    }
    return posts;
  }

  private static void assertField(double tesla, double milliTesla, double part) {
    assertThat(tesla * 1e3).isCloseTo(milliTesla, within(part * Math.abs(milliTesla)));
  }
}
