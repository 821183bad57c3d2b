package lodestep.scan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFrame;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.LongRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;

class HeadTimeTest {

  private static final long MS = 1_000_000L;

  private static HeadFrame.Status line(int bootId, long clockMs) {
    return new HeadFrame.Status(
        (int) (clockMs / 10 % 65_536), bootId, clockMs, 1, 0, 2_200, 2_400, 0, 0, 0, 0);
  }

  private static HeadTime after(long... delaysMs) {
    HeadTime time = HeadTime.UNKNOWN;
    for (int i = 0; i < delaysMs.length; i++) {
      time = time.after(line(3, 10L * i), (10L * i + delaysMs[i]) * MS);
    }
    return time;
  }

  @Test
  void seesNoDelayOnAnEvenLine() {
    assertThat(after(7, 7, 7, 7).delayNs()).isLessThan(MS);
  }

  @Test
  void countsWhatALineComesLaterThanTheSoonest() {
    assertThat(after(7, 5, 9, 205).delayNs()).isBetween(198 * MS, 200 * MS);
  }

  @Test
  void forgetsADelayOnceItIsOver() {
    assertThat(after(7, 5, 205, 205, 5).delayNs()).isLessThan(MS);
  }

  @Test
  void beginsAnewWithAnotherBoot() {
    HeadTime late = after(5, 205);

    assertThat(late.after(line(4, 10), 900 * MS).delayNs()).isZero();
  }

  /** Half a per cent slow is a clock; two per cent is a line that falls behind. */
  @Test
  void takesASlowClockForNoDelayButALineThatFallsBehindForOne() {
    HeadTime slow = HeadTime.UNKNOWN;
    HeadTime falling = HeadTime.UNKNOWN;
    for (int i = 0; i < 1_000; i++) {
      slow = slow.after(line(3, 10L * i), Math.round(10L * i * 1.0049) * MS);
      falling = falling.after(line(3, 10L * i), Math.round(10L * i * 1.02) * MS);
    }

    assertThat(slow.delayNs()).isLessThan(2 * MS);
    assertThat(falling.delayNs()).isGreaterThan(140 * MS);
  }

  @Test
  void keepsCountWhenTheHeadsClockIsVeryLarge() {
    HeadTime time = HeadTime.UNKNOWN.after(line(3, 9_999_999_999_980L), 0);

    assertThat(time.after(line(3, 9_999_999_999_990L), 110 * MS).delayNs())
        .isBetween(99 * MS, 100 * MS);
  }

  /** Whatever comes when: no line counts as newer than it came, nor as one from before its day. */
  @Property(tries = 300)
  void delayIsNeverNegativeAndNeverMoreThanTheRealOne(
      @ForAll @Size(min = 1, max = 40) List<@LongRange(min = 0, max = 5_000) Long> delaysMs) {
    NewestStatus status = NewestStatus.NONE;
    long arrivedMs = 0;
    for (int i = 0; i < delaysMs.size(); i++) {
      long writtenMs = 10L * i;
      arrivedMs = Math.max(arrivedMs, writtenMs + delaysMs.get(i));
      status = status.after(List.of(new ReceivedFrame(line(3, writtenMs), arrivedMs * MS)));

      assertThat(status.line().orElseThrow().receivedAtNs())
          .isBetween(writtenMs * MS, arrivedMs * MS);
    }
  }
}
