package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;

class PoleUpTest {

  @Test
  void isToldByTheSignOfAReadingAndGivesALevelThatSign() {
    assertThat(PoleUp.read(new FluxDensity(0.04))).isEqualTo(PoleUp.NORTH);
    assertThat(PoleUp.read(new FluxDensity(-0.04))).isEqualTo(PoleUp.SOUTH);
    assertThat(PoleUp.SOUTH.signed(new FluxDensity(0.04))).isEqualTo(new FluxDensity(-0.04));
    assertThat(PoleUp.NORTH.signed(new FluxDensity(-0.04))).isEqualTo(new FluxDensity(0.04));
  }
}
