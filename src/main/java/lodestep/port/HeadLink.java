package lodestep.port;

import java.util.List;
import lodestep.protocol.HeadRequest;

/** The line to the head at the nest. Control thread only; never blocks. */
public interface HeadLink extends AutoCloseable {

  /** All frames that came since the last call, oldest first; may be empty. */
  List<ReceivedFrame> take();

  /** The state of the link at this monotonic time. */
  LinkState state(long nowNs);

  /** Queues a request; on a lost link it is dropped, since a late request is worse than none. */
  void offer(HeadRequest request);

  /** Sends the stop byte past everything queued, and empties the queue. */
  void stop();

  @Override
  void close();
}
