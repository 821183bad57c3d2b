package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.SplittableRandom;
import java.util.function.Function;
import lodestep.measure.Acceptance;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Goal: how surely and in how few pulses a magnet lands where it was asked to. Method: the
 * program's own planner, alone and after five magnets of the lot, beside plain ways, beside a
 * planner that knows the lot exactly, and beside one that knows all; on two plants, the second of
 * another hysteresis family that the planner was not made for. Population: alnico 2, 3, 5 and 8
 * bars and alnico 5 rods; levels 35, 50, 70 and 90 per cent of the nominal full charge; tolerances
 * 1 and 2 per cent and 10 G.
 */
class YardstickTest {

  private static final double[] LEVELS = {0.35, 0.5, 0.7, 0.9};
  private static final double[] TOLERANCES = {0.01, 0.02};
  private static final double TOLERANCE_TESLA = 1e-3;

  /** A magnet whose full charge is hardly above its target is no question of planning. */
  private static final double ROOM = 1.03;

  private static final int TEACHING = 5;
  private static final int RECHARGES_MAX = 2;
  private static final int PULSES_MAX = 3_000;

  private static final String OURS = "ours after five";
  private static final String COLD = "ours cold";
  private static final String INFORMED = "informed";

  /**
   * How much of it is run.
   *
   * @param batches lots of each kind
   * @param counted magnets of each after the first five
   * @param lotMagnets that stand for the lot where it is known exactly
   */
  private record Size(int batches, int counted, int lotMagnets) {}

  @ParameterizedTest
  @EnumSource(YardPlant.class)
  void comesNearToThePlannerThatKnowsTheLot(YardPlant plant) {
    Map<String, YardScore> scores = scores(plant, new Size(2, 8, 1_000));

    assertThat(of(scores, OURS).meanPulses())
        .isLessThan(2.5)
        .isLessThan(1.15 * of(scores, INFORMED).meanPulses());
    reaches(scores);
  }

  /** Two thousand magnets of each kind, level and tolerance. */
  @Tag("yardstick")
  @ParameterizedTest
  @EnumSource(YardPlant.class)
  void comesNearToThePlannerThatKnowsTheLotWithThousandsOfMagnets(YardPlant plant) {
    Map<String, YardScore> scores = scores(plant, new Size(100, 20, 3_000));

    assertThat(of(scores, OURS).meanPulses())
        .isLessThan(2.5)
        .isLessThan(1.15 * of(scores, INFORMED).meanPulses());
    reaches(scores);
  }

  private static YardScore of(Map<String, YardScore> scores, String planner) {
    return Objects.requireNonNull(scores.get(planner));
  }

  private static void reaches(Map<String, YardScore> scores) {
    YardScore ours = of(scores, OURS);
    assertThat(ours.trulyInside()).isGreaterThan(of(scores, INFORMED).trulyInside() - 0.005);
    assertThat(ours.wronglyAccepted()).isLessThan(0.005);
    assertThat(ours.recharges()).isLessThan(0.02);
    assertThat(of(scores, COLD).meanPulses()).isLessThan(3.5);
  }

  private static Map<String, YardScore> scores(YardPlant plant, Size size) {
    Map<String, YardScore> all = new LinkedHashMap<>();
    for (YardKind kind : YardKind.all()) {
      Map<String, YardScore> scores = new LinkedHashMap<>();
      for (int batch = 0; batch < size.batches(); batch++) {
        lot(plant, kind, size, batch, scores);
      }
      print(plant.words() + ", " + kind.words(), scores);
      scores.forEach((name, score) -> all.computeIfAbsent(name, key -> new YardScore()).add(score));
    }
    print(plant.words() + ", all kinds", all);
    return all;
  }

  private static void print(String what, Map<String, YardScore> scores) {
    System.out.println(what);
    System.out.println(YardScore.heading());
    scores.forEach((name, score) -> System.out.println(score.row(name)));
  }

  private static void lot(
      YardPlant plant, YardKind kind, Size size, int batch, Map<String, YardScore> scores) {
    SplittableRandom random = new SplittableRandom(1_000 + batch);
    YardPlant.Lot lot = plant.lot(kind, random);
    YardInformed.Lot known =
        new YardInformed.Lot(lot, size.lotMagnets(), kind.reachAperM(), 77 + batch);
    List<YardPlant.Magnet> magnets = new ArrayList<>();
    for (int i = 0; i < TEACHING + size.counted(); i++) {
      magnets.add(lot.draw(random));
    }
    for (double level : LEVELS) {
      double target = level * kind.full().tesla();
      for (double tolerance : TOLERANCES) {
        new Case(plant, kind, known, target, tolerance * target, batch).run(magnets, scores);
      }
      new Case(plant, kind, known, target, TOLERANCE_TESLA, batch).run(magnets, scores);
    }
  }

