package lodestep.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.function.Function;
import lodestep.port.ChainEnd;
import lodestep.port.Hash;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class RetentionTest {

  /** A Monday, by the calendar: 2026-06-01 (ISO 8601 week 23). */
  private static final Instant MONDAY = Instant.parse("2026-06-01T02:00:00Z");

  private static Backup made(Instant when, long number) {
    return new Backup(
        "attic", "virtual", Hash.ZERO, new ChainEnd(number, Hash.ZERO), "", 0, "", when, "1");
  }

  private static List<Backup> nightly(int nights) {
    List<Backup> all = new ArrayList<>();
    for (int night = 0; night < nights; night++) {
      all.add(made(MONDAY.plus(Duration.ofDays(night)), night + 1));
    }
    return all;
  }

  private static List<Long> kept(Retention retention, List<Backup> all) {
    List<Backup> spare = retention.spare(all, Function.identity());
    return all.stream()
        .filter(each -> !spare.contains(each))
        .map(each -> each.end().number())
        .sorted()
        .toList();
  }

  /**
   * Counted on a calendar: of 35 nights from Monday 1 June, the last seven are 29 to 35; the weeks
   * end on the Sundays, nights 35, 28, 21 and 14.
   */
  @Test
  void keepsSevenDaysAndFourWeeksOfNightlyBackups() {
    assertThat(kept(Retention.of("7 days, 4 weeks"), nightly(35)))
        .containsExactly(14L, 21L, 28L, 29L, 30L, 31L, 32L, 33L, 34L, 35L);
  }

  @Test
  void keepsTheNewestOfADay() {
    List<Backup> all =
        List.of(
            made(MONDAY, 1),
            made(MONDAY.plusSeconds(3_600), 2),
            made(MONDAY.plusSeconds(86_400), 3));

    assertThat(kept(new Retention(2, 0), all)).containsExactly(2L, 3L);
  }

  @Test
  void losesNothingWhenARigStandsStillForASummer() {
    List<Backup> all = new ArrayList<>(nightly(7));
    all.add(made(MONDAY.plus(Duration.ofDays(120)), 8));

    assertThat(kept(new Retention(7, 0), all)).containsExactly(2L, 3L, 4L, 5L, 6L, 7L, 8L);
  }

  @Test
  void keepsTheOneThatReachesFurthestWhateverTheClockSaid() {
    List<Backup> all = new ArrayList<>(nightly(5));
    all.add(made(MONDAY.minus(Duration.ofDays(9_000)), 6));

    assertThat(kept(new Retention(1, 1), all)).containsExactly(5L, 6L);
  }

  @Property(tries = 200)
  void askedAgainFindsNothingMoreToTakeAway(
      @ForAll @Size(max = 60) List<@IntRange(max = 5_000) Integer> hours,
      @ForAll @IntRange(max = 9) int days,
      @ForAll @IntRange(min = 1, max = 9) int weeks) {
    List<Backup> all = new ArrayList<>();
    for (int hour : hours) {
      all.add(made(MONDAY.plus(Duration.ofHours(hour)), all.size() + 1L));
    }
    Retention retention = new Retention(days, weeks);
    List<Backup> left = new ArrayList<>(all);
    left.removeAll(retention.spare(all, Function.identity()));
    Collections.reverse(left);

    assertThat(retention.spare(left, Function.identity())).isEmpty();
    assertThat(left.size()).isLessThanOrEqualTo(days + weeks + 1);
    assertThat(left.isEmpty()).isEqualTo(all.isEmpty());
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "7", "days", "4 weeks", "7 days 4 weeks", "-1 days", "0 days"})
  void refusesWhatItCannotRead(String words) {
    assertThatIllegalArgumentException().isThrownBy(() -> Retention.of(words));
  }

  @Test
  void readsDaysAlone() {
    assertThat(Retention.of(" 1 day ")).isEqualTo(new Retention(1, 0));
  }
}
