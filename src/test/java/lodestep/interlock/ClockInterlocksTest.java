package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.port.TripCause;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: a head whose clock gains two parts in a hundred is found within twenty seconds. */
class ClockInterlocksTest {

  private static Bench gaining(Bench bench, double fraction, long milliseconds) {
    double gained = bench.clockGainMs;
    for (long ms = 0; ms < milliseconds; ms += 5) {
      gained += 5 * fraction;
      bench.clockGainMs = gained;
      bench.scan();
    }
    return bench;
  }

  @Test
  @Provokes(TripCause.HEAD_CLOCK_FAST)
  void tripsWhenTheHeadsClockGainsMoreThanTwoPartsInAHundred() {
    assertThat(gaining(Bench.ready(), 0.0205, 21_000).tripped())
        .contains(TripCause.HEAD_CLOCK_FAST);
  }

  @ParameterizedTest
  @CsvSource({"0.0195", "0.005", "0", "-0.004"})
  @Spares(TripCause.HEAD_CLOCK_FAST)
  void sparesAClockWithinTwoPartsInAHundred(double fraction) {
    assertThat(gaining(Bench.ready(), fraction, 60_000).tripped()).isEmpty();
  }

  /** A program that has just started may hear every line late for a while. */
  @Test
  @Spares(TripCause.HEAD_CLOCK_FAST)
  void sparesLinesThatCameLateAndComeInTimeAgain() {
    Bench bench = Bench.ready();
    bench.clockGainMs = -120;
    bench.run(4_000);
    bench.clockGainMs = 0;

    assertThat(bench.run(40_000).tripped()).isEmpty();
  }

  @Test
  void standsNoLongerThanTheClockGoesFast() {
    Bench bench = gaining(Bench.ready(), 0.03, 21_000);
    assertThat(bench.state.present(TripCause.HEAD_CLOCK_FAST)).isTrue();

    assertThat(bench.run(21_000).state.present(TripCause.HEAD_CLOCK_FAST)).isFalse();
  }

  /** What one run of the head has shown says nothing of the next. */
  @Test
  void beginsAnewWithAnotherRunOfTheHead() {
    Bench bench = gaining(Bench.ready(), 0.03, 15_000);
    bench.bootId = 18;
    bench.clockGainMs += 5_000;

    assertThat(bench.run(25_000).state.present(TripCause.HEAD_CLOCK_FAST)).isFalse();
  }
}