  /** One kind, level and tolerance, in one lot. */
  private record Case(
      YardPlant plant,
      YardKind kind,
      YardInformed.Lot lot,
      double target,
      double tolerance,
      int batch) {

    void run(List<YardPlant.Magnet> magnets, Map<String, YardScore> scores) {
      RigMemory memory = RigMemory.none().withChargeProven(kind.words(), 0.9 * kind.full().tesla());
      RigMemory taught = memory;
      for (int i = 0; i < magnets.size(); i++) {
        YardPlant.Magnet magnet = magnets.get(i);
        if (magnet.applyAsDouble(0) < ROOM * target) {
          continue;
        }
        Ours ours = ours(rig(magnet, i), taught, PlannerMode.CURVE);
        taught = ours.memory();
        if (i < TEACHING) {
          continue;
        }
        add(scores, OURS, ours.end());
        add(scores, COLD, ours(rig(magnet, i), memory, PlannerMode.CURVE).end());
        add(scores, "small steps", ours(rig(magnet, i), memory, PlannerMode.SMALL_STEPS).end());
        Map<String, Function<YardRig, YardRival>> rivals = new LinkedHashMap<>();
        rivals.put("halving", rig -> new YardRival.Halving(kind));
        rivals.put("secant", rig -> new YardRival.Secant(kind));
        rivals.put(INFORMED, rig -> new YardInformed(lot));
        rivals.put("all-knowing", rig -> new YardRival.AllKnowing(rig, magnet, kind.reachAperM()));
        for (Map.Entry<String, Function<YardRig, YardRival>> rival : rivals.entrySet()) {
          YardRig rig = rig(magnet, i);
          add(scores, rival.getKey(), rival(rig, rival.getValue().apply(rig)));
        }
      }
    }

    private static void add(Map<String, YardScore> scores, String name, YardScore.End end) {
      scores.computeIfAbsent(name, key -> new YardScore()).add(end);
    }

    /** The same magnet sits and is read alike for each planner. */
    private YardRig rig(YardPlant.Magnet magnet, int number) {
      long seed = 31L * batch + number + Math.round(1e7 * (target + 3 * tolerance));
      YardRig.Converters converters = YardRig.Converters.of(new SplittableRandom(4_000 + batch));
      return new YardRig(converters, plant, magnet, kind.reachAperM(), seed);
    }

    private record Ours(YardScore.End end, RigMemory memory) {}

    private Ours ours(YardRig rig, RigMemory begun, PlannerMode mode) {
      Zero zero = new Zero(new lodestep.measure.GaugeZero(100, 0, 50, 50), 1);
      RigNow now = new RigNow(Temperature.ofDegC(20), begun);
      Work work = kind.work(new FluxDensity(target), new FluxDensity(tolerance), mode);
      Dial dial = Dial.begin(work, begun, zero);
      for (int i = 0; i < PULSES_MAX; i++) {
        dial = Learning.afterReading(dial, rig.read());
        Move move = new Planner(work, zero, now).next(dial.progress());
        if (move instanceof Move.Finish finish) {
          boolean accepted = finish.verdict() == Verdict.ACCEPTED;
          Progress.Counts counts = dial.progress().counts();
          RigMemory after =
              MagnetCurve.taught(dial, finish)
                  .map(curve -> begun.with(kind.words(), curve))
                  .orElse(begun);
          return new Ours(
              new YardScore.End(counts.knockDowns(), counts.recharges(), accepted, inside(rig)),
              after);
        }
        Move.Fire fire = (Move.Fire) move;
        double told = fire.field().amperesPerMetre();
        if (fire.purpose() == Purpose.CHARGE) {
          rig.charge();
        } else {
          told = rig.pulse(told);
        }
        Move.Fire delivered =
            new Move.Fire(fire.purpose(), new FieldStrength(told), fire.drivesNorth());
        dial = dial.with(dial.progress().counting(fire.purpose()).fired(delivered));
      }
      throw new AssertionError("no end after " + PULSES_MAX + " pulses: " + dial.progress());
    }

    private boolean inside(YardRig rig) {
      return Math.abs(rig.truth() - target) <= tolerance;
    }

    /** By the same rule of acceptance as ours, with the reading's noise and placement counted. */
    private YardScore.End rival(YardRig rig, YardRival rival) {
      double u =
          Math.hypot(
              YardRig.reading(target).standardUncertainty().tesla(), YardRig.SEATING * target);
      double half =
          Acceptance.guarded(new FluxDensity(target), new FluxDensity(tolerance))
              .acceptedHalfWidthTesla(new FluxDensity(u));
      int recharges = 0;
      int pulses = 0;
      rig.charge();
      rival.charged(rig.read());
      while (pulses < PULSES_MAX) {
        double off = rival.level() - target;
        if (Math.abs(off) <= half) {
          return new YardScore.End(pulses, recharges, true, inside(rig));
        }
        if (off > 0) {
          double told = rig.pulse(rival.next(target, half));
          rival.knockedDown(told, rig.read());
          pulses++;
        } else if (recharges == RECHARGES_MAX) {
          return new YardScore.End(pulses, recharges, false, inside(rig));
        } else {
          recharges++;
          rig.charge();
          rival.charged(rig.read());
        }
      }
      return new YardScore.End(pulses, recharges, false, inside(rig));
    }
  }
}
