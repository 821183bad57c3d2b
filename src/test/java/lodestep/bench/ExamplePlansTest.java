package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import lodestep.dial.Task;
import lodestep.measure.GaugeCalibration;
import lodestep.quantity.Temperature;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The example plans can be run as they are, on the reference nests with a gauge of 0.1 per cent.
 */
class ExamplePlansTest {

  private static final GaugeCalibration GAUGE =
      new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001);

  private static Plan plan(String name) throws IOException {
    try (InputStream in = Plan.class.getResourceAsStream("/lodestep/plans/" + name)) {
      assertThat(in).isNotNull();
      PlanRules rules =
          PlanRules.of(
              BenchRigs.with(BenchRigs.ROD, BenchRigs.BAR),
              TightestTolerance.of(GAUGE, NestSeatings.USUAL));
      return new PlanReader(rules)
          .read(name, in.readAllBytes())
          .match(
              good -> good,
              refused -> {
                throw new AssertionError(String.join("\n", refused.written()));
              });
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"split-six.csv", "bars-and-returns.csv"})
  void asksForLevelsThatAMagnetReachesByKnockingDown(String name) throws IOException {
    for (PlanRow row : plan(name).rows()) {
      double full = row.fullCharge().tesla();
      if (row.task() instanceof Task.ToLevel level) {
        // Lots lie apart by some per cent, so the levels keep away from the usual full charge.
        assertThat(Math.abs(level.target().tesla()) / full).as(row.name()).isBetween(0.45, 0.85);
      }
    }
  }
}
