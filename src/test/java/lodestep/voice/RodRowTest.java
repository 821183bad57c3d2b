package lodestep.voice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import lodestep.magnet.Against;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Figure;
import lodestep.magnet.Flux;
import lodestep.magnet.FluxSource;
import lodestep.magnet.Place;
import lodestep.magnet.Shape;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;

/** Goal: rods in a row add up as fields do, and weaken one another as dipoles do. */
class RodRowTest {

  private static final Shape.Rod ROD = new Shape.Rod(Length.ofMm(4.6), Length.ofMm(15.5));
  private static final LevelField LEVEL =
      new LevelField(
          FaceModel.of(AlloyBook.standard().find("alnico 2").orElseThrow(), ROD), Length.ofMm(1.4));

  private static RodRow row(double pitchMm, boolean... north) {
    Boolean[] up = new Boolean[north.length];
    for (int at = 0; at < up.length; at++) {
      up[at] = north[at];
    }
    FluxDensity dialed = LEVEL.part(0.6);
    return new RodRow(
        Arrays.stream(up).map(each -> new RodRow.Rod(LEVEL, dialed, 1, each)).toList(),
        Length.ofMm(pitchMm));
  }

  /**
   * A dipole's field at its equator is -&mu;0 m/(4&pi;r&sup3;) (any textbook of electrodynamics,
   * from memory): far apart, two equal rods come to J = J0/(1 + &chi;'V/(4&pi;r&sup3;)), &chi;' =
   * &chi;/(1 + N&chi;).
   */
  @Test
  @Against(Against.Kind.ANOTHER_WAY)
  void weakenOneAnotherAsTwoDipolesDo() {
    double chi = LEVEL.kind().alloy().figure(Figure.RECOIL) - 1;
    double apparent = chi / (1 + chi * ROD.demagnetisingFactor());
    double metres = 0.12;
    double expected =
        1 / (1 + apparent * ROD.volumeCubicMetres() / (4 * Math.PI * Math.pow(metres, 3)));

    double part = row(120, true, true).parts().get(0);

    assertThat(1 - part).isCloseTo(1 - expected, within(0.03 * (1 - expected)));
    double turned = row(120, true, false).parts().get(0);
    assertThat(turned - 1).isCloseTo(1 - expected, within(0.03 * (1 - expected)));
  }

  /** Each rod's own source, moved to its place and added by hand. */
  @Test
  @Against(Against.Kind.ANOTHER_WAY)
  void addsTheFieldsOfAllRodsAtAString() {
    RodRow row = row(10.2, true, true, false);
    FluxSource one = LEVEL.at(LEVEL.part(0.6));
    double half = 0.5 * ROD.length().metres();
    Place asked = new Place(1e-3, 0.5e-3, 2.4e-3);

    Flux sum = Flux.NONE;
    List<Double> parts = row.parts();
    for (int rod = 0; rod < 3; rod++) {
      double along = (1 - rod) * 10.2e-3;
      Flux own = one.at(asked.moved(0, along, half));
      sum = sum.plus(own.times((rod == 2 ? -1 : 1) * parts.get(rod)));
    }

    Flux seen = row.above(1).at(asked);
    assertThat(seen.xTesla()).isCloseTo(sum.xTesla(), within(1e-12));
    assertThat(seen.yTesla()).isCloseTo(sum.yTesla(), within(1e-12));
    assertThat(seen.zTesla()).isCloseTo(sum.zTesla(), within(1e-12));
  }

  /** As close as they stand in a pickup, all of one pole. */
  @Test
  void countsForSomePerCentInAPickup() {
    List<Double> parts = row(10.2, true, true, true, true, true, true).parts();

    assertThat(parts.get(0)).isBetween(0.90, 0.99);
    assertThat(parts.get(2)).isLessThan(parts.get(0));
    assertThat(parts.get(5)).isCloseTo(parts.get(0), within(1e-9));
    assertThat(row(10.2, true).parts().get(0)).isEqualTo(1);
  }

  @Test
  void saysWhenNeighboursTakeMoreThanWasKnockedDown() {
    PickupField six =
        new PickupField(
            LEVEL, 6, Length.ofMm(10.2), Optional.empty(), Collections.nCopies(6, true));

    assertThat(six.range(LEVEL.full())).contains("not knocked down at all");
    assertThat(six.range(LEVEL.part(0.6))).doesNotContain("loses more for good");
    assertThatThrownBy(
            () ->
                new PickupField(
                    LEVEL, 2, Length.ofMm(4), Optional.empty(), Collections.nCopies(2, true)))
        .hasMessageContaining("4.60 mm do not stand 4.00 mm from one another");
  }
}
