package lodestep.adapter.serial;

import java.nio.file.Path;
import java.security.SecureRandom;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.LockSupport;
import lodestep.port.HeadLink;
import lodestep.port.LinkState;
import lodestep.port.MonotonicClock;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadLineDecoder;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.HostLine;
import lodestep.protocol.RequestWriter;
import lodestep.protocol.WireField;
import org.tinylog.Logger;

/**
 * The link to a head on a serial port. One thread of its own opens and reads the port, one more per
 * opening writes to it; the control thread waits for neither.
 *
 * <p>It opens the port whenever it can: at once, then after 250 ms, doubling up to 5 s. An open
 * port says nothing about the head; whether the head speaks is judged from the frames and their
 * times. At each opening it throws away what had piled up, ends whatever line the head has half
 * received, and asks who the head is. When the port is lost, requests that wait are dropped with
 * it.
 *
 * <p>The clock is read by all three threads.
 */
public final class SerialHeadLink implements HeadLink {

  /** Ten seconds of status lines; when nobody takes them the oldest go. */
  static final int FRAMES_MAX = 1_024;

  private static final long LOOK_NS = 5_000_000L;
  private static final long AFTER_QUIET_NS = 1_000_000L;
  private static final long FINISH_WAIT_MS = 200;
  private static final long CLOSE_WAIT_MS = 1_000;
  private static final byte[] LINE_END = {'\n'};

  private record Standing(boolean open, String words) {}

  private final Path path;
  private final MonotonicClock clock;
  private final int session;
  private final Thread reader;
  private final ArrayBlockingQueue<ReceivedFrame> frames = new ArrayBlockingQueue<>(FRAMES_MAX);
  private final AtomicLong losses = new AtomicLong();
  private final Traffic traffic = new Traffic();
  private volatile Optional<LineSender> sender = Optional.empty();
  private volatile Standing standing;
  private volatile long badLines;
  private volatile boolean closing;
  private final CountDownLatch released = new CountDownLatch(1);

  /** When the port is tried next; from then until the try has ended it lies in the past. */
  private volatile long tryAtNs;

  /** Reader thread only. */
  private final HeadLineDecoder decoder = new HeadLineDecoder();

  private SerialHeadLink(Path path, MonotonicClock clock) {
    this.path = path;
    this.clock = clock;
    this.session = 1 + new SecureRandom().nextInt((int) WireField.SESSION.largest());
    this.standing = new Standing(false, LinkWords.opening(path));
    this.tryAtNs = clock.nowNs();
    this.reader = new Thread(this::run, "head-reader");
    this.reader.setDaemon(true);
  }

  /**
   * A link that opens the port as soon as it can, and again whenever it was lost. Returns at once;
   * a port that is missing, busy or not allowed is told by {@link #state}.
   *
   * @param port absolute path of the port
   * @param clock any thread may read it
   */
  public static SerialHeadLink to(Path port, MonotonicClock clock) {
    SerialHeadLink link = new SerialHeadLink(port, clock);
    link.reader.start();
    return link;
  }

  /** By what the head tells this start of the program from any other, 1 to 65535. */
  public int session() {
    return session;
  }

  @Override
  public List<ReceivedFrame> take() {
    if (frames.isEmpty()) {
      return List.of();
    }
    List<ReceivedFrame> taken = new ArrayList<>();
    frames.drainTo(taken);
    return taken;
  }

  @Override
  public LinkState state(long nowNs) {
    Optional<LineSender> current = sender;
    if (current.isPresent() && current.get().isStuck(nowNs)) {
      return new LinkState(false, badLines, LinkWords.notTaken(path));
    }
    Standing now = standing;
    return new LinkState(now.open(), badLines, now.words());
  }

  /**
   * {@inheritDoc}
   *
   * @throws IllegalArgumentException if a field of the request is out of its range on the wire
   */
  @Override
  public void offer(HeadRequest request) {
    byte[] line = RequestWriter.line(new HostLine(session, request));
    sender.ifPresent(current -> current.outbox().offer(line));
  }

  /** {@inheritDoc} On a lost link it does nothing: there the silence stops the head. */
  @Override
  public void stop() {
    sender.ifPresent(current -> current.outbox().stop());
  }

  /**
   * Sends a stop that was asked, closes the port and ends the threads. Takes about 100 ms, and at
   * most 1.2 s; a thread that hangs in the system by then is left behind.
   */
  @Override
  public void close() {
    try {
      Optional<LineSender> current = sender;
      if (current.isPresent()) {
        current.get().finish(FINISH_WAIT_MS);
      }
      closing = true;
      LockSupport.unpark(reader);
      reader.join(CLOSE_WAIT_MS);
    } catch (InterruptedException e) {
      closing = true;
      Thread.currentThread().interrupt();
    } finally {
      released.countDown();
    }
    standing = new Standing(false, LinkWords.closed(path));
  }

  /**
   * Waits until the first try to open the port has come to an end, good or bad.
   *
   * @return whether it has within this time
   */
  public boolean awaitFirstOpening(long waitMs) throws InterruptedException {
    String before = LinkWords.opening(path);
    return traffic.await(() -> !standing.words().equals(before), waitMs);
  }

