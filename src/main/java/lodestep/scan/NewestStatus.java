package lodestep.scan;

import java.util.List;
import java.util.Optional;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;

/** Finds the newest status line of the head's present boot. */
final class NewestStatus {

  private NewestStatus() {}

  /**
   * The status line that holds after these frames. Any frame of another boot ends the validity of
   * all that was said before it.
   *
   * @param before the one that held; kept as it is while nothing new comes
   * @param frames oldest first
   */
  static Optional<View.Status> after(Optional<View.Status> before, List<ReceivedFrame> frames) {
    Optional<View.Status> newest = before;
    for (int i = 0; i < frames.size(); i++) {
      ReceivedFrame received = frames.get(i);
      if (received.frame() instanceof HeadFrame.Status status) {
        newest = Optional.of(new View.Status(status, received.receivedAtNs()));
      } else if (newest.isPresent() && newest.get().frame().bootId() != received.frame().bootId()) {
        newest = Optional.empty();
      }
    }
    return newest;
  }
}
