package lodestep.sim;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.SplittableRandom;
import lodestep.port.HeadLink;
import lodestep.port.LinkState;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.HostLine;
import lodestep.protocol.WireField;

/**
 * The cable between host and virtual head: a line takes the time its bytes take at 115,200 baud,
 * and what is under way when the cable is pulled is lost. Confined to the rig's thread.
 */
public final class VirtualHeadLink implements HeadLink {

  /** A state line of about 90 bytes of ten bits each. */
  private static final long STATUS_WIRE_NS = 8_000_000L;

  private static final long SHORT_WIRE_NS = 4_000_000L;
  private static final long REQUEST_WIRE_NS = 2_000_000L;

  /** More than this many requests wait only if nobody drains them: the oldest is dropped. */
  static final int REQUESTS_MAX = 64;

  private static final String OPEN_WORDS = "the virtual head is connected";
  private static final String PULLED_WORDS =
      "the cable to the virtual head is pulled; plug it in again";
  private static final String CLOSED_WORDS = "the line to the virtual head has been let go";

  private record Sent(HeadFrame frame, long arrivesAtNs) {}

  private record Asked(HostLine line, long arrivesAtNs) {}

  private final FaultState faults;
  private final SplittableRandom random;
  private final Deque<Sent> underWay = new ArrayDeque<>();
  private final Deque<Asked> requests = new ArrayDeque<>();
  private List<ReceivedFrame> arrived = new ArrayList<>();
  private LinkState state = new LinkState(true, 0L, OPEN_WORDS);
  private int session = 1;
  private boolean stopSent;
  private boolean closed;
  private long nowNs;

  VirtualHeadLink(Plant.Drawn drawn, long nowNs) {
    this.faults = drawn.faults();
    this.random = drawn.random();
    this.nowNs = nowNs;
  }

  /** A host has started: what it offers from now on belongs to another session. */
  public void beginSession() {
    session = session % (int) WireField.SESSION.largest() + 1;
  }

  /** The head has put a frame on the wire. */
  void fromHead(HeadFrame frame) {
    if (!state.open()) {
      return;
    }
    if (faults.linesLostFraction > 0 && random.nextDouble() < faults.linesLostFraction) {
      state = new LinkState(true, state.badLines() + 1, state.words());
      return;
    }
    long wireNs = frame instanceof HeadFrame.Status ? STATUS_WIRE_NS : SHORT_WIRE_NS;
    long arrivesAtNs = nowNs + wireNs;
    Sent last = underWay.peekLast();
    if (last != null && last.arrivesAtNs() - arrivesAtNs > 0) {
      arrivesAtNs = last.arrivesAtNs();
    }
    underWay.addLast(new Sent(frame, arrivesAtNs));
  }

  /** One millisecond: hands over what has arrived on either side. */
  void step(long timeNs, VirtualHead head) {
    nowNs = timeNs;
    watchCable();
    if (stopSent) {
      stopSent = false;
      head.receiveStop();
    }
    Asked asked = requests.peekFirst();
    while (asked != null && asked.arrivesAtNs() - nowNs <= 0) {
      requests.removeFirst();
      head.receive(asked.line());
      asked = requests.peekFirst();
    }
    Sent sent = underWay.peekFirst();
    while (sent != null && sent.arrivesAtNs() - nowNs <= 0) {
      underWay.removeFirst();
      arrived.add(new ReceivedFrame(sent.frame(), nowNs));
      sent = underWay.peekFirst();
    }
  }

  private void watchCable() {
    boolean open = !faults.cablePulled && !closed;
    if (open != state.open()) {
      String words = closed ? CLOSED_WORDS : open ? OPEN_WORDS : PULLED_WORDS;
      state = new LinkState(open, state.badLines(), words);
      forget();
    }
  }

  private void forget() {
    underWay.clear();
    requests.clear();
    stopSent = false;
  }

  @Override
  public List<ReceivedFrame> take() {
    if (arrived.isEmpty()) {
      return List.of();
    }
    List<ReceivedFrame> taken = List.copyOf(arrived);
    arrived.clear();
    return taken;
  }

  @Override
  public LinkState state(long timeNs) {
    return state;
  }

  @Override
  public void offer(HeadRequest request) {
    offer(new HostLine(session, request));
  }

  /** Queues a line that carries a session of its own, as another program's would. */
  public void offer(HostLine line) {
    if (!state.open() || closed) {
      return;
    }
    if (requests.size() == REQUESTS_MAX) {
      requests.removeFirst();
    }
    requests.addLast(new Asked(line, nowNs + REQUEST_WIRE_NS));
  }

  @Override
  public void stop() {
    requests.clear();
    stopSent = state.open() && !closed;
  }

  @Override
  public void close() {
    closed = true;
    forget();
    arrived.clear();
    state = new LinkState(false, state.badLines(), CLOSED_WORDS);
  }
}