  /**
   * Waits until all that was offered has been written, or dropped with a lost port. For a run in
   * virtual time, whose clock must stand meanwhile; the control thread of a real rig never waits.
   *
   * @return whether that came to pass within this time
   */
  public boolean awaitSent(long waitMs) throws InterruptedException {
    return traffic.await(() -> sender.map(current -> current.outbox().idle()).orElse(true), waitMs);
  }

  /**
   * Waits until so many bytes have been received since the link was made, and the frames in them
   * can be taken, or until the port is lost. For a run in virtual time, as {@link #awaitSent}.
   *
   * @return whether that came to pass within this time
   */
  public boolean awaitReceived(long bytes, long waitMs) throws InterruptedException {
    return traffic.await(() -> traffic.receivedBytes() >= bytes || !standing.open(), waitMs);
  }

  /**
   * Waits until the port is open, or no try to open it is due at this time of the clock. For a run
   * in virtual time, as {@link #awaitSent}.
   *
   * @return whether that came to pass within this time
   */
  public boolean awaitTries(long waitMs) throws InterruptedException {
    return traffic.await(
        () -> standing.open() || !reader.isAlive() || tryAtNs - clock.nowNs() > 0, waitMs);
  }

  /** How many bytes the port has given since the link was made, over all openings. */
  public long receivedBytes() {
    return traffic.receivedBytes();
  }

  /** How many bytes the port has taken since the link was made, over all openings. */
  public long sentBytes() {
    return traffic.sentBytes();
  }

  /** How often an open port was lost since the start. */
  long losses() {
    return losses.get();
  }

  /** How many lines wait to be written. */
  int waiting() {
    return sender.map(current -> current.outbox().waiting()).orElse(0);
  }

  private void run() {
    try {
      Optional<String> failure = SerialLibrary.failure();
      if (failure.isPresent()) {
        say(new Standing(false, LinkWords.noLibrary(failure.get())));
      } else {
        SerialLibrary.keepPortsOpenAtTheEndUntil(released);
        keepOpen();
      }
    } catch (RuntimeException | LinkageError e) {
      // The top of this thread: a fault of ours or the library's must reach a person.
      say(new Standing(false, LinkWords.broken(path, e)));
      Logger.error(e);
    }
  }

  private void keepOpen() {
    BackOff backOff = BackOff.first();
    while (!closing) {
      if (clock.nowNs() - tryAtNs < 0) {
        LockSupport.parkNanos(this, LOOK_NS);
        continue;
      }
      // Only a head that spoke earns a quick second try; a port that opens and dies does not.
      boolean spoke = OpenPort.open(path).match(this::serve, this::failed);
      backOff = spoke ? BackOff.first() : backOff;
      tryAtNs = clock.nowNs() + backOff.waitNs();
      traffic.standingChanged();
      backOff = backOff.next();
    }
  }

  private boolean failed(String words) {
    say(new Standing(false, words));
    return false;
  }

  /** Reads until the port is lost or the link is closed; tells whether the head spoke. */
  private boolean serve(OpenPort port) {
    LineSender current = new LineSender(port::write, clock, traffic);
    boolean spoke;
    try {
      decoder.restart();
      current.start();
      current.outbox().offer(LINE_END);
      current.outbox().offer(RequestWriter.line(new HostLine(session, new HeadRequest.AskHello())));
      sender = Optional.of(current);
      say(new Standing(true, LinkWords.open(path)));
      spoke = readUntilLost(port, current);
    } finally {
      // The port first of all: the library floods a port that is gone but not closed with events.
      port.close();
      current.outbox().close();
    }
    boolean stuck = current.isStuck(clock.nowNs());
    if (!closing) {
      losses.incrementAndGet();
      Logger.warn("an open line was lost, for the {}. time", losses.get());
      say(new Standing(false, stuck ? LinkWords.notTaken(path) : LinkWords.lost(path)));
    }
    sender = Optional.empty();
    traffic.standingChanged();
    awaitEnd(current);
    return spoke;
  }

  private boolean readUntilLost(OpenPort port, LineSender current) {
    byte[] buffer = new byte[4_096];
    boolean spoke = false;
    while (!closing && !current.failed() && !current.isStuck(clock.nowNs())) {
      int length = port.read(buffer);
      if (length < 0) {
        return spoke;
      }
      if (length == 0) {
        // Should the library ever return from a quiet line without waiting, this loop must not
        // spin.
        LockSupport.parkNanos(this, AFTER_QUIET_NS);
        continue;
      }
      List<HeadFrame> whole = decoder.feed(buffer, length);
      whole.forEach(this::keep);
      // After the frames: whoever sees the count has all that came before the bad line.
      badLines = decoder.badLines();
      traffic.received(length);
      spoke |= !whole.isEmpty();
    }
    return spoke;
  }

  private void keep(HeadFrame frame) {
    ReceivedFrame received = new ReceivedFrame(frame, clock.nowNs());
    while (!frames.offer(received)) {
      frames.poll();
    }
  }

  /** One writer that hangs in the system is left behind, never a second. */
  private void awaitEnd(LineSender lost) {
    while (lost.isAlive() && !closing) {
      LockSupport.parkNanos(this, LOOK_NS);
    }
  }

  private void say(Standing next) {
    if (!next.equals(standing)) {
      Logger.info(next.words());
    }
    standing = next;
    traffic.standingChanged();
  }
}
