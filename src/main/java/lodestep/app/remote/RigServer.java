package lodestep.app.remote;

import java.io.BufferedReader;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintWriter;
import java.util.List;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadLineWriter;
import lodestep.protocol.RequestDecoder;
import lodestep.sim.VirtualRig;

/**
 * The virtual bench (plant, head, magnets, operator) as the host's orders move it. Its head speaks
 * over the cable alone; the orders carry what on a real bench are wires and time. Confined to one
 * thread.
 *
 * <pre>
 * run TIME SENT   read what the host has sent, SENT bytes in all, then move on to TIME
 * send            the host's clock has followed to "due": send, and move on
 * drop            the same, but the host has no line open: nobody is there to send to
 * plug SENT       the cable is plugged in again; SENT bytes of the host are sent or lost
 * drive OUTPUTS   the host's outputs change, as bits
 * cue ASK NEAR    what a hand beside the rig is asked now, and how near its end in millionths
 * end             or the end of the orders: lay everything down
 * </pre>
 */
final class RigServer {

  private final VirtualRig rig;
  private final AtTheRig people;
  private final RigCable cable;
  private final BufferedReader orders;
  private final PrintWriter answers;
  private final RequestDecoder decoder = new RequestDecoder();
  private int continues;

  RigServer(RigOrder order, RigCable cable, BufferedReader orders, PrintWriter answers) {
    this.rig = new VirtualRig(order.rig(), order.nest(), order.seed(), order.faults());
    this.people = new AtTheRig(order, rig, () -> continues++);
    this.cable = cable;
    this.orders = orders;
    this.answers = answers;
  }

  /** Answers orders until the last. */
  void serve() throws IOException {
    answer(new RigAnswer.Ready());
    for (String[] order = next(); !order[0].equals("end"); order = next()) {
      switch (order[0]) {
        case "run" -> run(Long.parseLong(order[1]), Long.parseLong(order[2]));
        case "cue" -> people.cue(HandCues.read(order));
        case "drive" -> drive(Integer.parseInt(order[1]));
        case "plug" -> plug(Long.parseLong(order[1]));
        default -> throw new IllegalStateException("unknown order: " + String.join(" ", order));
      }
    }
  }

  /** The next order in words; when the host is gone, the last. */
  private String[] next() throws IOException {
    String line = orders.readLine();
    return line == null ? new String[] {"end"} : line.split(" ", -1);
  }

  private void answer(RigAnswer answer) {
    answers.println(answer.line());
    answers.flush();
  }

  private void drive(int outputBits) {
    int drivenBits = rig.lines().drive(new Outputs(outputBits)).highBits();
    answer(new RigAnswer.Drove(drivenBits));
  }

  private void plug(long hostSent) {
    try {
      cable.layAgain(hostSent);
      answer(new RigAnswer.Plugged(cable.sentBytes()));
    } catch (IOException refused) {
      answer(new RigAnswer.Refused(String.valueOf(refused.getMessage())));
    }
  }

  private void run(long untilNs, long hostSent) throws IOException {
    receive(cable.readUpTo(hostSent));
    continues = 0;
    while (rig.clock().nowNs() - untilNs < 0) {
      people.step(rig.clock().nowNs());
      rig.step();
      List<ReceivedFrame> frames = rig.headLink().take();
      if (!frames.isEmpty() && !sent(lines(frames))) {
        return;
      }
    }
    long nowNs = rig.clock().nowNs();
    answer(
        new RigAnswer.At(
            nowNs,
            rig.lines().read(nowNs).closedBits(),
            rig.lines().driven().highBits(),
            continues,
            people.gaveUp()));
  }

  private void receive(byte[] bytes) {
    RequestDecoder.Received received = decoder.feed(bytes, bytes.length);
    if (received.stop()) {
      rig.headLink().stop();
    }
    received.lines().forEach(rig.headLink()::offer);
  }

  private static byte[] lines(List<ReceivedFrame> frames) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    for (ReceivedFrame frame : frames) {
      bytes.writeBytes(HeadLineWriter.line(frame.frame()));
    }
    return bytes.toByteArray();
  }

  /** The host's clock must show this millisecond before it can receive the first byte. */
  private boolean sent(byte[] bytes) throws IOException {
    answer(new RigAnswer.Due(rig.clock().nowNs(), cable.sentBytes() + bytes.length));
    String told = next()[0];
    if (told.equals("send")) {
      cable.write(bytes);
    }
    return told.equals("send") || told.equals("drop");
  }
}
