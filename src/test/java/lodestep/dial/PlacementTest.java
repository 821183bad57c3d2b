package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import lodestep.measure.Acceptance;
import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;

/** Goal: a verdict counts how the magnet lies in its nest, as its certificate does. */
class PlacementTest {

  /** Wanted are 60 mT ± 1 mT; a quiet reading there. */
  private static Attempt at(double tesla, double placement) {
    Attempt attempt = new Attempt().knocked(20_000, tesla);
    attempt.task = new Task.ToLevel(new FluxDensity(0.06), new FluxDensity(0.001));
    attempt.mode = PlannerMode.SMALL_STEPS;
    attempt.last = Optional.of(Attempt.reading(tesla, 1e-6));
    attempt.placement = placement;
    return attempt;
  }

  /** By hand: 0.3 per cent of 60 mT are 0.18 mT, and 0.36 mT of the tolerance are guard. */
  @Test
  void narrowsTheBandThatIsAccepted() {
    Move.Fire inside = (Move.Fire) at(0.0606, 0).next();
    Move.Fire outside = (Move.Fire) at(0.0606 + 0.0001, 0.003).next();
    Move.Fire sound = (Move.Fire) at(0.0606 - 0.0001, 0.003).next();

    assertThat(inside.purpose()).isEqualTo(Purpose.PROOF);
    assertThat(outside.purpose()).isEqualTo(Purpose.KNOCK_DOWN);
    assertThat(sound.purpose()).isEqualTo(Purpose.PROOF);
    Band band = Band.of(at(0.0606, 0.003).dial());
    assertThat(band.guard().tesla()).isCloseTo(Acceptance.COVERAGE * 0.003 * 0.0606, within(2e-6));
  }

  @Test
  void refusesAToleranceThatSeatingAloneUsesUp() {
    Move move = at(0.08, 0.02).next();

    assertThat(move)
        .isInstanceOfSatisfying(
            Move.Finish.class,
            end -> assertThat(end.why()).contains("is tighter than this gauge can tell"));
  }
}
