package lodestep.dial;

import static lodestep.dial.Moves.assertEnds;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

/**
 * Goal: what is expected of a magnet by those before it, and what is remarked. Method: attempts on
 * magnets that fall by an even 2 µT for each A/m from 100 mT, after some of their kind.
 */
class ExpectationTest {

  private static Attempt after(int magnets, double fullTesla, double scale) {
    Attempt attempt = new Attempt();
    for (int i = 0; i < magnets; i++) {
      List<Progress.Point> points =
          new Attempt().went(0, fullTesla, 20_000 * scale, 0.6 * fullTesla).points;
      attempt.memory = attempt.memory.with(Attempt.KIND, new MagnetCurve(List.of(points)));
    }
    return attempt;
  }

  private static Expectation of(Attempt attempt) {
    RigNow now = new RigNow(Temperature.ofDegC(20), attempt.memory);
    return Expectation.of(attempt.work(), now, attempt.progress(), attempt.last.orElseThrow());
  }

  /** The first reading after the charge is all there is to go by. */
  @Test
  void takesAChargedMagnetAsItReads() {
    assertThat(of(new Attempt().charged(0.1)).level().tesla()).isEqualTo(0.1);
  }

  /**
   * Its lot needs 20 kA/m for 60 mT, known to a hundredth or two of the 40 mT that are lost; the
   * reading is known to 10 µT and counts for nearly all.
   */
  @Test
  void weighsTheReadingAgainstTheCurve() {
    Attempt attempt = after(8, 0.1, 1).knocked(20_000, 0.0602);
    attempt.last = Optional.of(Attempt.reading(0.0602, 4e-4));

    assertThat(of(attempt).level().tesla()).isBetween(0.06, 0.0602);
    assertThat(of(attempt).level().uncertainty()).isLessThan(4e-4);
    assertThat(of(after(8, 0.1, 1).knocked(20_000, 0.0602)).level().tesla())
        .isCloseTo(0.0602, within(2e-6));
  }

  /** After a proof that left it alone there are two readings of one state. */
  @Test
  void takesTheProofsReadingWithTheOneBefore() {
    Attempt attempt = after(8, 0.1, 1).knocked(20_000, 0.0600).reads(0.0601);

    assertThat(of(attempt).level().tesla()).isCloseTo(0.06005, within(2e-6));
  }

  @Test
  void remarksAMagnetThatIsUnlikeTheOthers() {
    Attempt attempt = after(5, 0.1, 1).charged(0.0604);
    attempt.fullTesla = 0.1;

    assertEnds(
        attempt.next(),
        Verdict.ACCEPTED,
        "inside the tolerance with no knock-down",
        "unlike the 5 of its kind before it: its full charge reads 40 % less than theirs");
    assertThat(of(after(2, 0.1, 1).charged(0.0604)).remark()).isEmpty();
    assertThat(of(after(5, 0.1, 1).charged(0.1)).remark()).isEmpty();
  }

  /** It is dialed with the care of the first of a kind, whatever the others have taught. */
  @Test
  void expectsNoMoreOfAnUnlikeMagnetThanOfTheFirst() {
    Attempt odd = after(6, 0.1, 1.1).charged(0.067);
    odd.task = Attempt.level(0.05, 0.001);
    Attempt first = new Attempt().charged(0.067);
    first.task = odd.task;

    assertThat(of(odd).belief().fieldLeaving(0.05, 0, 0))
        .isCloseTo(of(first).belief().fieldLeaving(0.05, 0, 0), within(1e-6));
  }

  @Test
  void remarksWhenTheMagnetsWanderTogether() {
    Attempt steady = after(12, 0.1, 1).charged(0.1);
    Attempt wandering = after(6, 0.1, 1);
    for (int i = 1; i <= 8; i++) {
      double full = 0.1 * (1 - 0.006 * i);
      List<Progress.Point> points = new Attempt().went(0, full, 20_000, 0.6 * full).points;
      wandering.memory = wandering.memory.with(Attempt.KIND, new MagnetCurve(List.of(points)));
    }
    wandering.charged(0.0946);

    assertThat(of(steady).remark()).isEmpty();
    assertThat(of(wandering).remark().orElseThrow())
        .contains("read less and less fully charged")
        .contains("read a reference magnet");
  }

  /** Three magnets make a lot; of two nobody can say what is usual. */
  @Test
  void remarksAnUnlikeMagnetFromTheFourthOn() {
    assertThat(of(after(3, 0.1, 1).charged(0.0604)).remark().orElseThrow())
        .contains("unlike the 3 of its kind before it");
    assertThat(of(after(2, 0.1, 1).charged(0.0604)).remark()).isEmpty();
  }

  @Test
  void saysInWhichWayAMagnetIsUnlikeTheOthers() {
    assertThat(of(after(5, 0.1, 1).charged(0.14)).remark().orElseThrow())
        .contains("its full charge reads 40 % more than theirs");
    // The others fell to 60 mT with 20 kA/m; one needs half as much more, one half as much.
    assertThat(of(after(5, 0.1, 1).knocked(30_000, 0.06)).remark().orElseThrow())
        .contains("it needs a stronger field than theirs");
    assertThat(of(after(5, 0.1, 1).knocked(10_000, 0.06)).remark().orElseThrow())
        .contains("it needs a weaker field than theirs");
  }

  /** A reading without any doubt leaves the curve nothing to say. */
  @Test
  void takesAReadingWithoutDoubtAsItStands() {
    Attempt attempt = after(8, 0.1, 1).knocked(20_000, 0.0602);
    attempt.last = Optional.of(Attempt.reading(0.0602, 0));

    assertThat(of(attempt).level().tesla()).isEqualTo(0.0602);
    assertThat(of(attempt).level().uncertainty()).isZero();
  }
}
