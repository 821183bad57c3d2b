package lodestep.app;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The command {@code run} in a process of its own, to be killed. */
final class ServedProcess {

  private static final Pattern PAIRING =
      Pattern.compile("(http://127\\.0\\.0\\.1:(\\d+)/#pair=[0-9A-Z-]+)");

  private final Process process;
  private final String pairing;
  private final int port;

  private ServedProcess(Process process, String pairing, int port) {
    this.process = process;
    this.pairing = pairing;
    this.port = port;
  }

  /** Starts it and waits until it says where its page is. */
  static ServedProcess start(Path ledger, int port) throws IOException {
    Process process =
        new ProcessBuilder(
                List.of(
                    Path.of(System.getProperty("java.home", ""), "bin", "java").toString(),
                    "-XX:TieredStopAtLevel=1",
                    "-cp",
                    System.getProperty("java.class.path", ""),
                    Main.class.getName(),
                    "run",
                    "--port",
                    Integer.toString(port),
                    "--speed",
                    "8",
                    "--ledger",
                    ledger.toString()))
            .redirectErrorStream(true)
            .start();
    StringBuilder said = new StringBuilder();
    // Left open: what it says later stays in the pipe, which is large enough for it.
    BufferedReader lines = process.inputReader(StandardCharsets.UTF_8);
    for (String line = lines.readLine(); line != null; line = lines.readLine()) {
      said.append(line).append('\n');
      Matcher found = PAIRING.matcher(line);
      if (found.find()) {
        return new ServedProcess(process, found.group(1), Integer.parseInt(found.group(2)));
      }
    }
    process.destroyForcibly();
    throw new IOException("the program ended before it served: " + said);
  }

  String pairing() {
    return pairing;
  }

  int port() {
    return port;
  }

  /** As the system kills: no last word. */
  void kill() {
    process.destroyForcibly();
    process.onExit().join();
  }
}
