package lodestep.app.remote;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.serial.Polling;
import lodestep.adapter.serial.SerialHeadLink;
import lodestep.config.HeadConfig;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: a rig in real time in its own process answers, and leaves nothing behind. */
class LiveRigTest {

  private final SystemMonotonicClock clock = new SystemMonotonicClock();
  private final Path folder;
  private final Path port;

  LiveRigTest(@TempDir Path folder) {
    this.folder = folder;
    this.port = folder.resolve("head");
  }

  private RigOrder order() {
    RigConfig onALine =
        ReferenceRig.virtual().with(new HeadConfig.SerialHead(port.toString(), "LIVE-1"));
    return new RigOrder(onALine, ReferenceRig.ROD_NEST, 3, 4, List.of());
  }

  @Test
  void movesItsRelaysAndSpeaksOverItsLine() throws IOException {
    ProcessHandle process;
    try (LiveRig rig = LiveRig.start(order());
        SerialHeadLink link = SerialHeadLink.to(port, clock)) {
      process = rig.process();
      Polling.until("the changeover at rest", () -> rig.read(0).closed(InputLine.FILL_CONTACT));
      assertThat(rig.read(0).closed(InputLine.REVERSE_CONTACT)).isFalse();

      rig.drive(Outputs.high(OutputLine.COIL_REVERSE));

      Polling.until(
          "the changeover relay to move", () -> rig.read(0).closed(InputLine.REVERSE_CONTACT));
      List<HeadFrame> said = new ArrayList<>();
      Polling.until(
          "a status line and a hello",
          () -> {
            link.take().stream().map(ReceivedFrame::frame).forEach(said::add);
            return said.stream().anyMatch(HeadFrame.Hello.class::isInstance)
                && said.stream().anyMatch(HeadFrame.Status.class::isInstance);
          });
      assertThat(said)
          .filteredOn(HeadFrame.Hello.class::isInstance)
          .allMatch(frame -> ((HeadFrame.Hello) frame).serialNumber().equals("LIVE-1"));
    }
    assertThat(process.isAlive()).isFalse();
    assertThat(folder).isEmptyDirectory();
  }

  @Test
  void readsEveryContactOpenOnceItsProcessIsGone() throws IOException {
    try (LiveRig rig = LiveRig.start(order())) {
      Polling.until("a contact", () -> rig.read(0).closedBits() != 0);

      rig.process().destroyForcibly();

      Polling.until("no contact", () -> rig.read(0).closedBits() == 0);
    }
    // A killed line leaves its port behind, and what it leads to; socat may or may not take that
    // away, and must not do so while the folder is tidied.
    Files.deleteIfExists(Files.readSymbolicLink(port));
    Files.delete(port);
  }

  @Test
  void answersEachHeartbeatOfAnEcho() throws IOException {
    ProcessHandle process;
    try (LiveRig echo = LiveRig.startEcho(port);
        SerialHeadLink link = SerialHeadLink.to(port, clock)) {
      process = echo.process();
      Polling.until("the port to open", () -> link.state(clock.nowNs()).open());
      link.offer(new HeadRequest.Heartbeat(513, false));

      List<HeadFrame> said = new ArrayList<>();
      Polling.until(
          "the answer",
          () -> {
            link.take().stream().map(ReceivedFrame::frame).forEach(said::add);
            return !said.isEmpty();
          });
      assertThat(((HeadFrame.Status) said.get(0)).sequence()).isEqualTo(513);
    }
    assertThat(process.isAlive()).isFalse();
  }
}
