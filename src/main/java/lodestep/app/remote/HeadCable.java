package lodestep.app.remote;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import lodestep.port.HeadLink;
import lodestep.port.LinkState;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadLineWriter;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.RequestDecoder;
import lodestep.sim.VirtualRig;

/**
 * The rig's end of a serial line for a virtual head in this process: what the head says goes out as
 * bytes, and what the host sends to the port comes back as requests. {@link #step} is for the rig's
 * thread.
 */
public final class HeadCable implements AutoCloseable {

  private final RigCable cable;
  private final RequestDecoder decoder = new RequestDecoder();
  private final BlockingQueue<byte[]> fromHost = new LinkedBlockingQueue<>();

  private HeadCable(RigCable cable) {
    this.cable = cable;
    Thread reader = new Thread(this::read, "head-cable");
    reader.setDaemon(true);
    reader.start();
  }

  /**
   * Lays a line to this port.
   *
   * @param port absolute path at which nothing may stand yet, in a folder that may be written
   * @throws IOException when that cannot be; its message is one sentence for a person
   */
  public static HeadCable lay(Path port) throws IOException {
    return new HeadCable(RigCable.lay(port));
  }

  private void read() {
    long total = 0;
    byte[] came = cable.readUpTo(total + 1);
    while (came.length > 0) {
      total += came.length;
      fromHost.add(came);
      came = cable.readUpTo(total + 1);
    }
  }

  /** Hands over what has come from the host, and sends what the head has said since. */
  public void step(VirtualRig rig) {
    for (byte[] bytes = fromHost.poll(); bytes != null; bytes = fromHost.poll()) {
      RequestDecoder.Received received = decoder.feed(bytes, bytes.length);
      if (received.stop()) {
        rig.headLink().stop();
      }
      received.lines().forEach(rig.headLink()::offer);
    }
    for (ReceivedFrame frame : rig.headLink().take()) {
      cable.write(HeadLineWriter.line(frame.frame()));
    }
  }

  /** The host's link at the other end; closing it takes the line away too. */
  public HeadLink of(HeadLink host) {
    return new Laid(host, this);
  }

  @Override
  public void close() {
    cable.close();
  }

  /** A link whose line goes with it. */
  private record Laid(HeadLink host, HeadCable cable) implements HeadLink {
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
