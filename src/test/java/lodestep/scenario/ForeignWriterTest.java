package lodestep.scenario;

import static lodestep.protocol.Said.refusals;
import static lodestep.protocol.Said.statuses;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import lodestep.adapter.serial.Polling;
import lodestep.adapter.serial.PtyPair;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.RefusalReason;
import lodestep.protocol.RequestDecoder;
import lodestep.protocol.RequestWriter;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualRig;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: another program that writes to the head's port fires nothing. Method: a process of its own
 * writes to a real terminal; what arrives at its other end is handed to a virtual head.
 */
class ForeignWriterTest {

  private final PtyPair cable;
  private final VirtualRig rig = new VirtualRig(Benches.RIG, "rod nest", 5, FaultPlan.NONE);
  private final RequestDecoder decoder = new RequestDecoder();
  private final ByteArrayOutputStream arrived = new ByteArrayOutputStream();

  ForeignWriterTest(@TempDir Path folder) {
    this.cable = PtyPair.in(folder);
  }

  @AfterEach
  void leaveNothing() {
    cable.close();
  }

  @Test
  void opensNoWindowForATokenThatTheHeadNeverGave() throws IOException {
    byte[] fire = RequestWriter.line(new HeadRequest.OpenWindow(1, 1, 50_000));

    List<HeadFrame> said = afterForeign(fire);

    assertThat(refusals(said)).containsExactly(RefusalReason.NO_PERMIT);
    assertThat(statuses(said)).noneMatch(line -> line.has(HeadFlag.WINDOW));
  }

  /** Whoever asks for the permit with the first word is a host that has not noticed a restart. */
  @Test
  void latchesWhenAForeignHeartbeatAsksForThePermitAtOnce() throws IOException {
    List<HeadFrame> said = afterForeign(RequestWriter.line(new HeadRequest.Heartbeat(1, true)));

    assertThat(statuses(said)).noneMatch(line -> line.has(HeadFlag.PERMIT));
    assertThat(statuses(said).get(statuses(said).size() - 1).has(HeadFlag.LATCHED)).isTrue();
  }

  @Test
  void dropsAndCountsWhatIsNoLine() throws IOException {
    List<HeadFrame> said = afterForeign("FIRE\nw 1 1 50000\n".getBytes(StandardCharsets.US_ASCII));

    assertThat(refusals(said)).isEmpty();
    assertThat(decoder.badLines()).isEqualTo(2);
  }

  private List<HeadFrame> afterForeign(byte[] bytes) throws IOException {
    Process foreign =
        new ProcessBuilder("sh", "-c", "cat > \"$1\"", "sh", cable.near().toString()).start();
    foreign.getOutputStream().write(bytes);
    foreign.getOutputStream().close();
    Polling.until(
        "the foreign bytes",
        () -> {
          arrived.writeBytes(cable.read());
          return arrived.size() >= bytes.length;
        });
    Polling.until("the foreign writer to end", () -> !foreign.isAlive());
    RequestDecoder.Received received = decoder.feed(arrived.toByteArray(), arrived.size());
    received.requests().forEach(rig.headLink()::offer);
    List<HeadFrame> said = new ArrayList<>();
    for (int step = 0; step < 200; step++) {
      rig.step();
      rig.headLink().take().stream().map(ReceivedFrame::frame).forEach(said::add);
    }
    return said;
  }
}
