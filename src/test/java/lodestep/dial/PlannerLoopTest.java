package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.Limits;
import lodestep.config.NestConfig;
import lodestep.device.Pulse;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.CurveFamily;
import lodestep.magnet.FaceModel;
import lodestep.magnet.FaceModels;
import lodestep.magnet.HallElement;
import lodestep.magnet.Neutral;
import lodestep.magnet.Shape;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.GaugeZero;
import lodestep.measure.SettledReading;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;
import lodestep.sim.SeatedMagnet;
import lodestep.sim.VirtualMagnet;
import org.junit.jupiter.api.Test;

/**
 * Goal: the planner brings whole populations to their level from above, in few pulses, in every
 * mode. Method: the planner alone in a loop with virtual magnets and a noisy gauge, no rig; figures
 * of the rig are the reference build's.
 */
class PlannerLoopTest {

  private static final Temperature ROOM = Temperature.ofDegC(22);
  private static final double NOISE_TESLA = 5e-6;
  private static final BankConfig BANK =
      new BankConfig(22e-3, new Voltage(48), new Voltage(50), 100, 2000, 22);
  private static final CoilConfig ROD_COIL =
      new CoilConfig("rod coil", 0.30, 0.22e-3, 7000, 4.7, 60, 6, Temperature.ofDegC(70));
  private static final CoilConfig SLOT_COIL =
      new CoilConfig("slot coil", 0.27, 0.30e-3, 3600, 3.3, 120, 5, Temperature.ofDegC(70));
  private static final GaugeCalibration CALIBRATION =
      new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001);
  private static final Zero ZERO = new Zero(new GaugeZero(100, 1, 50, 50), 1);

  /** What became of one magnet. */
  record Ending(Move.Finish finish, Progress progress, RigMemory memory, double trueTesla) {}

  /** A kind of magnet, and the level wanted as a part of the nominal full charge. */
  record Case(String alloy, Shape shape, CoilConfig coil, double level, double toleranceGauss) {

    Work work(PlannerMode mode) {
      Task task =
          new Task.ToLevel(
              new FluxDensity(full().tesla() * level), FluxDensity.ofGauss(toleranceGauss));
      return work(mode, task);
    }

    private CoilDrive drive() {
      return new CoilDrive(coil, BANK);
    }

    private FluxDensity full() {
      return magnet().chargedField(Length.ofMm(2));
    }

    FaceModel magnet() {
      return KINDS.of(AlloyBook.standard().find(alloy).orElseThrow(), shape);
    }

    /** To be brought to nothing by aim. */
    Work toNothing() {
      Work plain = work(PlannerMode.CURVE, new Task.Demagnetise(Task.Demagnetise.UNCHARGED));
      return new Work(
          plain.magnet(),
          plain.attempt(),
          plain.asFoundBefore(),
          plain.kind(),
          plain.task(),
          plain.pole(),
          plain.nest(),
          plain.charge(),
          plain.knockDown(),
          plain.family(),
          plain.expectedFull(),
          plain.saturating(),
          plain.coercivity(),
          plain.mode(),
          plain.calibration(),
          plain.calibrationNumber(),
          plain.limits(),
          plain.keep(),
          Optional.of(Neutral.of(magnet(), Length.ofMm(2))),
          plain.again(),
          plain.placement());
    }

    Work work(PlannerMode mode, Task task) {
      FaceModel magnet = magnet();
      NestConfig nest = new NestConfig("nest", "rod", Length.ofMm(2), coil.name());
      FieldStrength coercivity = magnet.alloy().coercivityJ();
      FieldStrength reach = new FieldStrength(2 * coercivity.amperesPerMetre());
      return new Work(
          7,
          1,
          Optional.empty(),
          alloy,
          task,
          PoleUp.NORTH,
          nest,
          Optional.of(drive()),
          drive(),
          CurveFamily.of(magnet, nest.standOff(), reach),
          full(),
          magnet.saturating(),
          coercivity,
          mode,
          CALIBRATION,
          2,
          Limits.standard(),
          0);
    }
  }

  private static final FaceModels KINDS = new FaceModels(HallElement.POINT);
  private static final Shape ROD = new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5));
  private static final Shape BAR =
      new Shape.Bar(Length.ofMm(58), Length.ofMm(11.5), Length.ofMm(3.4), Shape.Axis.THROUGH_WIDTH);

  static Ending dialed(Work work, SeatedMagnet magnet, SplittableRandom random) {
    return dialed(
        work,
        RigMemory.none().withChargeProven(work.kind(), work.expectedFull().tesla()),
        magnet,
        random);
  }

  static Ending dialed(Work work, RigMemory begun, SeatedMagnet magnet, SplittableRandom random) {
    RigMemory memory = begun;
    Progress progress = Progress.none();
    long nowNs = 0;
    for (int i = 0; i < 600; i++) {
      nowNs += 2_000_000_000L;
      double truth = magnet.faceFieldTesla(2e-3, ROOM.kelvin(), nowNs);
      double read = truth + random.nextGaussian() * NOISE_TESLA;
      SettledReading reading =
          new SettledReading(new FluxDensity(read), new FluxDensity(NOISE_TESLA), 50, 50);
      Dial dial = Learning.afterReading(new Dial(work, progress, memory, ZERO, 0, true), reading);
      progress = dial.progress();
      memory = dial.memory();
      Move move = new Planner(work, ZERO, new RigNow(ROOM, memory)).next(progress);
      if (move instanceof Move.Finish finish) {
        return new Ending(finish, progress, memory, truth);
      }
      Move.Fire fire = (Move.Fire) move;
      CoilDrive drive = (CoilDrive) work.source(fire.purpose());
      Pulse pulse = drive.pulse(fire.field(), fire.drivesNorth(), new RigNow(ROOM, memory));
      double error = 1 + 0.002 * random.nextGaussian();
      double amps = drive.expectedAmps(pulse, ROOM) * error;
      double field = amps * drive.coil().fieldPerAmp();
      magnet.applyPulse(fire.drivesNorth() ? field : 0, fire.drivesNorth() ? 0 : field, true);
      progress =
          progress
              .counting(fire.purpose())
              .fired(new Move.Fire(fire.purpose(), new FieldStrength(field), fire.drivesNorth()));
    }
    throw new AssertionError("no end after 600 pulses: " + progress);
  }

  /** A rod of this alloy in the rod coil. */
  static Case rod(String alloy) {
    return new Case(alloy, ROD, ROD_COIL, 0.6, 8);
  }

  private static List<Ending> population(Case kind, PlannerMode mode, int magnets, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    Work work = kind.work(mode);
    List<Ending> endings = new ArrayList<>();
    for (int i = 0; i < magnets; i++) {
      VirtualMagnet magnet = VirtualMagnet.of(kind.magnet(), true, random);
      endings.add(dialed(work, magnet, random));
    }
    return endings;
  }

  static final List<Case> CASES =
      List.of(
          new Case("alnico 5", ROD, ROD_COIL, 0.7, 10),
          new Case("alnico 5", BAR, SLOT_COIL, 0.6, 8),
          new Case("alnico 2", BAR, SLOT_COIL, 0.75, 6),
          new Case("alnico 3", ROD, ROD_COIL, 0.5, 6),
          new Case("alnico 8", ROD, ROD_COIL, 0.8, 12));

  @Test
  void bringsPopulationsToTheirLevelFromAboveInFewPulses() {
    for (Case kind : CASES) {
      List<Ending> endings = population(kind, PlannerMode.CURVE, 300, 41);

      report(kind, PlannerMode.CURVE, endings);
      assertThat(share(endings, Verdict.ACCEPTED)).as("%s accepted", kind).isGreaterThan(0.97);
      assertThat(meanKnockDowns(endings)).as("%s pulses", kind).isLessThan(5);
      assertThat(recharged(endings)).as("%s recharged", kind).isLessThan(0.05);
    }
  }

  @Test
  void smallStepsGetThereTooWithManyPulses() {
    Case kind = CASES.get(0);
    List<Ending> endings = population(kind, PlannerMode.SMALL_STEPS, 40, 42);

    report(kind, PlannerMode.SMALL_STEPS, endings);
    assertThat(share(endings, Verdict.ACCEPTED)).isEqualTo(1.0);
    assertThat(meanKnockDowns(endings)).isBetween(15.0, 200.0);
  }

  @Test
  void takesTheWholeChargeOutOfChargedMagnets() {
    SplittableRandom random = new SplittableRandom(43);
    for (Case kind : CASES) {
      Work work = kind.work(PlannerMode.CURVE, new Task.Demagnetise(Task.Demagnetise.UNCHARGED));
      List<Ending> endings = new ArrayList<>();
      for (int i = 0; i < 100; i++) {
        VirtualMagnet magnet = VirtualMagnet.of(kind.magnet(), true, random);
        magnet.applyPulse(work.saturating().amperesPerMetre(), 0, true);
        endings.add(dialed(work, magnet, random));
      }

      report(kind, PlannerMode.CURVE, endings);
      assertThat(share(endings, Verdict.ACCEPTED)).as("%s uncharged", kind).isGreaterThan(0.97);
      assertThat(endings)
          .filteredOn(ending -> ending.finish().verdict() == Verdict.ACCEPTED)
          .allSatisfy(
              ending ->
                  assertThat(Math.abs(ending.trueTesla()))
                      .isLessThan(Task.Demagnetise.UNCHARGED.tesla()));
    }
  }

  @Test
  void refusesAFullChargeThatASecondStrongerOneStillRaises() {
    SplittableRandom random = new SplittableRandom(44);
    Case bar = new Case("alnico 8", BAR, SLOT_COIL, 0.5, 8);

    Ending ending =
        dialed(
            bar.work(PlannerMode.CURVE),
            RigMemory.none(),
            VirtualMagnet.of(bar.magnet(), true, random),
            random);

    assertThat(ending.finish().verdict()).as("%s", ending).isEqualTo(Verdict.REFUSED);
    assertThat(ending.finish().why()).startsWith("full charge not proven").contains("by hand");
    assertThat(ending.progress().counts().charges()).isEqualTo(2);
    assertThat(ending.progress().counts().knockDowns()).isZero();
  }

  @Test
  void saysWhenTheLastBitOfAFullChargeIsNotProven() {
    SplittableRandom random = new SplittableRandom(46);
    // At its end with such bars: some it proves full, some not quite.
    CoilConfig weak =
        new CoilConfig("weak coil", 0.27, 0.30e-3, 3400, 3.3, 120, 5, Temperature.ofDegC(70));
    Case bar = new Case("alnico 2", BAR, weak, 0.75, 6);
    List<String> reasons = new ArrayList<>();
    for (int i = 0; i < 60; i++) {
      VirtualMagnet magnet = VirtualMagnet.of(bar.magnet(), true, random);
      Ending ending = dialed(bar.work(PlannerMode.CURVE), RigMemory.none(), magnet, random);
      reasons.add(ending.finish().verdict().word() + " " + ending.finish().why());
    }

    assertThat(reasons).allMatch(why -> why.startsWith("accepted"));
    assertThat(reasons).anyMatch(why -> why.endsWith("full charge not proven"));
    assertThat(reasons).anyMatch(why -> why.endsWith("held by the proof pulse"));
  }

  @Test
  void judgesTheToleranceByTheGaugesDoubtAtTheTarget() {
    SplittableRandom random = new SplittableRandom(45);
    Case rod = new Case("alnico 5", ROD, ROD_COIL, 0.45, 3);

    Ending ending =
        dialed(rod.work(PlannerMode.CURVE), VirtualMagnet.of(rod.magnet(), true, random), random);

    assertThat(ending.finish().verdict()).as(ending.finish().why()).isEqualTo(Verdict.ACCEPTED);
  }

  @Test
  void refusesBeforehandWhatItsSmallestPulseWouldTakeTooFarDown() {
    // Of a rod that reads about 960 G the smallest pulse of this coil takes some 15 G.
    SplittableRandom random = new SplittableRandom(47);
    Case rod = new Case("alnico 5", ROD, ROD_COIL, 0.7, 9);
    List<Verdict> verdicts = new ArrayList<>();
    for (int i = 0; i < 200; i++) {
      VirtualMagnet magnet = VirtualMagnet.of(rod.magnet(), true, random);
      magnet.applyPulse(900e3, 0, true);
      double full = magnet.faceFieldTesla(2e-3, ROOM.kelvin(), 0);
      FluxDensity target = new FluxDensity(full - random.nextDouble() * 30e-4);
      Task task = new Task.ToLevel(target, FluxDensity.ofGauss(3 + random.nextInt(6)));

      verdicts.add(dialed(rod.work(PlannerMode.CURVE, task), magnet, random).finish().verdict());
    }

    assertThat(verdicts).contains(Verdict.ACCEPTED, Verdict.REFUSED);
    assertThat(verdicts.stream().filter(v -> v == Verdict.RECHARGE_NEEDED).count())
        .isLessThanOrEqualTo(2);
  }

  private static double share(List<Ending> endings, Verdict verdict) {
    return endings.stream().filter(e -> e.finish().verdict() == verdict).count()
        / (double) endings.size();
  }

  private static double meanKnockDowns(List<Ending> endings) {
    return endings.stream().mapToInt(e -> e.progress().counts().knockDowns()).average().orElse(0);
  }

  private static double recharged(List<Ending> endings) {
    return endings.stream().mapToInt(e -> e.progress().counts().recharges()).sum()
        / (double) endings.size();
  }

  private static void report(Case kind, PlannerMode mode, List<Ending> endings) {
    Move.Finish example =
        endings.stream()
            .filter(e -> e.finish().verdict() != Verdict.ACCEPTED)
            .map(Ending::finish)
            .findFirst()
            .orElse(endings.get(0).finish());
    System.out.printf(
        "%s %s %.0f %%: accepted %.3f, knock-downs %.2f, recharged %.3f, e.g. %s%n",
        mode.word(),
        kind.alloy() + " " + kind.shape().words(),
        kind.level() * 100,
        share(endings, Verdict.ACCEPTED),
        meanKnockDowns(endings),
        recharged(endings),
        example);
  }
}
