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
import lodestep.protocol.HostLine;
import lodestep.protocol.RefusalReason;
import lodestep.protocol.RequestDecoder;
import lodestep.protocol.RequestWriter;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualRig;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Goal: another program that writes to the head's port fires nothing. Method: a process of its own
 * writes to a real terminal; what arrives at its other end is handed to a virtual head.
 */
class ForeignWriterTest {

  private static final int FOREIGN_SESSION = 999;

  private final PtyPair cable;
  private final VirtualRig rig = new VirtualRig(Benches.RIG, "rod nest", 5, FaultPlan.NONE);
  private final RequestDecoder decoder = new RequestDecoder();
  private int beats;
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
    byte[] fire = foreign(new HeadRequest.OpenWindow(1, 1, 50_000));

    List<HeadFrame> said = afterForeign(fire);

    assertThat(refusals(said)).containsExactly(RefusalReason.NO_PERMIT);
    assertThat(statuses(said)).noneMatch(line -> line.has(HeadFlag.WINDOW));
  }

  /** Whoever asks for the permit with the first word is a host that has not noticed a restart. */
  @Test
  void latchesWhenAForeignHeartbeatAsksForThePermitAtOnce() throws IOException {
    List<HeadFrame> said = afterForeign(foreign(new HeadRequest.Heartbeat(1, true)));

    assertThat(statuses(said)).noneMatch(line -> line.has(HeadFlag.PERMIT));
    assertThat(statuses(said).get(statuses(said).size() - 1).has(HeadFlag.LATCHED)).isTrue();
  }

  @Test
  void dropsAndCountsWhatIsNoLine() throws IOException {
    List<HeadFrame> said =
        afterForeign("FIRE\nw 1 1 1 50000\n".getBytes(StandardCharsets.US_ASCII));

    assertThat(refusals(said)).isEmpty();
    assertThat(decoder.badLines()).isEqualTo(2);
  }

  /** A host is served: whatever another session asks, be it only to let go, is not done. */
  @ParameterizedTest
  @MethodSource("askedByAStranger")
  void doesNothingForAStrangerButLatchesAndTellsItForASecond(HeadRequest asked) throws IOException {
    rig.controls().lid(true);
    served(100, false);
    served(20, true);
    assertThat(lastStatus(served(20, true)).has(HeadFlag.PERMIT)).isTrue();

    List<HeadFrame> said = afterForeign(foreign(asked));

    assertThat(refusals(said)).isEmpty();
    assertThat(statuses(said)).extracting(line -> line.positionMicroMetres()).containsOnly(0);
    assertThat(lastStatus(said).has(HeadFlag.PERMIT)).isFalse();
    assertThat(lastStatus(said).has(HeadFlag.LATCHED)).isTrue();
    assertThat(lastStatus(said).has(HeadFlag.STRANGER)).isTrue();
    assertThat(lastStatus(served(1_000, false)).has(HeadFlag.STRANGER)).isFalse();
    assertThat(lastStatus(served(50, true)).has(HeadFlag.PERMIT)).as("served as before").isTrue();
  }

  static List<HeadRequest> askedByAStranger() {
    return List.of(
        new HeadRequest.Heartbeat(1, true),
        new HeadRequest.Heartbeat(1, false),
        new HeadRequest.AskToken(31),
        new HeadRequest.OpenWindow(1, 31, 50_000),
        new HeadRequest.MoveTo(4_000));
  }

  /** After the host's death its place is free, as for the host itself when it comes back. */
  @Test
  void tellsAHostThatComesBackThatAnotherIsServed() throws IOException {
    rig.controls().lid(true);
    served(100, false);
    served(400, true);
    rig.headLink().beginSession();
    run(300);
    served(20, false);
    rig.headLink().beginSession();

    assertThat(lastStatus(served(100, false)).has(HeadFlag.STRANGER)).isTrue();
  }

  private List<HeadFrame> served(int ms, boolean permit) {
    List<HeadFrame> said = new ArrayList<>();
    for (int left = ms; left > 0; left -= 5) {
      rig.headLink().offer(new HeadRequest.Heartbeat(beats++, permit));
      said.addAll(run(5));
    }
    return said;
  }

  private List<HeadFrame> run(int ms) {
    List<HeadFrame> said = new ArrayList<>();
    for (int step = 0; step < ms; step++) {
      rig.step();
      rig.headLink().take().stream().map(ReceivedFrame::frame).forEach(said::add);
    }
    return said;
  }

  private static HeadFrame.Status lastStatus(List<HeadFrame> said) {
    List<HeadFrame.Status> lines = statuses(said);
    return lines.get(lines.size() - 1);
  }

  private static byte[] foreign(HeadRequest request) {
    return RequestWriter.line(new HostLine(FOREIGN_SESSION, request));
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
    received.lines().forEach(rig.headLink()::offer);
    return run(200);
  }
}
