package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.Test;

/** Goal: what an attempt has shown of a curve, on record and back. */
class MagnetCurveTest {

  private static final Move.Finish ACCEPTED = new Move.Finish(Verdict.ACCEPTED, "");

  private static Attempt twiceCharged() {
    Attempt attempt = new Attempt().knocked(20_000.25, 0.061);
    attempt.earlier = List.of(new Attempt().went(0, 0.1001, 15_000, 0.07, 25_000, 0.052).points);
    return attempt;
  }

  @Test
  void comesBackFromTheRecordAsItWas() {
    MagnetCurve curve = MagnetCurve.taught(twiceCharged().dial(), ACCEPTED).orElseThrow();
    List<LedgerEvent> events = curve.events(twiceCharged().work());
    Optional<MagnetCurve> back = Optional.empty();
    for (LedgerEvent event : events) {
      back = Optional.of(MagnetCurve.with(back, (LedgerEvent.CurvePoint) event));
    }

    assertThat(events).hasSize(3);
    assertThat(events.get(0))
        .isEqualTo(new LedgerEvent.CurvePoint(Attempt.KIND, 7, 3, 1, 100_100, 15_000_000, 70_000));
    assertThat(back.orElseThrow().charges()).hasSize(2);
    for (int charge = 0; charge < 2; charge++) {
      List<Progress.Point> before = curve.charges().get(charge);
      List<Progress.Point> after = back.orElseThrow().charges().get(charge);
      assertThat(after).hasSameSizeAs(before);
      for (int i = 0; i < before.size(); i++) {
        assertThat(after.get(i).fieldAperM()).isCloseTo(before.get(i).fieldAperM(), within(1e-3));
        assertThat(after.get(i).levelTesla()).isCloseTo(before.get(i).levelTesla(), within(1e-6));
      }
    }
  }

  @Test
  void showsNothingWithoutAFullChargeThatWasKnockedDown() {
    Attempt onlyDown = new Attempt().went(0, 0.09, 10_000, 0.08).reads(0.08);

    assertThat(MagnetCurve.taught(new Attempt().charged(0.1).dial(), ACCEPTED)).isEmpty();
    assertThat(MagnetCurve.taught(onlyDown.dial(), ACCEPTED)).isEmpty();
  }

  /** A trip in the middle leaves its largest pulse unknown. */
  @Test
  void teachesNothingFromAnAttemptThatWasTripped() {
    Move.Finish tripped = new Move.Finish(Verdict.TRIPPED, "");

    assertThat(MagnetCurve.taught(twiceCharged().dial(), tripped)).isEmpty();
  }

  @Test
  void isRememberedForTheNewestMagnetsOfItsKind() {
    RigMemory memory = RigMemory.none();
    for (int i = 1; i <= 30; i++) {
      List<Progress.Point> points = new Attempt().went(0, 0.1, 1_000 * i, 0.06).points;
      memory = memory.with("kind", new MagnetCurve(List.of(points)));
    }

    assertThat(memory.curves("another")).isEmpty();
    assertThat(memory.curves("kind")).hasSize(24);
    assertThat(memory.curves("kind").get(23).charges().get(0).get(1).fieldAperM())
        .isEqualTo(30_000);
  }
}
