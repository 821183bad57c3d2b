package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.SplittableRandom;
import lodestep.dial.PlannerLoopTest.Case;
import lodestep.dial.PlannerLoopTest.Ending;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.CurveFamily;
import lodestep.magnet.FaceModel;
import lodestep.magnet.UnknownAlloy;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.sim.VirtualMagnet;
import org.junit.jupiter.api.Test;

/**
 * Goal: a magnet of which nobody knows the alloy comes to its level in few pulses and falls below
 * no oftener than one in a hundred pulses, whatever it is. Small steps beside it.
 */
class UnknownAlloyLoopTest {

  private static final Length OFF = Length.ofMm(2);

  /** Of a magnet that is taken for unknown. */
  private static Work work(Case kind, FluxDensity target, PlannerMode mode) {
    FaceModel unknown = FaceModel.of(UnknownAlloy.alloy(), kind.shape());
    FieldStrength coercivity = unknown.alloy().coercivityJ();
    Work known = kind.work(mode, new Task.ToLevel(target, new FluxDensity(0.02 * target.tesla())));
    return new Work(
        known.magnet(),
        known.attempt(),
        Optional.empty(),
        "unknown",
        known.task(),
        known.pole(),
        known.nest(),
        known.charge(),
        known.knockDown(),
        CurveFamily.of(unknown, OFF, new FieldStrength(4 * coercivity.amperesPerMetre())),
        unknown.chargedField(OFF),
        unknown.saturating(),
        coercivity,
        mode,
        known.calibration(),
        known.calibrationNumber(),
        known.limits(),
        known.placement());
  }

  private record Figures(int magnets, double pulses, double recharges, double accepted) {}

  private static Figures population(Case kind, PlannerMode mode, int magnets) {
    SplittableRandom random = new SplittableRandom(57);
    List<Ending> endings = new ArrayList<>();
    for (int i = 0; i < magnets; i++) {
      double part = 0.4 + 0.5 * random.nextDouble();
      VirtualMagnet magnet = VirtualMagnet.of(kind.magnet(), true, random);
      FluxDensity target = new FluxDensity(part * kind.magnet().chargedField(OFF).tesla());
      Work work = work(kind, target, mode);
      RigMemory full =
          RigMemory.none().withChargeProven("unknown", kind.magnet().chargedField(OFF).tesla());
      endings.add(PlannerLoopTest.dialed(work, full, magnet, random));
    }
    int size = endings.size();
    return new Figures(
        size,
        endings.stream().mapToInt(e -> e.progress().counts().knockDowns()).sum() / (double) size,
        endings.stream().mapToInt(e -> e.progress().counts().recharges()).sum() / (double) size,
        endings.stream().filter(e -> e.finish().verdict() == Verdict.ACCEPTED).count()
            / (double) size);
  }

  @Test
  void comesToItsLevelInFewPulsesWhateverItIs() {
    double pulses = 0;
    double recharges = 0;
    double small = 0;
    int kinds = 0;
    for (String alloy : List.of("alnico 2", "alnico 3", "alnico 5", "alnico 6", "alnico 8")) {
      assertThat(AlloyBook.standard().find(alloy)).isPresent();
      Case of = PlannerLoopTest.rod(alloy);
      Figures ours = population(of, PlannerMode.CURVE, 60);
      Figures steps = population(of, PlannerMode.SMALL_STEPS, 10);
      System.out.printf(
          Locale.ROOT,
          "taken for unknown, %s: %.2f knock-downs, %.3f recharges, %.3f accepted; small steps"
              + " %.1f, %.3f, %.3f%n",
          alloy,
          ours.pulses(),
          ours.recharges(),
          ours.accepted(),
          steps.pulses(),
          steps.recharges(),
          steps.accepted());
      assertThat(ours.accepted()).as(alloy).isGreaterThan(0.96);
      pulses += ours.pulses();
      recharges += ours.recharges();
      small += steps.pulses();
      kinds++;
    }
    System.out.printf(
        Locale.ROOT,
        "taken for unknown, all: %.2f knock-downs, %.4f recharges; small steps %.1f%n",
        pulses / kinds,
        recharges / kinds,
        small / kinds);
    assertThat(pulses / kinds).isLessThan(6);
    // One pulse in a hundred may fall below.
    assertThat(recharges / pulses).isLessThan(0.01);
    assertThat(small / kinds).isGreaterThan(3 * pulses / kinds);
  }
}
