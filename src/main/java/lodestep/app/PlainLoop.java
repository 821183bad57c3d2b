package lodestep.app;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.TimeUnit;

/** A loop in C with the period of the scans, to compare with; compiled here where cc is there. */
final class PlainLoop {

  private static final long COMPILE_MAX_SECONDS = 60;

  /** Ten times as long as it is asked to run. Its four figures fit in the pipe meanwhile. */
  private static final long RUN_MAX_SECONDS = 300;

  private final Path program;

  private PlainLoop(Path program) {
    this.program = program;
  }

  /** Compiles it into this folder; empty where that cannot be done. */
  static Optional<PlainLoop> compiledIn(Path folder) throws IOException {
    Path source = folder.resolve("plain-loop.c");
    try (InputStream in = PlainLoop.class.getResourceAsStream("/lodestep/plain-loop.c")) {
      if (in == null) {
        throw new IllegalStateException("the program's own file plain-loop.c is missing");
      }
      Files.write(source, in.readAllBytes());
    }
    Path program = folder.resolve("plain-loop");
    try {
      Process cc =
          new ProcessBuilder("cc", "-O2", "-o", program.toString(), source.toString())
              .redirectErrorStream(true)
              .redirectOutput(folder.resolve("cc.log").toFile())
              .start();
      boolean done = cc.waitFor(COMPILE_MAX_SECONDS, TimeUnit.SECONDS);
      cc.destroyForcibly();
      return done && cc.exitValue() == 0 ? Optional.of(new PlainLoop(program)) : Optional.empty();
    } catch (IOException noCompiler) {
      return Optional.empty();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return Optional.empty();
    }
  }

  /** Starts it with this period, for so many wakes. */
  Process start(long periodNs, long wakes) throws IOException {
    return new ProcessBuilder(program.toString(), Long.toString(periodNs), Long.toString(wakes))
        .start();
  }

  /**
   * What a loop that has been started came to; waits for its end, with a bound for one that hangs.
   *
   * @throws IOException when it does not come to its end; it is ended then
   */
  static Lateness result(Process started) throws IOException {
    try {
      if (!started.waitFor(RUN_MAX_SECONDS, TimeUnit.SECONDS)) {
        started.destroyForcibly();
        throw new IOException("the plain C loop does not come to its end; measure again");
      }
    } catch (InterruptedException e) {
      started.destroyForcibly();
      Thread.currentThread().interrupt();
      throw new IOException("the program is being ended", e);
    }
    String said =
        new String(started.getInputStream().readAllBytes(), StandardCharsets.US_ASCII).strip();
    String[] ns = said.split(" ", -1);
    if (ns.length != 4) {
      throw new IllegalStateException("the plain loop said: " + said);
    }
    return new Lateness(
        Long.parseLong(ns[0]), Long.parseLong(ns[1]), Long.parseLong(ns[2]), Long.parseLong(ns[3]));
  }
}
