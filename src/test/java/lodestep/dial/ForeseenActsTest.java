package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: how many acts a magnet is expected to take before it is begun. Method: magnets that fall by
 * an even 2 µT for each A/m from 100 mT, so that what a pulse leaves is known by hand.
 */
class ForeseenActsTest {

  private static ForeseenActs of(Task task) {
    return of(new Attempt(), task);
  }

  private static ForeseenActs of(Attempt attempt, Task task) {
    attempt.task = task;
    return ForeseenActs.of(attempt.dial());
  }

  /** Two full charges prove the first of a kind; the next needs one. */
  @Test
  void chargesTwiceUntilTheKindsFullChargeIsProven() {
    Attempt proven = new Attempt();
    proven.memory = RigMemory.none().withChargeProven(Attempt.KIND, 0.1);
    Attempt byHand = new Attempt();
    byHand.charge = Optional.empty();
    Task task = Attempt.level(0.06, 0.001);

    assertThat(of(task).charges()).isEqualTo(2);
    assertThat(of(proven, task).charges()).isEqualTo(1);
    assertThat(of(byHand, task).charges()).isZero();
  }

  /** The proof is one more, and a magnet unlike the others takes two more. */
  @ParameterizedTest
  @CsvSource({"0.0995, 0.001, 1", "0.06, 0.03, 2"})
  void countsAPulseWhereOneReachesAWideBandAndNoneWhereTheFullChargeIsInIt(
      double target, double tolerance, int least) {
    ForeseenActs acts = of(Attempt.level(target, tolerance));

    assertThat(acts.least()).isEqualTo(least);
    assertThat(acts.most()).isEqualTo(least + 2);
  }

  @Test
  void expectsNoFewerPulsesTheNarrowerTheBand() {
    int before = 0;
    for (double tolerance : new double[] {0.03, 0.01, 0.003, 0.001, 0.0003}) {
      int now = of(Attempt.level(0.06, tolerance)).least();
      assertThat(now).as("within %s T", tolerance).isGreaterThanOrEqualTo(before);
      before = now;
    }
    assertThat(before).isBetween(3, 8);
  }

  /** One level of 0.667 A gives 6,667 A/m and leaves 86.7 mT; a stronger one there is not. */
  @Test
  void countsTheRefusalAsAnActWhereTheCoilIsTooWeak() {
    Attempt weak = new Attempt();
    weak.knockDown = Attempt.onSupply(32.0);

    assertThat(of(weak, Attempt.level(0.06, 0.001)).least()).isEqualTo(3);
  }

  @Test
  void knowsNoBetterThanAFewForWhatIsSoughtWithoutACurve() {
    ForeseenActs sought = new ForeseenActs(0, 2, 8);

    assertThat(of(Attempt.downBy(0.04, 0.001))).isEqualTo(sought);
    assertThat(of(new Task.Demagnetise(new FluxDensity(0.001)))).isEqualTo(sought);
  }

  @Test
  void chargesAMagnetThatIsOnlyToBeFullAndReadsItAlone() {
    assertThat(of(new Task.FullCharge())).isEqualTo(new ForeseenActs(2, 0, 0));
  }
}
