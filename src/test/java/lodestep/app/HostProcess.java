package lodestep.app;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.locks.LockSupport;
import lodestep.adapter.serial.Polling;
import lodestep.app.remote.LiveRig;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;

/**
 * The program in a process of its own and in real time, with a live rig's contacts and outputs at
 * its pins. What it drives falls when it ends, as a board's pins do.
 */
final class HostProcess {

  private static final long LOOK_NS = 500_000L;

  private final LiveRig rig;
  private final Process process;
  private final Writer in;
  private final List<String> said = Collections.synchronizedList(new ArrayList<>());
  private final Thread out;
  private volatile Outputs standing = Outputs.ALL_LOW;
  private volatile Outputs raised = Outputs.ALL_LOW;

  /**
   * Starts it.
   *
   * @param freezeAt output in whose raising it stops dead; none when empty
   */
  HostProcess(LiveRig rig, String freezeAt, List<String> arguments) throws IOException {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home", ""), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-Dlodestep.test.freeze=" + freezeAt,
                "-cp",
                System.getProperty("java.class.path", ""),
                PinsOnAPipe.class.getName()));
    command.addAll(arguments);
    this.rig = rig;
    this.process = new ProcessBuilder(command).redirectErrorStream(true).start();
    this.in = process.outputWriter(StandardCharsets.UTF_8);
    rig.onContinue(() -> send("continue"));
    this.out = begin("host-said", this::hear);
    begin("host-contacts", this::tell);
  }

  private static Thread begin(String name, Runnable work) {
    Thread thread = new Thread(work, name);
    thread.setDaemon(true);
    thread.start();
    return thread;
  }

  private synchronized void send(String line) {
    try {
      in.write(line + "\n");
      in.flush();
    } catch (IOException gone) {
      // Its end is seen by whoever waits for it.
    }
  }

  private void tell() {
    int told = -1;
    while (process.isAlive()) {
      int stands = rig.read(0).closedBits();
      if (stands != told) {
        told = stands;
        send("stands " + stands);
      }
      LockSupport.parkNanos(LOOK_NS);
    }
  }

  private void hear() {
    try (BufferedReader lines = process.inputReader(StandardCharsets.UTF_8)) {
      for (String line = lines.readLine(); line != null; line = lines.readLine()) {
        if (line.startsWith("drive ")) {
          drive(new Outputs(Integer.parseInt(line.substring(6))));
        } else {
          said.add(line);
        }
      }
    } catch (IOException ended) {
      said.add("(its output broke)");
    }
    rig.drive(Outputs.ALL_LOW);
  }

  private void drive(Outputs outputs) {
    rig.drive(outputs);
    standing = outputs;
    raised = new Outputs(raised.highBits() | outputs.highBits());
  }

  /** Waits until it has raised this output, since its start or since {@link #forgetRaised}. */
  void awaitRaised(OutputLine line) {
    Polling.until(line + ", said: " + said, () -> raised.isHigh(line) || !process.isAlive());
    if (!raised.isHigh(line)) {
      throw new AssertionError("it ended and had never raised " + line + "; said: " + said);
    }
  }

  void forgetRaised() {
    raised = Outputs.ALL_LOW;
  }

  /** The levels it drove last, of its own doing. */
  Outputs standing() {
    return standing;
  }

  /** Sends it a signal, by its name without SIG. */
  void signal(String name) {
    try {
      new ProcessBuilder("sh", "-c", "kill -" + name + " " + process.pid()).start().waitFor();
    } catch (IOException failed) {
      throw new UncheckedIOException(failed);
    } catch (InterruptedException ending) {
      Thread.currentThread().interrupt();
    }
  }

  /** Stops it, and waits until the system says that it is. */
  void stopProcess() {
    signal("STOP");
    Path status = Path.of("/proc", Long.toString(process.pid()), "status");
    Polling.until("the process to stop", () -> isStopped(status));
  }

  private static boolean isStopped(Path status) {
    try {
      return Files.readAllLines(status).stream().anyMatch(line -> line.startsWith("State:\tT"));
    } catch (IOException gone) {
      throw new UncheckedIOException(gone);
    }
  }

  boolean isAlive() {
    return process.isAlive();
  }

  /** Ends it as {@code kill -9} does. */
  void kill() {
    process.destroyForcibly();
  }

  /** Waits for its end, and until all that it said is heard. */
  int ended() throws InterruptedException {
    int code = process.waitFor();
    out.join();
    return code;
  }

  /** What it said, but for its pins. */
  List<String> said() {
    return List.copyOf(said);
  }
}
