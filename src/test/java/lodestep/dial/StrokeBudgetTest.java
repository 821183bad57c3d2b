package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import lodestep.quantity.FieldStrength;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: a jig that may make three strokes keeps the last one for the proof. */
class StrokeBudgetTest {

  /** After so many strokes and two charges, of a magnet that has been knocked down or not. */
  private static Optional<Move.Finish> objection(Purpose purpose, int made, boolean knocked) {
    Attempt attempt = knocked ? new Attempt().knocked(20_000, 0.07) : new Attempt().charged(0.07);
    attempt.charges = 2;
    attempt.pulses = 2 + made;
    Move.Fire fire = new Move.Fire(purpose, new FieldStrength(9_000), false);
    return new StrokeBudget(Attempt.onJig(false, 3))
        .objection(fire, attempt.progress(), Attempt.reading(0.07));
  }

  @ParameterizedTest
  @CsvSource({
    "KNOCK_DOWN, 1, false", "KNOCK_DOWN, 2, true", "PROOF, 2, false", "PROOF, 3, true",
    "DEMAGNETISE, 2, false", "DEMAGNETISE, 3, true", "CHARGE, 1, false", "CHARGE, 2, true"
  })
  void objectsToWhatTheRestOfTheTravelIsTooLittleFor(Purpose purpose, int made, boolean objects) {
    assertThat(objection(purpose, made, true).isPresent()).isEqualTo(objects);
  }

  @Test
  void neverObjectsToTheFirstCharge() {
    assertThat(objection(Purpose.CHARGE, 3, false)).isEmpty();
    assertThat(objection(Purpose.CHARGE, 4, false)).isPresent();
  }

  @Test
  void saysWhatIsUsedUpAndWhatIsLeft() {
    assertThat(objection(Purpose.KNOCK_DOWN, 2, true).orElseThrow())
        .isEqualTo(
            new Move.Finish(
                Verdict.REFUSED,
                "the travel budget of this jig is used up: it reads 700.0 G after 2 strokes, and"
                    + " the one that is left is kept for the proof; raise travel_budget in"
                    + " rig.toml, or ask for a wider tolerance"));
    assertThat(objection(Purpose.KNOCK_DOWN, 3, true).orElseThrow().why())
        .contains("after 3 strokes; raise");
    assertThat(objection(Purpose.PROOF, 3, true).orElseThrow().why())
        .contains("after 3 strokes, and the last of them, its proof, moved it; raise");
    Move.Finish charge = objection(Purpose.CHARGE, 2, true).orElseThrow();
    assertThat(charge.verdict()).isEqualTo(Verdict.RECHARGE_NEEDED);
  }

  @Test
  void countsOneStrokeAsOne() {
    Attempt attempt = new Attempt().knocked(20_000, 0.07);
    attempt.knockDown = Attempt.onJig(false, 2);

    assertThat(
            new StrokeBudget(attempt.knockDown)
                .objection(
                    new Move.Fire(Purpose.KNOCK_DOWN, new FieldStrength(9_000), false),
                    attempt.progress(),
                    Attempt.reading(0.07))
                .orElseThrow()
                .why())
        .contains("after 1 stroke, and the one");
  }
}
