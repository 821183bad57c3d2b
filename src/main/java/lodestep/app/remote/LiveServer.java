package lodestep.app.remote;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintWriter;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.locks.LockSupport;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.port.HandCue;
import lodestep.port.MonotonicClock;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadLineWriter;
import lodestep.protocol.RequestDecoder;
import lodestep.sim.VirtualRig;

/**
 * The virtual bench moved on by the machine's own time, a millisecond at a time. One thread moves
 * it; two more only hand over what comes from the host.
 *
 * <pre>
 * ready            the cable is laid
 * stands CONTACTS  contacts as bits, whenever they change
 * continue         the operator has said so
 * </pre>
 */
final class LiveServer {

  private static final long LOOK_NS = 200_000L;

  /** A rig whose process was held up goes on from where it was, it does not run after the time. */
  private static final long BEHIND_MAX_NS = 50 * VirtualRig.STEP_NS;

  private final VirtualRig rig;
  private final AtTheRig people;
  private final RigCable cable;
  private final PrintWriter answers;
  private final MonotonicClock clock = new SystemMonotonicClock();
  private final RequestDecoder decoder = new RequestDecoder();
  private final BlockingQueue<byte[]> fromHost = new LinkedBlockingQueue<>();
  private final BlockingQueue<Outputs> driven = new LinkedBlockingQueue<>();
  private final BlockingQueue<HandCue> cues = new LinkedBlockingQueue<>();
  private volatile boolean ended;
  private int told = -1;

  LiveServer(RigOrder order, RigCable cable, PrintWriter answers) {
    this.rig = new VirtualRig(order.rig(), order.nest(), order.seed(), order.faults());
    this.people =
        new AtTheRig(
            order,
            rig,
            () -> {
              answers.println("continue");
              answers.flush();
            });
    this.cable = cable;
    this.answers = answers;
  }

  /** Serves until the orders end. */
  void serve(BufferedReader orders) throws InterruptedException {
    answers.println("ready");
    answers.flush();
    begin("orders", () -> readOrders(orders));
    begin("bytes", this::readBytes);
    long aheadNs = clock.nowNs() - rig.clock().nowNs();
    while (!ended) {
      long behindNs = clock.nowNs() - aheadNs - rig.clock().nowNs();
      aheadNs += Math.max(0, behindNs - BEHIND_MAX_NS);
      while (clock.nowNs() - aheadNs - rig.clock().nowNs() >= 0) {
        step();
      }
      LockSupport.parkNanos(this, LOOK_NS);
    }
  }

  private static void begin(String name, Runnable work) {
    Thread thread = new Thread(work, name);
    thread.setDaemon(true);
    thread.start();
  }

  private void step() {
    takeFromHost();
    people.step(rig.clock().nowNs());
    rig.step();
    for (ReceivedFrame frame : rig.headLink().take()) {
      cable.write(HeadLineWriter.line(frame.frame()));
    }
    int contacts = rig.lines().read(rig.clock().nowNs()).closedBits();
    if (contacts != told) {
      told = contacts;
      answers.println("stands " + contacts);
      answers.flush();
    }
  }

  private void takeFromHost() {
    for (var outputs = next(driven); outputs.isPresent(); outputs = next(driven)) {
      rig.lines().drive(outputs.get());
    }
    // One a millisecond: whoever stands at the rig must see each of them.
    next(cues).ifPresent(people::cue);
    for (var bytes = next(fromHost); bytes.isPresent(); bytes = next(fromHost)) {
      RequestDecoder.Received received = decoder.feed(bytes.get(), bytes.get().length);
      if (received.stop()) {
        rig.headLink().stop();
      }
      received.lines().forEach(rig.headLink()::offer);
    }
  }

  private static <T> Optional<T> next(BlockingQueue<T> queue) {
    return Optional.ofNullable(queue.poll());
  }

  private void readOrders(BufferedReader orders) {
    try {
      for (String line = orders.readLine(); line != null; line = orders.readLine()) {
        if (line.startsWith("drive ")) {
          driven.add(new Outputs(Integer.parseInt(line.substring(6))));
        }
        if (line.startsWith("cue ")) {
          cues.add(HandCues.read(line.split(" ", -1)));
        }
        if (line.equals("end")) {
          break;
        }
      }
    } catch (IOException gone) {
      // The host is gone: the same as an end.
    } finally {
      ended = true;
    }
  }

  private void readBytes() {
    long total = 0;
    byte[] came = cable.readUpTo(total + 1);
    while (came.length > 0) {
      total += came.length;
      fromHost.add(came);
      came = cable.readUpTo(total + 1);
    }
  }
}
