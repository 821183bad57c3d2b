package lodestep.soak;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.function.IntUnaryOperator;
import lodestep.port.HeadLink;
import lodestep.port.LinkState;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.sim.VirtualRig;

/** Does what a {@link Planted} mistake says, between the host and its head. */
final class WrongHead implements HeadLink {

  private static final long NS_PER_MS = 1_000_000L;
  private static final double WRONG_GAIN = 1.03;

  /** Later than the 50 ms after which a line is too old to fire on. */
  private static final long LATE_MS = 60;

  /** As long as the window stands open. */
  private static final long LATE_FOR_MS = 300;

  /** As long as the gate is kept. */
  private static final long PERMIT_KEPT_MS = 450;

  private static final int LOWER_MICRO_METRES = 2_000;
  private static final int DEEP = 10_000;
  private static final int FRO_MICRO_METRES = 65_000;
  private static final long EACH_WAY_MS = 8_000;
  private static final long SCAN_MS = 5;

  private final HeadLink sound;
  private final Planted planted;
  private final Witness witness;
  private final IntUnaryOperator wrongFlags;
  private final Deque<ReceivedFrame> late = new ArrayDeque<>();
  private long nowNs;
  private int grantedToken;
  private int tokenBefore;
  private boolean goes;
  private long windowAskedAtMs = Witness.NEVER;

  WrongHead(HeadLink sound, Planted planted, Witness witness, IntUnaryOperator wrongFlags) {
    this.wrongFlags = wrongFlags;
    this.sound = sound;
    this.planted = planted;
    this.witness = witness;
  }

  @Override
  public List<ReceivedFrame> take() {
    List<ReceivedFrame> taken = sound.take();
    if (planted == Planted.LATE_LINES) {
      return late(taken);
    }
    List<ReceivedFrame> wrong = new ArrayList<>();
    for (ReceivedFrame received : taken) {
      wrong.add(new ReceivedFrame(wrong(received.frame()), received.receivedAtNs()));
    }
    return wrong;
  }

  /** They wait, and are then stamped as new; the witness is told how old they really are. */
  private List<ReceivedFrame> late(List<ReceivedFrame> taken) {
    late.addAll(taken);
    List<ReceivedFrame> due = new ArrayList<>();
    long lateMs = nowMs() - windowAskedAtMs < LATE_FOR_MS ? LATE_MS : 0;
    while (!late.isEmpty() && nowMs() - arrivedMs(late.peekFirst()) >= lateMs) {
      ReceivedFrame received = late.removeFirst();
      witness.statusAtMs = arrivedMs(received);
      due.add(lateMs > 0 ? new ReceivedFrame(asIfNew(received.frame()), nowNs) : received);
    }
    return due;
  }

  private long nowMs() {
    return (nowNs - VirtualRig.START_NS) / NS_PER_MS;
  }

  private static long arrivedMs(ReceivedFrame received) {
    return (received.receivedAtNs() - VirtualRig.START_NS) / NS_PER_MS;
  }

  private HeadFrame wrong(HeadFrame frame) {
    if (frame instanceof HeadFrame.TokenGrant grant) {
      tokenBefore = grantedToken;
      grantedToken = grant.token();
    }
    return frame instanceof HeadFrame.Status status ? wrong(status) : frame;
  }

  private static HeadFrame asIfNew(HeadFrame frame) {
    if (!(frame instanceof HeadFrame.Status status)) {
      return frame;
    }
    return with(status, status.clockMs() + LATE_MS, status.hallCounts(), status.flags());
  }

  private HeadFrame.Status wrong(HeadFrame.Status status) {
    double gain = planted == Planted.WRONG_GAUGE ? WRONG_GAIN : 1;
    return with(
        status,
        status.clockMs(),
        (int) Math.round(status.hallCounts() * gain),
        wrongFlags.applyAsInt(status.flags()));
  }

  private static HeadFrame.Status with(
      HeadFrame.Status status, long clockMs, int hallCounts, int flags) {
    return new HeadFrame.Status(
        status.sequence(),
        status.bootId(),
        clockMs,
        status.sampleCounter(),
        hallCounts,
        status.gaugeCentiDegC(),
        status.coilCentiDegC(),
        status.bankMilliVolts(),
        status.coilMilliAmps(),
        status.positionMicroMetres(),
        flags);
  }

  @Override
  public LinkState state(long nowNs) {
    this.nowNs = nowNs;
    return sound.state(nowNs);
  }

  @Override
  public void offer(HeadRequest request) {
    if (request instanceof HeadRequest.OpenWindow) {
      windowAskedAtMs = nowMs();
    }
    sound.offer(wrong(request));
    if (planted == Planted.TO_AND_FRO) {
      toAndFro(request);
    }
  }

  /** From the first stroke on it is sent up and down, whatever else is asked. */
  private void toAndFro(HeadRequest request) {
    goes |= request instanceof HeadRequest.MoveTo move && move.positionMicroMetres() > DEEP;
    if (goes && request instanceof HeadRequest.Heartbeat && nowMs() % EACH_WAY_MS < SCAN_MS) {
      boolean down = nowMs() / EACH_WAY_MS % 2 == 0;
      sound.offer(new HeadRequest.MoveTo(down ? FRO_MICRO_METRES : DEEP));
    }
  }

  private HeadRequest wrong(HeadRequest request) {
    boolean keepsGate =
        planted == Planted.GATE_KEPT
            && !witness.tripped
            && nowMs() - windowAskedAtMs < PERMIT_KEPT_MS;
    boolean keepsPermit =
        planted == Planted.ALWAYS_PERMIT || keepsGate || (planted == Planted.TO_AND_FRO && goes);
    if (keepsPermit && request instanceof HeadRequest.Heartbeat beat) {
      return new HeadRequest.Heartbeat(beat.sequence(), true);
    } else if (planted == Planted.OLD_TOKEN
        && tokenBefore != 0
        && request instanceof HeadRequest.OpenWindow open) {
      return new HeadRequest.OpenWindow(tokenBefore, open.intentNumber(), open.bankMilliVoltsMax());
    }
    if (planted == Planted.SENT_LOWER
        && witness.record.durableStroke().isPresent()
        && request instanceof HeadRequest.MoveTo move
        && move.positionMicroMetres() > DEEP) {
      return new HeadRequest.MoveTo(move.positionMicroMetres() + LOWER_MICRO_METRES);
    }
    return request;
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
