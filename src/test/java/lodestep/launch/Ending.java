package lodestep.launch;

import java.io.IOException;
import java.nio.charset.StandardCharsets;

/** How a run of the launcher ended. */
record Ending(int exitCode, String output, String said) {

  /** Waits for the end; what was already read of its output is not in the result. */
  static Ending of(Process process) throws IOException, InterruptedException {
    String output = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    String said = new String(process.getErrorStream().readAllBytes(), StandardCharsets.UTF_8);
    return new Ending(process.waitFor(), output, said);
  }
}
