package lodestep.app.remote;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;

/**
 * The rig's process and the pipe of orders and answers to it. Control thread only; a thread of its
 * own reads the answers, so that a process that hangs cannot hang the host.
 */
final class RigPipe implements AutoCloseable {

  /** For a hung process only; nothing depends on how soon an answer comes. */
  static final long ANSWER_MAX_SECONDS = 60;

  private static final long END_WAIT_SECONDS = 5;

  private final Process process;
  private final Writer orders;

  /** What the process has started itself; seen once it is ready, since its end hides them. */
  private List<ProcessHandle> started = List.of();

  /** Empty: the answers have come to their end. */
  private final BlockingQueue<Optional<String>> answers = new LinkedBlockingQueue<>();

  private RigPipe(Process process) {
    this.process = process;
    this.orders = new OutputStreamWriter(process.getOutputStream(), StandardCharsets.UTF_8);
    Thread reader = new Thread(this::read, "rig-answers");
    reader.setDaemon(true);
    reader.start();
  }

  /**
   * Starts the process: the same program, in a session of its own, so that Ctrl-C at the terminal
   * reaches the host alone and the host can let go in order.
   *
   * @throws IOException when it does not start; its message is one sentence for a person
   */
  static RigPipe start() throws IOException {
    List<String> command =
        List.of(
            "setsid",
            Path.of(System.getProperty("java.home", ""), "bin", "java").toString(),
            "-XX:+UseSerialGC",
            "-XX:TieredStopAtLevel=1",
            "-Xshare:auto",
            "-Xlog:disable",
            "-Xlog:all=error:stderr",
            "-cp",
            System.getProperty("java.class.path", ""),
            RigProcess.class.getName());
    try {
      return new RigPipe(
          new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start());
    } catch (IOException e) {
      throw new IOException(
          "the virtual rig's own process does not start ("
              + e.getMessage()
              + "); see that setsid is there, or install it with: sudo apt-get install -y"
              + " util-linux",
          e);
    }
  }

  private void read() {
    try (BufferedReader in =
        new BufferedReader(
            new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8))) {
      for (String line = in.readLine(); line != null; line = in.readLine()) {
        answers.add(Optional.of(line));
      }
    } catch (IOException ended) {
      // The pipe broke with its process: the same as its end.
    } finally {
      answers.add(Optional.empty());
    }
  }

  /** Gives an order; a process that is gone does not hear it, which its missing answer tells. */
  void say(String order) {
    try {
      orders.write(order);
      orders.write('\n');
      orders.flush();
    } catch (IOException gone) {
      answers.add(Optional.empty());
    }
  }

  /**
   * Waits for the next answer.
   *
   * @throws RigSilence when none comes
   */
  RigAnswer hear() {
    try {
      Optional<Optional<String>> next =
          Optional.ofNullable(answers.poll(ANSWER_MAX_SECONDS, TimeUnit.SECONDS));
      String line =
          next.orElseThrow(
                  () -> new RigSilence("has not answered for " + ANSWER_MAX_SECONDS + " s"))
              .orElseThrow(() -> new RigSilence("has ended"));
      return RigAnswer.read(line)
          .orElseThrow(() -> new RigSilence("answers what it should not: " + line));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new RigSilence("was given up, as this program is being ended");
    }
  }

  /** The process, for tests that end it and what it has started. */
  ProcessHandle handle() {
    return process.toHandle();
  }

  /** The process has all it needs: what it has started is known from now on. */
  void ready() {
    started = process.descendants().toList();
  }

  /** Ends the process and waits for it; what hangs is killed, and what it has started is ended. */
  @Override
  public void close() {
    say("end");
    ended(process.toHandle());
    process.destroyForcibly();
    for (ProcessHandle handle : started) {
      handle.destroy();
      if (!ended(handle)) {
        handle.destroyForcibly();
      }
    }
  }

  private static boolean ended(ProcessHandle handle) {
    try {
      handle.onExit().get(END_WAIT_SECONDS, TimeUnit.SECONDS);
      return true;
    } catch (TimeoutException | ExecutionException e) {
      return false;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return false;
    }
  }
}
