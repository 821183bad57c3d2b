package lodestep.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.TreeMap;
import lodestep.ledger.ClockMarks.Mark;
import org.junit.jupiter.api.Test;

/** Goal: a reader sees which times are doubtful, and that the order is not. */
class ClockWordsTest {

  @Test
  void saysNothingOfSoundTimes() {
    assertThat(ClockWords.lines(new TreeMap<>())).isEmpty();
    TreeMap<Long, Mark> sound = new TreeMap<>();
    sound.put(4L, Mark.SOUND);
    assertThat(ClockWords.lines(sound)).isEmpty();
  }

  @Test
  void namesEachStretchOnce() {
    TreeMap<Long, Mark> marks = new TreeMap<>();
    marks.put(3L, Mark.SOUND);
    marks.put(5L, Mark.SET_BACK);
    marks.put(9L, Mark.SET_BACK);
    marks.put(12L, Mark.SET_FORWARD);
    marks.put(14L, Mark.SOUND);

    assertThat(ClockWords.lines(marks))
        .isEqualTo(
            List.of(
                "Time of entries 5 to 9: clock set back; the order is that of the numbers.",
                "Time of entry 12: clock set forward, or the machine slept; the order is that of"
                    + " the numbers."));
  }
}
