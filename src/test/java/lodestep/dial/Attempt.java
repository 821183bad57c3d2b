package lodestep.dial;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.JigConfig;
import lodestep.config.Limits;
import lodestep.config.NestConfig;
import lodestep.config.SupplyConfig;
import lodestep.magnet.CurveFamily;
import lodestep.magnet.KnockDownCurve;
import lodestep.magnet.Neutral;
import lodestep.magnet.Spread;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.GaugeZero;
import lodestep.measure.SettledReading;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;

/**
 * An attempt put together figure by figure. If nobody says more it is a magnet that reads 100 mT
 * when full, is to come to 60 mT within 1 mT, loses an even 2 µT of that for each A/m, and lies in
 * a coil on a bank; the gauge knows gain and zero, and a reading to 10 µT.
 */
final class Attempt {

  static final CoilConfig COIL =
      new CoilConfig("tried coil", 0.30, 0.22e-3, 7000, 4.7, 60, 6, Temperature.ofDegC(70));
  static final BankConfig BANK =
      new BankConfig(22e-3, new Voltage(48), new Voltage(50), 100, 2000, 22);
  static final CoilDrive ON_BANK = new CoilDrive(COIL, BANK);
  static final RigNow ROOM = new RigNow(Temperature.ofDegC(20), RigMemory.none());

  /** Loses a fifty-thousandth of its full charge for each A/m, until it has turned over by half. */
  static final KnockDownCurve EVEN =
      new KnockDownCurve(new FieldStrength(25_000), List.of(1.0, 0.5, 0.0, -0.5));

  /** As an alloy that nobody's notes call even. */
  static final Spread SPREAD = new Spread(0.03, 0.015, 0.04, 0.02);

  static final String KIND = "tried kind";
  static final double U_TESLA = 10e-6;

  Task task = level(0.06, 0.001);
  PoleUp pole = PoleUp.NORTH;
  Optional<FluxDensity> foundBefore = Optional.empty();
  Optional<FieldSource> charge = Optional.of(ON_BANK);
  FieldSource knockDown = ON_BANK;
  KnockDownCurve curve = EVEN;
  double fullTesla = 0.1;
  double saturatingAperM = 200_000;
  double coercivityAperM = 40_000;
  PlannerMode mode = PlannerMode.CURVE;
  double gainUncertainty;
  RigMemory memory = RigMemory.none();
  long questions;

  /** Its progress. */
  Optional<SettledReading> asFound = Optional.empty();

  Optional<SettledReading> last = Optional.empty();
  Optional<Move.Fire> lastMove = Optional.empty();
  List<Progress.Point> points = List.of();
  List<List<Progress.Point>> earlier = List.of();
  Optional<SettledReading> firstCharge = Optional.empty();
  Optional<SettledReading> beforeProof = Optional.empty();
  boolean even = true;
  double placement;
  boolean rested;
  Keep keep = Keep.NOTHING;
  Optional<Accepted> again = Optional.empty();
  Optional<Neutral> neutral = Optional.empty();
  List<Neutral.Tried> tried = List.of();
  int pulses;
  int charges;
  int knockDowns;
  int recharges;
  int demagnetising;
  int proofs;

  static Task level(double targetTesla, double toleranceTesla) {
    return new Task.ToLevel(new FluxDensity(targetTesla), new FluxDensity(toleranceTesla));
  }

  static Task downBy(double tesla, double toleranceTesla) {
    return new Task.DownBy(
        new Drop.By(new FluxDensity(tesla)), new Tolerance.Fixed(new FluxDensity(toleranceTesla)));
  }

  static SettledReading reading(double tesla, double uncertaintyTesla) {
    return new SettledReading(new FluxDensity(tesla), new FluxDensity(uncertaintyTesla), 50, 50);
  }

  static SettledReading reading(double tesla) {
    return reading(tesla, U_TESLA);
  }

  /**
   * A coil of 4 ohms and 10,000 A/m for an ampere on a supply of 24 V that gives at most 6 A. With
   * the resistors 32, 16 and 8 ohms the levels are 24 V / (4 + 32 / level) ohms: 0.667, 1.2, 1.636,
   * 2, 2.308, 2.571 and 2.8 A, and 6 A with the ladder bridged.
   */
  static SwitchedDrive onSupply(Double... ladderOhms) {
    CoilConfig coil =
        new CoilConfig("long coil", 4.0, 0.02, 10_000, 0, 200, 4, Temperature.ofDegC(70));
    return new SwitchedDrive(
        coil,
        new SupplyConfig(
            new Voltage(24),
            new ElectricCurrent(6),
            List.of(ladderOhms),
            100,
            300_000_000L,
            600_000_000L));
  }

