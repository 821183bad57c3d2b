package lodestep.scan;

import java.util.List;
import java.util.Optional;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;

/**
 * The newest status line of the head's present boot. Any thread, immutable.
 *
 * @param line empty until one has come; its time is put back by what it came late
 * @param time how late the lines come
 */
record NewestStatus(Optional<View.Status> line, HeadTime time) {

  static final NewestStatus NONE = new NewestStatus(Optional.empty(), HeadTime.UNKNOWN);

  /**
   * What holds after these frames. Any frame of another boot ends the validity of all that was said
   * before it. A line from long ago does not become fresh by arriving: its delay counts as age.
   *
   * @param frames oldest first; kept as it is while nothing new comes
   */
  NewestStatus after(List<ReceivedFrame> frames) {
    Optional<View.Status> newest = line;
    HeadTime newestTime = time;
    for (int i = 0; i < frames.size(); i++) {
      ReceivedFrame received = frames.get(i);
      if (received.frame() instanceof HeadFrame.Status status) {
        newestTime = newestTime.after(status, received.receivedAtNs());
        long writtenAtNs = received.receivedAtNs() - newestTime.delayNs();
        newest = Optional.of(new View.Status(status, writtenAtNs));
      } else if (newest.isPresent() && newest.get().frame().bootId() != received.frame().bootId()) {
        newest = Optional.empty();
      }
    }
    return frames.isEmpty() ? this : new NewestStatus(newest, newestTime);
  }
}
