package lodestep.soak;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import lodestep.bench.Plan;
import lodestep.bench.PlanReader;
import lodestep.bench.PlanRules;
import lodestep.bench.TightestTolerance;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.measure.GaugeCalibration;
import lodestep.quantity.Temperature;

/** The soak's settings for tests: the reference rig and the plan that comes with the program. */
final class Soaks {

  private static final RigConfig RIG = ReferenceRig.virtual();
  private static final GaugeCalibration CALIBRATION =
      new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001);

  static final String PLAN = plan();
  static final SoakSettings SETTINGS = SoakSettings.of(RIG, understood().rows(), CALIBRATION);

  private Soaks() {}

  private static String plan() {
    try (InputStream in = Soaks.class.getResourceAsStream("/lodestep/plans/soak.csv")) {
      if (in == null) {
        throw new IllegalStateException("the program's own plan soak.csv is missing");
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    }
  }

  private static Plan understood() {
    return new PlanReader(PlanRules.of(RIG, TightestTolerance.of(CALIBRATION)))
        .read("soak", PLAN)
        .match(
            plan -> plan,
            refused -> {
              throw new IllegalStateException(String.join("\n", refused.written()));
            });
  }
}
