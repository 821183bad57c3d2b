package lodestep.bench;

import java.util.List;
import java.util.Map;
import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.GaugeConfig;
import lodestep.config.HeadConfig;
import lodestep.config.Limits;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;

/** Rigs to hold plans against. */
public final class BenchRigs {

  static final NestConfig ROD = new NestConfig("rod nest", "rod", Length.ofMm(2.0), "coil");
  static final NestConfig ROD_CLOSE = new NestConfig("close nest", "rod", Length.ofMm(1.0), "coil");
  static final NestConfig BAR = new NestConfig("bar nest", "bar", Length.ofMm(2.0), "coil");

  private BenchRigs() {}

  /** A virtual rig with these nests, and a gauge that reads up to 2600 G. */
  static RigConfig with(NestConfig... nests) {
    return rig(0.26, nests);
  }

  /** A rig for rods with a gauge of this range. */
  static RigConfig readingUpTo(double tesla) {
    return rig(tesla, ROD);
  }

  private static RigConfig rig(double rangeTesla, NestConfig... nests) {
    return new RigConfig(
        "test rig",
        RigKind.VIRTUAL,
        new HeadConfig.VirtualHead(),
        new BankConfig(22e-3, new Voltage(48), new Voltage(50), 100, 2000, 22),
        List.of(new CoilConfig("coil", 0.3, 0.2e-3, 7000, 4.7, 60, 6, Temperature.ofDegC(70))),
        List.of(nests),
        new GaugeConfig(500_000, new FluxDensity(rangeTesla)),
        Limits.standard(),
        Map.of());
  }

  /** One nest for rods, one for bars; a gauge that tells 2 G and half a per cent. */
  public static PlanRules rules() {
    return PlanRules.of(with(ROD, BAR), BenchRigs::tightest);
  }

  static FluxDensity tightest(NestConfig nest, FluxDensity level) {
    return new FluxDensity(2e-4 + 0.005 * level.tesla());
  }
}
