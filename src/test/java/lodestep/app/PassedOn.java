package lodestep.app;

import java.util.List;
import lodestep.port.HeadLink;
import lodestep.port.LinkState;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadRequest;

/** A link that passes everything on, for tests that change a part of it. */
class PassedOn implements HeadLink {

  private final HeadLink link;

  PassedOn(HeadLink link) {
    this.link = link;
  }

  @Override
  public List<ReceivedFrame> take() {
    return link.take();
  }

  @Override
  public LinkState state(long nowNs) {
    return link.state(nowNs);
  }

  @Override
  public void offer(HeadRequest request) {
    link.offer(request);
  }

  @Override
  public void stop() {
    link.stop();
  }

  @Override
  public void close() {
    link.close();
  }
}
