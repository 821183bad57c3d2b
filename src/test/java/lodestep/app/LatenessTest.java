package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Path;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class LatenessTest {

  @Test
  void givesTheWakeThatSoManyWereNoLaterThan() {
    long[] wakes = LongStream.rangeClosed(1, 10_000).map(n -> 10_001 - n).toArray();

    Lateness late = Lateness.of(wakes);

    assertThat(late).isEqualTo(new Lateness(5_001, 9_901, 9_991, 10_000));
    assertThat(wakes[0]).as("left as it was").isEqualTo(10_000);
  }

  @Test
  void writesMilliseconds() {
    Lateness late = new Lateness(81_000, 1_520_000, 29_776_000, 98_611_000);

    assertThat(late.written()).isEqualTo("0.08 / 1.52 / 29.78 ms");
    assertThat(late.worstWritten()).isEqualTo("worst 98.61 ms");
  }

  @Test
  void refusesNoWakesAtAll() {
    assertThatThrownBy(() -> Lateness.of(new long[0])).hasMessageContaining("not woken once");
  }

  @Test
  void keepsHowLateEachWaitingEndedAsLongAsThereIsRoom() {
    HandPace hand = new HandPace(1_000);
    WatchedPace watched = new WatchedPace(hand, 3);

    for (int wake = 1; wake <= 5; wake++) {
      watched.until(hand.nowNs() + 500);
    }

    assertThat(watched.count()).isEqualTo(3);
    assertThat(watched.between(0, 3)).containsExactly(0, 0, 0);
    assertThat(watched.nowNs()).isEqualTo(hand.nowNs());
  }

  /** Needs the C compiler that the head's firmware needs too. */
  @Test
  void plainLoopSaysItsQuantilesInOrder(@TempDir Path folder) throws IOException {
    PlainLoop loop = PlainLoop.compiledIn(folder).orElseThrow();

    Lateness late = PlainLoop.result(loop.start(1_000_000, 50));

    assertThat(late.p50Ns()).isBetween(0L, late.p99Ns());
    assertThat(late.p999Ns()).isBetween(late.p99Ns(), late.worstNs());
  }
}
