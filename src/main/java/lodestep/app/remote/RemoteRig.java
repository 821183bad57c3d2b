package lodestep.app.remote;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import java.util.function.LongSupplier;
import lodestep.adapter.serial.SerialHeadLink;
import lodestep.config.HeadConfig;
import lodestep.port.Contacts;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.HeadLink;
import lodestep.port.Lines;
import lodestep.port.LinkState;
import lodestep.port.MonotonicClock;
import lodestep.port.Outputs;
import lodestep.sim.VirtualRig;

/**
 * The host's end of a virtual rig in a process of its own: the lines as {@link Lines}, the head as
 * a {@link SerialHeadLink} on a real terminal, and virtual time, in which both processes move on
 * together. Control thread only.
 *
 * <p>Time stands while bytes are under way. Before the rig moves on, every byte the host has sent
 * must have been written, and the rig waits until it has read them all; before the host's clock
 * leaves a millisecond in which the head has sent, every byte of it must have been received. So the
 * host sees each frame at the same virtual time in every run, and nothing depends on how fast the
 * machine is. When the cable is cut nothing is waited for any more but the link's tries to open its
 * port again, until {@link #plugIn}.
 *
 * <p>A rig process that ends or hangs is a rig that is gone: all its contacts read open, the head
 * is silent, time goes on, and {@link #gone} says why.
 */
public final class RemoteRig implements Lines {

  private static final long ANSWER_MAX_MS = 1_000 * RigPipe.ANSWER_MAX_SECONDS;

  /** How often what another reader has taken is asked for. */
  private static final long LOOK_MS = 10;

  private final RigPipe pipe;
  private final SteppedClock clock = new SteppedClock(VirtualRig.START_NS);
  private final SerialHeadLink head;
  private final Path port;
  private Optional<String> gone = Optional.empty();
  private int contactBits;
  private int drivenBits;
  private Outputs asked = Outputs.ALL_LOW;
  private HandCue cued = HandCue.of(HandAsk.WAIT);
  private int continues;
  private boolean gaveUp;
  private boolean closed;

  /** Bytes of the rig's end that went with a cut cable. */
  private long lostBytes;

  private LongSupplier takenByOthers = () -> 0;
  private LongSupplier writtenByOthers = () -> 0;

  private RemoteRig(RigPipe pipe, Path port) {
    this.pipe = pipe;
    this.port = port;
    this.head = SerialHeadLink.to(port, clock);
  }

  /**
   * Starts the rig's process, which lays its cable, and opens the host's end of it. The rig has not
   * moved yet.
   *
   * @throws IOException when that cannot be; its message is one sentence for a person, and nothing
   *     is left running
   * @throws IllegalArgumentException if the rig's head is on no serial line
   */
  public static RemoteRig start(RigOrder order) throws IOException {
    if (!(order.rig().head() instanceof HeadConfig.SerialHead serial)) {
      throw new IllegalArgumentException("the rig's head is on no serial line");
    }
    RigPipe pipe = RigPipe.start();
    try {
      pipe.say(order.line());
      requireReady(pipe);
      pipe.ready();
    } catch (IOException | RuntimeException e) {
      pipe.close();
      throw e;
    }
    RemoteRig rig = new RemoteRig(pipe, Path.of(serial.port()));
    try {
      rig.requireOpen();
    } catch (IOException | RuntimeException e) {
      rig.close();
      throw e;
    }
    return rig;
  }

  private static void requireReady(RigPipe pipe) throws IOException {
    try {
      RigAnswer answer = pipe.hear();
      if (answer instanceof RigAnswer.Refused refused) {
        throw new IOException(refused.sentence());
      }
      if (!(answer instanceof RigAnswer.Ready)) {
        throw new IllegalStateException("the rig's process begins with: " + answer.line());
      }
    } catch (RigSilence silent) {
      throw new IOException(silent.words(), silent);
    }
  }

