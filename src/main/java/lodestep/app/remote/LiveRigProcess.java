package lodestep.app.remote;

import java.io.BufferedReader;
import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import lodestep.config.HeadConfig;

/**
 * Entry point of a virtual rig in real time, in a process of its own, with its head on a serial
 * line. {@code lodestep figures --real-time} starts it; a person has no use for it.
 *
 * <pre>
 * rig ORDER    the whole virtual bench; then "drive OUTPUTS" as often as they change, and "cue ASK
 *              NEAR" for a hand beside it
 * echo PORT    a head that answers each heartbeat with a status line, and nothing else
 * end          or the end of the orders: lay everything down
 * </pre>
 */
public final class LiveRigProcess {

  private LiveRigProcess() {}

  /** Serves until told to end, or until whoever started it is gone. */
  public static void main(String[] arguments) throws IOException, InterruptedException {
    BufferedReader orders =
        new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8));
    PrintWriter answers =
        new PrintWriter(
            new OutputStreamWriter(
                new FileOutputStream(FileDescriptor.out), StandardCharsets.UTF_8));
    String first = orders.readLine();
    if (first == null) {
      return;
    }
    String rest = first.substring(first.indexOf(' ') + 1);
    if (first.startsWith("echo ")) {
      try (RigCable cable = RigCable.lay(Path.of(rest))) {
        Runtime.getRuntime().addShutdownHook(new Thread(cable::close, "cable"));
        new EchoHead(cable).serve(orders, answers);
      }
      return;
    }
    RigOrder order = RigOrder.read(rest);
    if (!(order.rig().head() instanceof HeadConfig.SerialHead serial)) {
      throw new IllegalArgumentException("a live rig's head is on a serial line");
    }
    try (RigCable cable = RigCable.lay(Path.of(serial.port()))) {
      Runtime.getRuntime().addShutdownHook(new Thread(cable::close, "cable"));
      new LiveServer(order, cable, answers).serve(orders);
    }
  }
}
