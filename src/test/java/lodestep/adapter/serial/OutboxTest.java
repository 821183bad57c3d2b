package lodestep.adapter.serial;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.protocol.HeadRequest;
import org.junit.jupiter.api.Test;

class OutboxTest {

  private static final byte[] FIRST = {'a', '\n'};
  private static final byte[] SECOND = {'b', '\n'};
  private static final byte[] STOP = {HeadRequest.STOP_BYTE};

  private final Outbox outbox = new Outbox();

  @Test
  void givesLinesInTheOrderTheyCame() throws Exception {
    outbox.offer(FIRST);
    outbox.offer(SECOND);

    assertThat(outbox.next()).contains(FIRST);
    assertThat(outbox.next()).contains(SECOND);
  }

  @Test
  void letsTheStopGoPastEverythingAndDropsWhatWaited() throws Exception {
    outbox.offer(FIRST);
    outbox.stop();
    outbox.offer(SECOND);

    assertThat(outbox.next().orElseThrow()).isEqualTo(STOP);
    assertThat(outbox.next()).contains(SECOND);
  }

  @Test
  void dropsLinesOverItsBound() {
    for (int i = 0; i < Outbox.LINES_MAX + 1; i++) {
      outbox.offer(FIRST);
    }

    assertThat(outbox.waiting()).isEqualTo(Outbox.LINES_MAX);
  }

  @Test
  void givesAStopStillWhenClosedAndThenNothing() throws Exception {
    outbox.offer(FIRST);
    outbox.stop();
    outbox.close();
    outbox.offer(SECOND);

    assertThat(outbox.next().orElseThrow()).isEqualTo(STOP);
    assertThat(outbox.next()).isEmpty();
  }
}
