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
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import lodestep.config.HeadConfig;
import lodestep.config.RigConfig;

/**
 * Entry point of the virtual rig's own process. It is started by the host, reads its order and then
 * the host's orders from standard input, and ends with them; a person has no use for it. Where the
 * environment names a file as {@code LODESTEP_RIG_LOG} it writes down there how its host left it.
 */
public final class RigProcess {

  private RigProcess() {}

  /** Serves one batch; ends when the host says so, or is gone. */
  public static void main(String[] arguments) throws IOException {
    BufferedReader orders =
        new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8));
    PrintWriter answers =
        new PrintWriter(
            new OutputStreamWriter(
                new FileOutputStream(FileDescriptor.out), StandardCharsets.UTF_8));
    String first = orders.readLine();
    if (first != null) {
      serve(RigOrder.read(first), orders, answers);
    }
  }

  private static void serve(RigOrder order, BufferedReader orders, PrintWriter answers)
      throws IOException {
    RigCable cable;
    try {
      cable = RigCable.lay(port(order.rig()));
    } catch (IOException refused) {
      String sentence = String.valueOf(refused.getMessage()).replace('\n', ' ');
      answers.println(new RigAnswer.Refused(sentence).line());
      answers.flush();
      return;
    }
    Runtime.getRuntime().addShutdownHook(new Thread(cable::close, "cable"));
    // A host that was killed may take with it bytes that it has announced, and for which this
    // process would wait for ever.
    ProcessHandle.current()
        .parent()
        .ifPresent(
            host -> {
              CompletableFuture<Void> unused = host.onExit().thenRun(cable::close);
            });
    try (cable) {
      Optional<Path> log = Optional.ofNullable(System.getenv("LODESTEP_RIG_LOG")).map(Path::of);
      new RigServer(order, cable, orders, answers, log).serve();
    }
  }

  private static Path port(RigConfig rig) throws IOException {
    if (rig.head() instanceof HeadConfig.SerialHead serial) {
      return Path.of(serial.port());
    }
    throw new IOException("this rig's head is on no serial line; name its 'port' under [head]");
  }
}