  /** A jig that allows so many strokes. */
  static JigConfig jig(boolean northFaces, int strokes) {
    return new JigConfig(
        new JigConfig.Screw(Length.ofMm(2), 1600, Length.ofMm(78), Length.ofMm(2), 4),
        new JigConfig.Opposing(Length.ofMm(22), Length.ofMm(14), new FluxDensity(1.26), northFaces),
        Length.ofMm(92),
        Length.ofMm(3),
        new Length(strokes * 2 * 0.078),
        Temperature.ofDegC(60));
  }

  /**
   * A jig over work of 16 mm whose field doubles with each 2 mm from 1,000 A/m at home, told to 12
   * places before home and behind the lowest: 73 mm, with 316 places of a quarter millimetre.
   */
  static JigDrive onJig(boolean northFaces, int strokes) {
    List<Double> told =
        java.util.stream.IntStream.range(-12, 294 + 12)
            .mapToObj(place -> 1000 * Math.pow(2, place / 32.0))
            .toList();
    return new JigDrive(jig(northFaces, strokes), Length.ofMm(16), told);
  }

  Attempt reads(double tesla) {
    last = Optional.of(reading(tesla));
    return this;
  }

  Attempt after(Purpose purpose, double fieldAperM, boolean north) {
    lastMove = Optional.of(new Move.Fire(purpose, new FieldStrength(fieldAperM), north));
    return this;
  }

  /** Field and level of each reverse pulse by turns; the first is that of the charge. */
  Attempt went(double... fieldAndLevel) {
    points =
        java.util.stream.IntStream.range(0, fieldAndLevel.length / 2)
            .mapToObj(i -> new Progress.Point(fieldAndLevel[2 * i], fieldAndLevel[2 * i + 1]))
            .toList();
    return this;
  }

  /** Charged in full, with nothing left to prove. */
  Attempt charged(double tesla) {
    charges = 1;
    pulses = 1;
    proven();
    went(0, Math.abs(tesla));
    return after(Purpose.CHARGE, 600_000, tesla > 0).reads(tesla);
  }

  /** Charged to 100 mT, and brought down to this level by a pulse of this field. */
  Attempt knocked(double fieldAperM, double tesla) {
    charged(0.1).after(Purpose.KNOCK_DOWN, fieldAperM, false).reads(tesla);
    knockDowns = 1;
    pulses = 2;
    return went(0, 0.1, fieldAperM, tesla);
  }

  Attempt proven() {
    memory = memory.withChargeProven(KIND, 0.7 * fullTesla);
    return this;
  }

  Work work() {
    return new Work(
        7,
        3,
        foundBefore,
        KIND,
        task,
        pole,
        new NestConfig("tried nest", "rod", Length.ofMm(2), "tried coil"),
        charge,
        knockDown,
        CurveFamily.stretched(curve, SPREAD),
        new FluxDensity(fullTesla),
        new FieldStrength(saturatingAperM),
        new FieldStrength(coercivityAperM),
        mode,
        new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), gainUncertainty),
        2,
        Limits.standard(),
        keep,
        neutral,
        again,
        placement);
  }

  Progress progress() {
    return new Progress(
        asFound,
        last,
        lastMove,
        points,
        earlier,
        firstCharge,
        beforeProof,
        rested,
        tried,
        new Progress.Counts(pulses, charges, knockDowns, recharges, demagnetising, proofs));
  }

  Dial dial() {
    return new Dial(work(), progress(), memory, zero(), questions, even);
  }

  static Zero zero() {
    return new Zero(new GaugeZero(100, 0, 50, 50), 4);
  }

  /** What the planner wants next, with the coil at 20 °C. */
  Move next() {
    return new Planner(work(), zero(), new RigNow(Temperature.ofDegC(20), memory)).next(progress());
  }

  static List<FieldStrength> fields(double... aperM) {
    return Arrays.stream(aperM).mapToObj(FieldStrength::new).toList();
  }
}
