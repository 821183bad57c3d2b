package lodestep.adapter.serial;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadLineWriter;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.HostLine;
import lodestep.protocol.RequestWriter;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: a run in virtual time can know that no byte is under way on the line. Method: a real
 * terminal pair with the test in the part of the head, and a clock that stands.
 */
class WaitingForTrafficTest {

  /** For a hung program only. */
  private static final long LONG_MS = 60_000;

  private static final byte[] HELLO =
      HeadLineWriter.line(new HeadFrame.Hello(7, "LINE-07", 1, "1.0", true));

  private final Path folder;
  private final PtyPair cable;
  private final SerialHeadLink link;

  WaitingForTrafficTest(@TempDir Path folder) {
    this.folder = folder;
    this.cable = PtyPair.in(folder);
    this.link = SerialHeadLink.to(cable.near(), new HandClock());
  }

  @AfterEach
  void leaveNothing() {
    link.close();
    cable.close();
  }

  @Test
  void knowsThatEverythingOfferedHasBeenWritten() throws InterruptedException {
    assertThat(link.awaitFirstOpening(LONG_MS)).isTrue();
    assertThat(link.state(0).open()).isTrue();
    HeadRequest heartbeat = new HeadRequest.Heartbeat(1, false);
    link.offer(heartbeat);
    link.stop();
    link.offer(heartbeat);

    assertThat(link.awaitSent(LONG_MS)).isTrue();

    StringBuilder came = new StringBuilder();
    Polling.until(
        "all that was sent",
        () -> {
          came.append(new String(cable.read(), StandardCharsets.ISO_8859_1));
          return came.length() >= link.sentBytes();
        });
    assertThat(came).hasSize((int) link.sentBytes());
    String line =
        new String(
            RequestWriter.line(new HostLine(link.session(), heartbeat)), StandardCharsets.US_ASCII);
    assertThat(came.toString()).endsWith("\u0095" + line);
  }

  @Test
  void hasTheFramesOnceTheirBytesHaveBeenReceived() throws InterruptedException {
    link.awaitFirstOpening(LONG_MS);
    cable.write(HELLO);

    assertThat(link.awaitReceived(HELLO.length, LONG_MS)).isTrue();
    assertThat(link.take()).hasSize(1);
    assertThat(link.awaitReceived(HELLO.length + 1, 0)).isFalse();
  }

  @Test
  void waitsForNothingOnALineThatIsLost() throws InterruptedException {
    link.awaitFirstOpening(LONG_MS);
    cable.cut();

    assertThat(link.awaitReceived(Long.MAX_VALUE, LONG_MS)).isTrue();
    link.offer(new HeadRequest.AskHello());
    assertThat(link.awaitSent(LONG_MS)).isTrue();
    assertThat(link.state(0).open()).isFalse();
  }

  @Test
  void tellsOfAFirstOpeningThatFailed() throws InterruptedException {
    try (SerialHeadLink nowhere = SerialHeadLink.to(folder.resolve("nowhere"), new HandClock())) {
      assertThat(nowhere.awaitFirstOpening(LONG_MS)).isTrue();
      assertThat(nowhere.state(0).open()).isFalse();
    }
  }
}
