package lodestep.app;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import lodestep.port.LinkState;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadLineDecoder;
import lodestep.protocol.HeadLineWriter;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.HostLine;
import lodestep.protocol.RequestDecoder;
import lodestep.protocol.RequestWriter;
import lodestep.sim.VirtualHeadLink;

/**
 * A link on which both directions go over bytes that are fuzzed on their way, with the program's
 * own decoder at the end of each. A stop byte passes, as it is no line.
 */
final class FuzzedLink extends PassedOn {

  private static final int SESSION = 4_711;

  final FuzzedBytes toHost;
  final FuzzedBytes toHead;
  private final HeadLineDecoder atHost = new HeadLineDecoder();
  private final RequestDecoder atHead = new RequestDecoder();
  private final VirtualHeadLink head;
  private long framesAtHost;
  private long requestsAtHead;
  private boolean fuzzing = true;

  FuzzedLink(VirtualHeadLink link, SplittableRandom random, double share) {
    super(link);
    this.head = link;
    this.toHost = new FuzzedBytes(random.split(), share);
    this.toHead = new FuzzedBytes(random.split(), share);
  }

  /** From now on the line passes everything on as it is. */
  void heal() {
    fuzzing = false;
  }

  @Override
  public List<ReceivedFrame> take() {
    List<ReceivedFrame> came = new ArrayList<>();
    for (ReceivedFrame sent : super.take()) {
      byte[] bytes = toHost.pass(HeadLineWriter.line(sent.frame()), fuzzing);
      atHost
          .feed(bytes, bytes.length)
          .forEach(frame -> came.add(new ReceivedFrame(frame, sent.receivedAtNs())));
    }
    framesAtHost += came.size();
    return came;
  }

  @Override
  public LinkState state(long nowNs) {
    LinkState state = super.state(nowNs);
    return new LinkState(state.open(), atHost.badLines(), state.words());
  }

  @Override
  public void offer(HeadRequest request) {
    byte[] bytes = toHead.pass(RequestWriter.line(new HostLine(SESSION, request)), fuzzing);
    List<HostLine> heard = atHead.feed(bytes, bytes.length).lines();
    requestsAtHead += heard.size();
    heard.forEach(head::offer);
  }

  /** Lines that came to the host, as frames and as bad lines. */
  long heardByHost() {
    return framesAtHost + atHost.badLines();
  }

  /** Lines that came to the head, as requests and as bad lines. */
  long heardByHead() {
    return requestsAtHead + atHead.badLines();
  }

  long badAtHost() {
    return atHost.badLines();
  }

  long badAtHead() {
    return atHead.badLines();
  }
}
