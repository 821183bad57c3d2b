package lodestep.app.remote;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import lodestep.adapter.serial.SerialHeadLink;
import lodestep.port.HeadLink;
import lodestep.port.LinkState;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadLineWriter;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.RequestDecoder;
import lodestep.sim.VirtualRig;

/**
 * Both ends of a serial line for a virtual head in this process: what the head says goes out as
 * bytes, what the host sends to the port comes back as requests. The rig's time stands while bytes
 * are on their way, so that a computer that is busy makes no head silent. {@link #step} is for the
 * rig's thread.
 */
public final class HeadCable {

  /** Bytes of a computer that is only busy come sooner; then they are not waited for any more. */
  private static final long WAIT_MS = 5_000;

  private final RigCable cable;
  private final VirtualRig rig;
  private final SerialHeadLink host;
  private final RequestDecoder decoder = new RequestDecoder();
  private boolean awaited = true;

  private HeadCable(RigCable cable, VirtualRig rig, SerialHeadLink host) {
    this.cable = cable;
    this.rig = rig;
    this.host = host;
  }

  /** A line that is laid and ends nowhere yet. */
  public static final class Loose implements AutoCloseable {
    private final Path port;
    private final RigCable cable;

    private Loose(Path port, RigCable cable) {
      this.port = port;
      this.cable = cable;
    }

    /** Plugged into this rig's head, and opened as the host. */
    public HeadCable plugged(VirtualRig rig) {
      HeadCable laid = new HeadCable(cable, rig, SerialHeadLink.to(port, rig.clock()));
      // What is sent to a port that is not open yet is lost.
      laid.await(laid.host::awaitFirstOpening);
      return laid;
    }

    @Override
    public void close() {
      cable.close();
    }
  }

  /**
   * Lays a line to this port.
   *
   * @param port absolute path at which nothing may stand yet, in a folder that may be written
   * @throws IOException when that cannot be; its message is one sentence for a person
   */
  public static Loose lay(Path port) throws IOException {
    return new Loose(port, RigCable.lay(port));
  }

  /** Moves the rig on by a millisecond, with what has come from the host before it. */
  public void step() {
    await(host::awaitSent);
    if (awaited) {
      take(cable.readUpTo(host.sentBytes()));
    }
    rig.step();
    for (ReceivedFrame frame : rig.headLink().take()) {
      cable.write(HeadLineWriter.line(frame.frame()));
    }
    await(within -> host.awaitReceived(cable.sentBytes(), within));
  }

  private void take(byte[] bytes) {
    RequestDecoder.Received received = decoder.feed(bytes, bytes.length);
    if (received.stop()) {
      rig.headLink().stop();
    }
    received.lines().forEach(rig.headLink()::offer);
  }

  /** Something that can be waited for so many milliseconds; false if it did not come. */
  @FunctionalInterface
  private interface Wait {
    boolean within(long waitMs) throws InterruptedException;
  }

  private void await(Wait wait) {
    try {
      awaited &= wait.within(WAIT_MS);
    } catch (InterruptedException ending) {
      Thread.currentThread().interrupt();
      awaited = false;
    }
  }

  /** The host's link; closing it takes the line away too. */
  public HeadLink link() {
    return new Laid(host, cable);
  }

  /** A link whose line goes with it. */
  private record Laid(HeadLink host, RigCable cable) implements HeadLink {
    @Override
    public List<ReceivedFrame> take() {
      return host.take();
    }

    @Override
    public LinkState state(long nowNs) {
      return host.state(nowNs);
    }

    @Override
    public void offer(HeadRequest request) {
      host.offer(request);
    }

    @Override
    public void stop() {
      host.stop();
    }

    @Override
    public void close() {
      host.close();
      cable.close();
    }
  }
}
