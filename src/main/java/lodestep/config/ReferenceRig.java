package lodestep.config;

import java.util.List;
import java.util.Map;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;

/**
 * The reference build as a virtual rig, for code and tests that need one without a file; the same
 * figures as {@code firmware-host/board/rig-virtual.toml}, which a test compares. All figures are
 * configuration, not measurements.
 */
public final class ReferenceRig {

  /** Name of the nest for rods. */
  public static final String ROD_NEST = "rod nest";

  /** Name of the nest for bars. */
  public static final String BAR_NEST = "bar nest";

  /** As data sheets say it of many a small power relay under load; no source. */
  private static final long RELAY_OPERATIONS = 100_000;

  private ReferenceRig() {}

  /** The reference build, virtual: its head is inside the program and no pin is named. */
  public static RigConfig virtual() {
    return described().with(new RelayConfig(RELAY_OPERATIONS, ""));
  }

  private static RigConfig described() {
    return new RigConfig(
        "reference rig",
        RigKind.VIRTUAL,
        new HeadConfig.VirtualHead(),
        new BankConfig(22e-3, new Voltage(48.0), new Voltage(50.0), 47.0, 2000.0, 22.0),
        List.of(rodCoil(), slotCoil()),
        List.of(
            new NestConfig(ROD_NEST, "rod", Length.ofMm(2.0), "rod coil"),
            new NestConfig(BAR_NEST, "bar", Length.ofMm(2.0), "slot coil")),
        new GaugeConfig(500_000.0, new FluxDensity(0.26))
            .with(
                List.of(
                    reference("house rod", 385, ROD_NEST), reference("house bar", -265, BAR_NEST))),
        Limits.standard(),
        Map.of());
  }

  private static ReferenceConfig reference(String name, double gauss, String nest) {
    return new ReferenceConfig(
        name, FluxDensity.ofGauss(gauss), FluxDensity.ofGauss(1.5), nest, "2026-03-14");
  }

  private static CoilConfig rodCoil() {
    return new CoilConfig(
        "rod coil", 0.30, 0.22e-3, 7000.0, 4.7, 60.0, 6.0, Temperature.ofDegC(70.0));
  }

  private static CoilConfig slotCoil() {
    return new CoilConfig(
        "slot coil", 0.27, 0.30e-3, 3600.0, 3.3, 120.0, 5.0, Temperature.ofDegC(70.0));
  }
}
