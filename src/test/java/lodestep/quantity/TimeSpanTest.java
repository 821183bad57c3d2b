package lodestep.quantity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TimeSpanTest {

  @ParameterizedTest
  @CsvSource({
    "45 s,45",
    "10 min,600",
    "1.5 h,5400",
    "2 d,172800",
    "1 day,86400",
    "1 week,604800",
    "1 year,31557600",
    "3 weeks,1814400"
  })
  void readsWhatAPersonWrites(String text, double seconds) {
    assertThat(TimeSpan.parse(text).seconds()).isEqualTo(seconds);
  }

  @ParameterizedTest
  @CsvSource({
    "45,45 s",
    "600,10 min",
    "5430,90.5 min",
    "36000,10 h",
    "864000,10 days",
    "315576000,10 years"
  })
  void writesTheUnitThatSuits(double seconds, String words) {
    assertThat(new TimeSpan(seconds).written()).isEqualTo(words);
  }

  @ParameterizedTest
  @CsvSource({"10", "-3 s", "2 fortnights", "101 years"})
  void refusesWhatIsNone(String text) {
    assertThatIllegalArgumentException().isThrownBy(() -> TimeSpan.parse(text));
  }

  @Test
  void isNoNumberOutOfRange() {
    assertThatIllegalArgumentException().isThrownBy(() -> new TimeSpan(Double.NaN));
    assertThatIllegalArgumentException().isThrownBy(() -> new TimeSpan(-1));
  }
}
