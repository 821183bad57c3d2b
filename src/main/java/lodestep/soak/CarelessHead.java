package lodestep.soak;

import java.util.List;
import lodestep.port.HeadLink;
import lodestep.port.LinkState;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;

/** A head that opens its window for any token: it takes each one for the newest that it gave. */
final class CarelessHead implements HeadLink {

  private final HeadLink sound;
  private int newestToken;

  CarelessHead(HeadLink sound) {
    this.sound = sound;
  }

  @Override
  public List<ReceivedFrame> take() {
    List<ReceivedFrame> frames = sound.take();
    for (ReceivedFrame received : frames) {
      if (received.frame() instanceof HeadFrame.TokenGrant grant) {
        newestToken = grant.token();
      }
    }
    return frames;
  }

  @Override
  public LinkState state(long nowNs) {
    return sound.state(nowNs);
  }

  @Override
  public void offer(HeadRequest request) {
    sound.offer(
        request instanceof HeadRequest.OpenWindow open
            ? new HeadRequest.OpenWindow(newestToken, open.intentNumber(), open.bankMilliVoltsMax())
            : request);
  }

  @Override
  public void stop() {
    sound.stop();
  }

  @Override
  public void close() {
    sound.close();
  }
}
