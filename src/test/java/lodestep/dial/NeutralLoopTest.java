package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.function.BiFunction;
import lodestep.dial.PlannerLoopTest.Case;
import lodestep.dial.PlannerLoopTest.Ending;
import lodestep.sim.SeatedMagnet;
import lodestep.sim.VirtualMagnet;
import org.junit.jupiter.api.Test;

/**
 * Goal: magnets are brought to nothing in few pulses from any state, also of a hysteresis that the
 * planner was not made for, and never left charged and called uncharged. Both ways side by side.
 */
class NeutralLoopTest {

  /** What was done to a magnet before it came. */
  private interface Past extends BiFunction<SeatedMagnet, SplittableRandom, SeatedMagnet> {}

  private static Past charged(double saturating) {
    return (magnet, random) -> {
      magnet.applyPulse(saturating, 0, true);
      return magnet;
    };
  }

  /** Charged, then knocked down by anything up to its coercivity. */
  private static Past anything(double saturating, double coercivity) {
    return (magnet, random) -> {
      boolean north = random.nextBoolean();
      double back = random.nextDouble() * coercivity;
      magnet.applyPulse(north ? saturating : back, north ? back : saturating, north);
      return magnet;
    };
  }

  private record Figures(double mean, int p99, double uncharged, double wrong) {}

  private static Figures figures(List<Ending> endings) {
    List<Ending> by =
        endings.stream().sorted(Comparator.comparingInt(NeutralLoopTest::pulses)).toList();
    double limit = Task.Demagnetise.UNCHARGED.tesla();
    long accepted =
        endings.stream().filter(one -> one.finish().verdict() == Verdict.ACCEPTED).count();
    long wrong =
        endings.stream()
            .filter(one -> one.finish().verdict() == Verdict.ACCEPTED)
            .filter(one -> Math.abs(one.trueTesla()) > limit)
            .count();
    return new Figures(
        endings.stream().mapToInt(NeutralLoopTest::pulses).average().orElse(0),
        pulses(by.get((int) (0.99 * by.size()))),
        accepted / (double) endings.size(),
        wrong / (double) endings.size());
  }

  private static int pulses(Ending ending) {
    return ending.progress().counts().demagnetising();
  }

  private interface Made {
    SeatedMagnet draw(Case kind, SplittableRandom random);
  }

  private static Figures population(Case kind, Work work, Past past, Made made, int magnets) {
    SplittableRandom random = new SplittableRandom(91);
    RigMemory memory = RigMemory.none();
    List<Ending> endings = new ArrayList<>();
    for (int i = 0; i < magnets; i++) {
      SeatedMagnet magnet = past.apply(made.draw(kind, random), random);
      Ending ending = PlannerLoopTest.dialed(work, memory, magnet, random);
      memory = ending.memory();
      endings.add(ending);
    }
    return figures(endings);
  }

  private static void report(String what, Case kind, Figures aimed, Figures ladders) {
    System.out.printf(
        Locale.ROOT,
        "%s %s %s: aimed %.2f (p99 %d), uncharged %.3f, wrong %.3f; ladders %.1f (p99 %d),"
            + " uncharged %.3f%n",
        what,
        kind.alloy(),
        kind.shape().words(),
        aimed.mean(),
        aimed.p99(),
        aimed.uncharged(),
        aimed.wrong(),
        ladders.mean(),
        ladders.p99(),
        ladders.uncharged());
  }

  /**
   * @param leastUncharged part of each population that must end uncharged
   * @param gain so many times as many pulses the ladders take over all, at the least
   */
  private static void compare(
      String what, Made made, double leastUncharged, double gain, int magnets) {
    double aimedAll = 0;
    double laddersAll = 0;
    for (Case kind : PlannerLoopTest.CASES) {
      Work ladder = kind.work(PlannerMode.CURVE, new Task.Demagnetise(Task.Demagnetise.UNCHARGED));
      double saturating = ladder.saturating().amperesPerMetre();
      double coercivity = ladder.coercivity().amperesPerMetre();
      for (Past past : List.of(charged(saturating), anything(saturating, coercivity))) {
        Figures aimed = population(kind, kind.toNothing(), past, made, magnets);
        Figures ladders = population(kind, ladder, past, made, magnets);
        report(what, kind, aimed, ladders);
        assertThat(aimed.uncharged()).as("%s %s", what, kind).isGreaterThan(leastUncharged);
        assertThat(aimed.wrong()).isLessThan(0.005);
        aimedAll += aimed.mean();
        laddersAll += ladders.mean();
      }
    }
    int cases = 2 * PlannerLoopTest.CASES.size();
    System.out.printf(
        Locale.ROOT,
        "%s, all: aimed %.2f, ladders %.1f%n",
        what,
        aimedAll / cases,
        laddersAll / cases);
    assertThat(laddersAll / aimedAll).isGreaterThan(gain);
  }

  @Test
  void takesFewPulsesWhereFallingOnesTakeManyTimesAsMany() {
    compare(
        "own hysteresis",
        (kind, random) -> VirtualMagnet.of(kind.magnet(), true, random),
        0.97,
        10,
        60);
  }

  /** The planner was not made for it: relays with fields and biases of their own. */
  @Test
  void takesFewPulsesOfAnotherHysteresisToo() {
    compare(
        "other hysteresis",
        (kind, random) -> new RelayMagnet(kind.magnet(), random),
        0.89,
        2.5,
        12);
  }
}
