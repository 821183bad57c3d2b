package lodestep.dial;

import java.util.List;
import java.util.Optional;
import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.Limits;
import lodestep.config.NestConfig;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.CurveFamily;
import lodestep.magnet.FaceField;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Shape;
import lodestep.measure.GaugeCalibration;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;

/**
 * A kind of magnet of the yardstick, in a coil whose knock-down range reaches all its levels. The
 * sizes are our own.
 */
record YardKind(FaceModel model, FaceField face, CurveFamily family, FluxDensity full) {

  private static final Length STAND_OFF = Length.ofMm(1.2);

  /** The curve reaches this many coercivities. */
  private static final double REACH = 2.2;

  /** What 48 V drive through the coil of {@link #drive} with its resistor in. */
  private static final double AMPS = 9.5;

  private static final BankConfig BANK =
      new BankConfig(22e-3, new Voltage(48), new Voltage(50), 100, 2000, 22);

  /** Bars of alnico 2, 3, 5 and 8 and a rod of alnico 5. */
  static List<YardKind> all() {
    Shape bar =
        new Shape.Bar(
            Length.ofMm(58), Length.ofMm(11.5), Length.ofMm(3.4), Shape.Axis.THROUGH_WIDTH);
    Shape rod = new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5));
    return List.of(
        of("alnico 2", bar),
        of("alnico 3", bar),
        of("alnico 5", bar),
        of("alnico 8", bar),
        of("alnico 5", rod));
  }

  private static YardKind of(String alloy, Shape shape) {
    FaceModel model = FaceModel.of(AlloyBook.standard().find(alloy).orElseThrow(), shape);
    double reach = REACH * model.alloy().coercivityJ().amperesPerMetre();
    return new YardKind(
        model,
        model.at(STAND_OFF),
        CurveFamily.of(model, STAND_OFF, new FieldStrength(reach)),
        model.chargedField(STAND_OFF));
  }

  String words() {
    return model.alloy().name() + (model.shape() instanceof Shape.Rod ? " rod" : " bar");
  }

  double reachAperM() {
    return REACH * model.alloy().coercivityJ().amperesPerMetre();
  }

  private CoilDrive drive() {
    double perAmp = Math.ceil(reachAperM() / AMPS);
    return new CoilDrive(
        new CoilConfig("yard coil", 0.30, 0.22e-3, perAmp, 4.7, 60, 6, Temperature.ofDegC(70)),
        BANK);
  }

  /** The program's own work on such a magnet. */
  Work work(FluxDensity target, FluxDensity tolerance, PlannerMode mode) {
    return new Work(
        7,
        1,
        Optional.empty(),
        words(),
        new Task.ToLevel(target, tolerance),
        PoleUp.NORTH,
        new NestConfig("yard nest", "any", STAND_OFF, "yard coil"),
        Optional.of(drive()),
        drive(),
        family,
        full,
        model.saturating(),
        model.alloy().coercivityJ(),
        mode,
        new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0),
        2,
        Limits.standard(),
        YardRig.SEATING);
  }
}
