package lodestep.soak;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import lodestep.bench.NestSeatings;
import lodestep.bench.Plan;
import lodestep.bench.PlanReader;
import lodestep.bench.PlanRules;
import lodestep.bench.TightestTolerance;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.config.ShippedRig;
import lodestep.measure.GaugeCalibration;
import lodestep.quantity.Temperature;

/** The soak's settings for tests: the shipped rigs and the plans that come with the program. */
final class Soaks {

  private static final GaugeCalibration CALIBRATION =
      new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001);

  private static final Map<SoakRig, SoakSettings> ALL =
      Arrays.stream(SoakRig.values())
          .collect(Collectors.toUnmodifiableMap(rig -> rig, Soaks::settings));

  static final String PLAN = plan(SoakRig.COIL);
  static final SoakSettings SETTINGS = of(SoakRig.COIL);

  private Soaks() {}

  static SoakSettings of(SoakRig rig) {
    return Optional.ofNullable(ALL.get(rig)).orElseThrow();
  }

  /** The text of the plan that is worked on this kind of rig. */
  static String plan(SoakRig rig) {
    String name = "/lodestep/plans/soak-" + rig.word() + ".csv";
    try (InputStream in = Soaks.class.getResourceAsStream(name)) {
      if (in == null) {
        throw new IllegalStateException("the program's own plan " + name + " is missing");
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    }
  }

  private static SoakSettings settings(SoakRig kind) {
    RigConfig rig =
        kind == SoakRig.COIL
            ? ReferenceRig.virtual()
            : ShippedRig.read("rig-virtual-" + kind.word() + ".toml");
    return SoakSettings.of(rig, understood(rig, plan(kind)).rows(), CALIBRATION);
  }

  private static Plan understood(RigConfig rig, String plan) {
    return new PlanReader(PlanRules.of(rig, TightestTolerance.of(CALIBRATION, NestSeatings.USUAL)))
        .read("soak", plan)
        .match(
            read -> read,
            refused -> {
              throw new IllegalStateException(String.join("\n", refused.written()));
            });
  }
}
