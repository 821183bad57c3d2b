package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.dial.Drop;
import lodestep.dial.Task;
import lodestep.dial.Tolerance;
import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;

/** Goal: what was asked of a magnet stands in the record in full, each kind of task by itself. */
class AskedTest {

  @Test
  void saysALevelSignedAndItsTolerance() {
    Task task = new Task.ToLevel(FluxDensity.ofGauss(-710), FluxDensity.ofGauss(11));

    assertThat(Asked.of(task)).isEqualTo(new Asked(-71_000, 0, 0, 1_100, 0, 0));
  }

  @Test
  void saysADropOfFluxWithATolerancesParts() {
    Task task =
        new Task.DownBy(new Drop.By(FluxDensity.ofGauss(45)), new Tolerance.OfTarget(0.0175));

    assertThat(Asked.of(task)).isEqualTo(new Asked(0, 4_500, 0, 0, 17_500, 0));
  }

  @Test
  void saysADropInPartsWithAToleranceOfFlux() {
    Task task =
        new Task.DownBy(new Drop.ByPart(0.125), new Tolerance.Fixed(FluxDensity.ofGauss(7)));

    assertThat(Asked.of(task)).isEqualTo(new Asked(0, 0, 125_000, 700, 0, 0));
  }

  @Test
  void saysWhatCountsAsUncharged() {
    assertThat(Asked.of(new Task.Demagnetise(FluxDensity.ofGauss(3))))
        .isEqualTo(new Asked(0, 0, 0, 0, 0, 300));
  }
}
