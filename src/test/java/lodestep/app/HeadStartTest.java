package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.config.HeadConfig;
import lodestep.port.HeadLink;
import lodestep.port.LinkState;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import org.junit.jupiter.api.Test;

/** Goal: a head that is missing, busy, silent or another one is refused before anything runs. */
class HeadStartTest {

  private static final HeadConfig.SerialHead WANTED =
      new HeadConfig.SerialHead("/dev/serial/by-id/usb-head-k3", "k3");
  private static final HeadFrame.Hello RIGHT =
      new HeadFrame.Hello(7, "k3", HeadFrame.PROTOCOL_VERSION, "1.2", true);

  private final HandPace pace = new HandPace(1_000_000L);
  private final ScriptedLink link = new ScriptedLink();

  /** A link whose state and frames a test sets. */
  private static final class ScriptedLink implements HeadLink {
    private final List<HeadRequest> requests = new ArrayList<>();
    private List<ReceivedFrame> frames = List.of();
    private LinkState state = new LinkState(false, 0, "not opened yet");

    @Override
    public List<ReceivedFrame> take() {
      List<ReceivedFrame> taken = frames;
      frames = List.of();
      return taken;
    }

    @Override
    public LinkState state(long nowNs) {
      return state;
    }

    @Override
    public void offer(HeadRequest request) {
      requests.add(request);
    }

    @Override
    public void stop() {}

    @Override
    public void close() {}
  }

  private Optional<String> objection() {
    return HeadStart.objection(link, WANTED, pace);
  }

  private void open(HeadFrame... frames) {
    link.state = new LinkState(true, 0, "open");
    List<ReceivedFrame> received = new ArrayList<>();
    for (HeadFrame frame : frames) {
      received.add(new ReceivedFrame(frame, pace.nowNs()));
    }
    link.frames = received;
  }

  @Test
  void acceptsTheHeadThatWasDescribed() {
    HeadFrame.Status status = new HeadFrame.Status(1, 7, 0, 0, 0, 0, 0, 0, 0, 0, 0);
    pace.meanwhile(nowNs -> open(status, RIGHT));

    assertThat(objection()).isEmpty();
  }

  @Test
  void acceptsAnySerialNumberWhereNoneIsNamed() {
    HeadConfig.SerialHead any = new HeadConfig.SerialHead(WANTED.port(), "");

    assertThat(HeadStart.objection(RIGHT, any)).isEmpty();
  }

  @Test
  void tellsAtOnceWhyThePortDoesNotOpen() {
    pace.meanwhile(nowNs -> link.state = new LinkState(false, 0, "there is no port; plug it in"));

    assertThat(objection()).contains("there is no port; plug it in");
    assertThat(pace.waits()).hasSize(1);
  }

  @Test
  void refusesAPortOnWhichNoHeadSpeaksAndAsksItAgainFirst() {
    link.state = new LinkState(true, 12, "open");

    assertThat(objection())
        .hasValueSatisfying(
            why ->
                assertThat(why)
                    .contains("no head answers on port " + WANTED.port())
                    .contains("12 lines"));
    assertThat(link.requests).hasSize(4).containsOnly(new HeadRequest.AskHello());
  }

  @Test
  void refusesAHeadOfAnotherProtocolVersion() {
    open(new HeadFrame.Hello(7, "k3", HeadFrame.PROTOCOL_VERSION + 1, "9.0", true));

    assertThat(objection())
        .hasValueSatisfying(why -> assertThat(why).contains("speaks protocol version 2"));
  }

  @Test
  void refusesAnotherHead() {
    open(new HeadFrame.Hello(7, "k4", HeadFrame.PROTOCOL_VERSION, "1.2", true));

    assertThat(objection())
        .hasValueSatisfying(
            why -> assertThat(why).contains("has serial number k4").contains("names k3"));
  }

  @Test
  void refusesAHeadThatHasNotSeenItsWatchdogWork() {
    open(new HeadFrame.Hello(7, "k3", HeadFrame.PROTOCOL_VERSION, "1.2", false));

    assertThat(objection()).hasValueSatisfying(why -> assertThat(why).contains("watchdog"));
  }
}
