package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.config.BankConfig;
import lodestep.config.HeadConfig;
import lodestep.config.Limits;
import lodestep.interlock.Builds;
import lodestep.interlock.HeadBuild;
import lodestep.interlock.InterlockSettings;
import lodestep.port.HeadLink;
import lodestep.port.LinkState;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

/** Goal: a head that is missing, busy, silent or another one is refused before anything runs. */
class HeadStartTest {

  private static final HeadConfig.SerialHead WANTED =
      new HeadConfig.SerialHead("/dev/serial/by-id/usb-head-k3", "k3");
  private static final HeadFrame.Hello RIGHT =
      new HeadFrame.Hello(7, "k3", HeadFrame.PROTOCOL_VERSION, "1.2", true);

  private static final HeadBuild BUILD =
      HeadBuild.of(
          new InterlockSettings(Limits.standard(), BankConfig.NONE, Temperature.ofDegC(65), "k3"));

  /** What the rig asks of its head; nothing where it only measures. */
  private Optional<HeadBuild> build = Optional.empty();

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
    return HeadStart.objection(link, WANTED, build, pace);
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
  void acceptsAHeadBuiltWithTheRigsFiguresAndWaitsForThem() {
    build = Optional.of(BUILD);
    pace.meanwhile(
        nowNs -> {
          if (link.requests.isEmpty()) {
            open(RIGHT);
          } else {
            open(RIGHT, Builds.inRun(7, BUILD.wanted()));
          }
        });

    assertThat(objection()).isEmpty();
    assertThat(link.requests).isNotEmpty();
  }

  @Test
  void refusesAHeadBuiltWithOtherFiguresAndNamesBoth() {
    build = Optional.of(BUILD);
    open(RIGHT, Builds.withHottest(BUILD.wanted(), 8_000));

    assertThat(objection())
        .contains(
            "the head on port "
                + WANTED.port()
                + " was built with other figures than rig.toml has: highest_temperature 80 \u00b0C"
                + " and not 65 \u00b0C; correct rig.toml, or load the firmware built for this rig"
                + " into the head");
  }

  @Test
  void refusesAHeadThatDoesNotSayWhatItWasBuiltWith() {
    build = Optional.of(BUILD);
    open(RIGHT);

    assertThat(objection())
        .hasValueSatisfying(why -> assertThat(why).contains("does not say what it was built with"));
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
        .hasValueSatisfying(
            why ->
                assertThat(why)
                    .contains("speaks protocol version " + (HeadFrame.PROTOCOL_VERSION + 1) + ""));
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
