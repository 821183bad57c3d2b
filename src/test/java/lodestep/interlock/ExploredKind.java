package lodestep.interlock;

import java.util.List;
import java.util.Optional;
import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.JigConfig;
import lodestep.config.Limits;
import lodestep.config.SupplyConfig;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;

/** The rigs that are drawn for exploring. */
enum ExploredKind {
  /** A pulse coil on a bank. */
  BANK,
  /** A coil switched from a bench supply, its current chosen by a ladder of two resistors. */
  SWITCHED,
  /** A reverse jig alone. */
  JIG,
  /** A jig beside a pulse coil on a bank. */
  BANK_AND_JIG;

  /** From the home switch to the far switch of the drawn jig, in millimetres. */
  static final int TRAVEL_MM = 6;

  /** Its park position. */
  static final int PARK_MM = 2;

  /** The lowest place of a stroke. */
  static final int LOWEST_MM = 5;

  /** Level of the drawn ladder at which the switch is shown to be open. */
  static final int PROOF_LEVEL = 1;

  /** Level at which the drawn coil knocks down. */
  static final int LEVEL = 2;

  static final BankConfig A_BANK =
      new BankConfig(0.022, new Voltage(47), new Voltage(50), 100, 2000, 0.5);

  /** Two scans long, and ended by the hardware timer after three. */
  static final SupplyConfig A_SUPPLY =
      new SupplyConfig(
          new Voltage(40),
          new ElectricCurrent(20),
          List.of(200.0, 20.0),
          470,
          100_000_000L,
          150_000_000L);

  /** No pulse warms it: how a coil comes to be spent is not explored. */
  static final CoilConfig A_COIL =
      new CoilConfig(
          "coil", 2.0, 2e-3, 5_000, 4, Double.POSITIVE_INFINITY, 2, Temperature.ofDegC(70));

  static final JigConfig A_JIG =
      new JigConfig(
          new JigConfig.Screw(
              Length.ofMm(2), 1600, Length.ofMm(TRAVEL_MM), Length.ofMm(PARK_MM), 5),
          new JigConfig.Opposing(Length.ofMm(20), Length.ofMm(12), new FluxDensity(1.28), false),
          Length.ofMm(12),
          Length.ofMm(3),
          new Length(6),
          Temperature.ofDegC(70));

  boolean bank() {
    return this == BANK || this == BANK_AND_JIG;
  }

  boolean switched() {
    return this == SWITCHED;
  }

  boolean jig() {
    return this == JIG || this == BANK_AND_JIG;
  }

  InterlockSettings settings(Limits limits) {
    return new InterlockSettings(
        limits,
        bank() ? A_BANK : BankConfig.NONE,
        switched() ? Optional.of(new SwitchedFigures(A_SUPPLY, List.of(A_COIL))) : Optional.empty(),
        Temperature.ofDegC(70),
        jig() ? Optional.of(A_JIG) : Optional.empty(),
        "");
  }
}