  private void requireOpen() throws IOException {
    try {
      boolean tried = head.awaitFirstOpening(ANSWER_MAX_MS);
      LinkState state = head.state(clock.nowNs());
      if (!tried || !state.open()) {
        throw new IOException(state.words());
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("the program is being ended", e);
    }
  }

  /** Moves rig and clock on by this much, a whole number of milliseconds. */
  public void advance(long forNs) {
    long untilNs = clock.nowNs() + forNs;
    continues = 0;
    if (gone.isEmpty()) {
      try {
        runTo(untilNs);
      } catch (RigSilence silent) {
        gone = Optional.of(silent.words());
      }
    }
    moveClock(untilNs);
  }

  /** The clock shows this; a link that is not open has made every try that is due by then. */
  private void moveClock(long toNs) {
    clock.moveTo(toNs);
    if (gone.isEmpty() && !isOpen()) {
      try {
        await(
            () -> head.awaitTries(ANSWER_MAX_MS), "has a port that can be neither opened nor not");
      } catch (RigSilence silent) {
        gone = Optional.of(silent.words());
      }
    }
  }

  private boolean isOpen() {
    return head.state(clock.nowNs()).open();
  }

  /**
   * Plugs a cut cable in again; the link opens its port at its next try. What was under way is
   * lost.
   *
   * @throws IOException when that cannot be; its message is one sentence for a person
   * @throws IllegalStateException while the link has not seen yet that its cable is cut
   */
  public void plugIn() throws IOException {
    if (isOpen()) {
      throw new IllegalStateException("the cable is plugged in");
    }
    pipe.say("plug " + sentToHead());
    RigAnswer answer = pipe.hear();
    if (answer instanceof RigAnswer.Refused refused) {
      throw new IOException(refused.sentence());
    }
    if (!(answer instanceof RigAnswer.Plugged plugged)) {
      throw new IllegalStateException(
          "told that its cable is plugged in, the rig: " + answer.line());
    }
    lostBytes = plugged.totalBytes() - head.receivedBytes();
    pipe.ready();
  }

  private void runTo(long untilNs) {
    awaitSent();
    pipe.say("run " + untilNs + " " + sentToHead());
    RigAnswer answer = pipe.hear();
    while (answer instanceof RigAnswer.Due due) {
      moveClock(due.atNs());
      if (isOpen()) {
        pipe.say("send");
        awaitReceived(due.totalBytes() - lostBytes);
      } else {
        pipe.say("drop");
      }
      answer = pipe.hear();
    }
    if (!(answer instanceof RigAnswer.At at) || at.nowNs() != untilNs) {
      throw new IllegalStateException("told to run to " + untilNs + ", the rig: " + answer.line());
    }
    contactBits = at.contactBits();
    drivenBits = at.drivenBits();
    continues = at.continues();
    gaveUp = at.gaveUp();
  }

  private void awaitSent() {
    await(() -> head.awaitSent(ANSWER_MAX_MS), "does not take what is sent to its head");
  }

  private void awaitReceived(long totalBytes) {
    await(() -> allReceived(totalBytes), "has sent what does not arrive");
  }

  private boolean allReceived(long totalBytes) throws InterruptedException {
    for (long waitedMs = 0; waitedMs < ANSWER_MAX_MS; waitedMs += LOOK_MS) {
      if (head.awaitReceived(totalBytes - takenByOthers.getAsLong(), LOOK_MS)) {
        return true;
      }
    }
    return false;
  }

  private interface Wait {
    boolean within() throws InterruptedException;
  }

  private static void await(Wait wait, String otherwise) {
    try {
      if (!wait.within()) {
        throw new RigSilence(otherwise);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new RigSilence("was given up: the program is being ended");
    }
  }

  @Override
  public Contacts read(long nowNs) {
    return new Contacts(gone.isPresent() ? 0 : contactBits, nowNs);
  }

  /** {@inheritDoc} The rig stands still meanwhile, so unchanged levels need no word to it. */
  @Override
  public Outputs drive(Outputs outputs) {
    Outputs wanted = closed ? Outputs.ALL_LOW : outputs;
    if (gone.isEmpty() && !wanted.equals(asked)) {
      try {
        driveNow(wanted);
      } catch (RigSilence silent) {
        gone = Optional.of(silent.words());
      }
    }
    return gone.isPresent() ? Outputs.ALL_LOW : new Outputs(drivenBits);
  }

  private void driveNow(Outputs wanted) {
    asked = wanted;
    pipe.say("drive " + wanted.highBits());
    RigAnswer answer = pipe.hear();
    if (!(answer instanceof RigAnswer.Drove drove)) {
      throw new IllegalStateException("told to drive its outputs, the rig: " + answer.line());
    }
    drivenBits = drove.drivenBits();
  }

  /** The host's end of the cable to the head. */
  public HeadLink head() {
    return head;
  }

  /** Tells the hand beside the rig what is asked of it now; nothing is answered. */
  public void cue(HandCue cue) {
    if (gone.isEmpty() && !cue.equals(cued)) {
      cued = cue;
      pipe.say(HandCues.order(cue));
    }
  }

  /** Virtual time; any thread may read it. */
  public MonotonicClock clock() {
    return clock;
  }

  /** How often the operator has said "continue" in the last {@link #advance}. */
  public int continues() {
    return continues;
  }

  private long sentToHead() {
    return head.sentBytes() + writtenByOthers.getAsLong();
  }

  /** Whether the operator gave up on a trip that would not clear. */
  public boolean gaveUp() {
    return gaveUp;
  }

  /** Why the rig is gone, in one sentence for a person; empty while it is there. */
  public Optional<String> gone() {
    return gone;
  }

  /**
   * Another program reads from the host's port, or writes to it, as well; for tests. Both are asked
   * on the control thread.
   *
   * @param taken how many bytes it has had so far
   * @param written how many bytes it has written so far
   */
  public void sharePort(LongSupplier taken, LongSupplier written) {
    takenByOthers = taken;
    writtenByOthers = written;
  }

  /** The rig's process, for tests that end it or what it has started. */
  public ProcessHandle process() {
    return pipe.handle();
  }

  /** Lowers every output, ends link, process and cable, and leaves nothing running. */
  @Override
  public void close() {
    if (closed) {
      return;
    }
    closed = true;
    try {
      drive(Outputs.ALL_LOW);
    } finally {
      try {
        head.close();
      } finally {
        pipe.close();
        removeDeadLink();
      }
    }
  }

  /** A rig process that was killed leaves the port's name behind, which leads nowhere. */
  private void removeDeadLink() {
    try {
      RigCable.removeLeftOver(port);
    } catch (IOException e) {
      // The next run replaces it.
    }
  }
}
