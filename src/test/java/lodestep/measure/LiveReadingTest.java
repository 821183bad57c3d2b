package lodestep.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

class LiveReadingTest {

  private static final long LINE_NS = 10_000_000L;
  private static final Temperature ROOM = Temperature.ofDegC(20);
  private static final GaugeCalibration GAUGE = new GaugeCalibration(500_000, 0, ROOM, 0.001);

  private final LiveReading start = LiveReading.start(GAUGE, 100);

  private static LiveReading fed(LiveReading from, long fromNs, int... counts) {
    LiveReading reading = from;
    for (int i = 0; i < counts.length; i++) {
      reading = reading.with(counts[i], ROOM, fromNs + i * LINE_NS);
    }
    return reading;
  }

  @Test
  void hasNothingToShowBeforeTheFirstLine() {
    assertThat(start.value()).isEmpty();
    assertThat(start.ageNs(5)).isEmpty();
    assertThat(start.wander().tesla()).isZero();
  }

  @Test
  void takesTheZeroOffAndKeepsTheSign() {
    assertThat(fed(start, 0, -24_900).value().orElseThrow().tesla()).isCloseTo(-0.05, within(1e-9));
  }

  @Test
  void showsTheMeanOfTheNewestTenthOfASecond() {
    LiveReading reading = fed(start, 0, 9_000, 1_100, 1_100, 1_100, 1_100, 1_100, 1_100, 1_100);
    reading = fed(reading, 8 * LINE_NS, 1_100, 1_100, 1_200);

    assertThat(reading.value().orElseThrow().tesla()).isCloseTo(0.00202, within(1e-9));
  }

  @Test
  void keepsTheSmallestAndLargestOfSingleLinesUntilTheReset() {
    LiveReading reading = fed(start, 0, 600, -400, 1_100, 100);

    assertThat(reading.smallest()).contains(new FluxDensity(-0.001));
    assertThat(reading.largest()).contains(new FluxDensity(0.002));
    LiveReading again = fed(reading.reset(), 4 * LINE_NS, 350);
    assertThat(again.smallest()).contains(new FluxDensity(0.0005));
    assertThat(again.largest()).isEqualTo(again.smallest());
  }

  @Test
  void wandersByWhatTheLastSecondShowsAndNoMore() {
    LiveReading reading = fed(start, 0, 5_100, 100, 600);

    assertThat(reading.wander().tesla()).isCloseTo(0.01, within(1e-9));
    LiveReading later = fed(reading, 1_005_000_000L, 700);
    assertThat(later.wander().tesla()).isCloseTo(0.0012, within(1e-9));
    LiveReading muchLater = fed(later, 3_000_000_000L, 700, 750);
    assertThat(muchLater.wander().tesla()).isCloseTo(0.0001, within(1e-9));
  }

  @Test
  void holdsOneValueAndLetsItGo() {
    LiveReading held = fed(fed(start, 0, 1_100).holdOrRelease(), 500_000_000L, 9_000);

    assertThat(held.held().orElseThrow().tesla()).isCloseTo(0.002, within(1e-12));
    assertThat(held.heldNs(500_000_000L)).contains(500_000_000L);
    assertThat(held.value().orElseThrow().tesla()).isGreaterThan(0.01);
    assertThat(held.holdOrRelease().held()).isEmpty();
    assertThat(held.holdOrRelease().heldNs(500_000_000L)).isEmpty();
  }

  @Test
  void tellsTheAgeOfTheNewestLine() {
    assertThat(fed(start, 7, 100).ageNs(400_000_007L)).contains(400_000_000L);
  }

  @Test
  void forgetsWhatWasReadByAnotherZero() {
    LiveReading zeroed = fed(start, 0, 600).withZero(600);

    assertThat(zeroed.value()).isEmpty();
    assertThat(zeroed.largest()).isEmpty();
    assertThat(fed(zeroed, LINE_NS, 600).value().orElseThrow().tesla()).isZero();
  }
}
