package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.port.TripCause;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: what lines tell of the head's clock, at each limit; times in milliseconds. */
class ClockWatchTest {

  private static final long MS = Look.MS;

  /** A line that comes at this time, and says that it was written at that. */
  private static Look line(long comesMs, long clockMs) {
    Look look = Look.at(comesMs);
    look.clockMs = clockMs;
    return look;
  }

  private static ClockWatch first() {
    return ClockWatch.POWER_ON.step(line(5_000, 100).seen());
  }

  @Test
  void beginsWithTheFirstLineAndTheTimeAtWhichItCame() {
    Look aged = line(5_030, 100);
    aged.ageNs = 30 * MS;

    assertThat(ClockWatch.POWER_ON.step(aged.seen()))
        .isEqualTo(first())
        .isEqualTo(new ClockWatch(17, 5_000 * MS, 4_900 * MS, 4_900 * MS, false, false));
  }

  @Test
  void keepsTheLineThatCameSoonest() {
    ClockWatch sooner = first().step(line(5_010, 130).seen());

    assertThat(sooner.soonestNs()).isEqualTo(4_880 * MS);
    assertThat(sooner.step(line(5_020, 121).seen())).isEqualTo(sooner);
    assertThat(sooner.beganNs()).isEqualTo(5_000 * MS);
  }

  @Test
  void takesNothingFromALineThatItHasSeen() {
    assertThat(first().step(line(20_000, 90_000).old().seen())).isEqualTo(first());
  }

  @Test
  void comparesFromTheSecondWindowOn() {
    assertThat(first().step(line(14_999, 10_500).seen()).compared()).isFalse();
    ClockWatch second = first().step(line(15_000, 10_500).seen());

    assertThat(second)
        .isEqualTo(new ClockWatch(17, 15_000 * MS, 4_500 * MS, 4_500 * MS, true, false));
  }

  /** In the window before the soonest came 4,900 ms after what it said. */
  @ParameterizedTest
  @CsvSource({"20300, false", "20301, true"})
  void isOffWhenAWindowIsSoonerByMoreThanTwoPartsInAHundred(long clockMs, boolean off) {
    ClockWatch second = first().step(line(15_000, 10_100).seen());

    ClockWatch third = second.step(line(25_000, clockMs).seen());

    assertThat(third.off()).isEqualTo(off);
    assertThat(third.causes()).isEqualTo(off ? Causes.when(true, TripCause.HEAD_CLOCK_FAST) : 0);
    assertThat(third.step(line(25_010, 20_310).seen()).off()).isEqualTo(off);
  }

  @Test
  void beginsAnewWithAnotherRunOfTheHead() {
    ClockWatch second = first().step(line(15_000, 10_100).seen());
    Look other = line(15_010, 20);
    other.bootId = 18;

    assertThat(second.step(other.seen()))
        .isEqualTo(new ClockWatch(18, 15_010 * MS, 14_990 * MS, 14_990 * MS, false, false));
  }
}
