package lodestep.app.remote;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import lodestep.port.Contacts;
import lodestep.port.HandCue;
import lodestep.port.Lines;
import lodestep.port.Outputs;

/**
 * The host's lines to a virtual rig that runs in real time in a process of its own. Nothing here
 * waits for that process: contacts are those it told last, and outputs are on their way. What it
 * drives reads back as driven, as a pin does.
 */
public final class LiveRig implements Lines {

  private static final long START_WAIT_SECONDS = 60;
  private static final long END_WAIT_SECONDS = 5;

  private final Process process;
  private final List<ProcessHandle> started;
  private final BlockingQueue<String> orders = new LinkedBlockingQueue<>();
  private volatile int contactBits;
  private volatile Runnable onContinue = () -> {};
  private Outputs last = Outputs.ALL_LOW;

  private LiveRig(Process process, BufferedReader said) {
    this.process = process;
    this.started = new ArrayList<>(process.descendants().toList());
    begin("rig-said", () -> hear(said));
    begin("rig-orders", this::tell);
  }

  /**
   * Starts the whole virtual bench of this order.
   *
   * @throws IOException when it does not start; its message is one sentence for a person
   */
  public static LiveRig start(RigOrder order) throws IOException {
    return start("rig " + order.line());
  }

  /** Starts a head alone that answers each heartbeat at once, on a line at this port. */
  public static LiveRig startEcho(Path port) throws IOException {
    return start("echo " + port);
  }

  private static LiveRig start(String order) throws IOException {
    Process process =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home", ""), "bin", "java").toString(),
                "-XX:+UseSerialGC",
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path", ""),
                LiveRigProcess.class.getName())
            .redirectError(ProcessBuilder.Redirect.INHERIT)
            .start();
    Writer out = process.outputWriter(StandardCharsets.UTF_8);
    out.write(order + "\n");
    out.flush();
    BufferedReader said =
        new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8));
    CompletableFuture<String> first = new CompletableFuture<>();
    begin("rig-first", () -> first.complete(firstLine(said)));
    String word = within(first);
    if (!word.equals("ready")) {
      process.descendants().forEach(ProcessHandle::destroyForcibly);
      process.destroyForcibly();
      throw new IOException("the live rig's process does not start; it said: " + word);
    }
    return new LiveRig(process, said);
  }

  private static String firstLine(BufferedReader said) {
    try {
      return String.valueOf(said.readLine());
    } catch (IOException broken) {
      return String.valueOf(broken.getMessage());
    }
  }

  /** The bound is for a process that hangs; nothing depends on how soon it is there. */
  private static String within(CompletableFuture<String> first) {
    try {
      return first.get(START_WAIT_SECONDS, TimeUnit.SECONDS);
    } catch (TimeoutException | ExecutionException silent) {
      return "nothing within " + START_WAIT_SECONDS + " s";
    } catch (InterruptedException ending) {
      Thread.currentThread().interrupt();
      return "nothing, as this program is being ended";
    }
  }

  private static void begin(String name, Runnable work) {
    Thread thread = new Thread(work, name);
    thread.setDaemon(true);
    thread.start();
  }

  private void hear(BufferedReader said) {
    try {
      for (String line = said.readLine(); line != null; line = said.readLine()) {
        if (line.startsWith("stands ")) {
          contactBits = Integer.parseInt(line.substring(7));
        }
        if (line.equals("continue")) {
          onContinue.run();
        }
      }
    } catch (IOException gone) {
      // The process has ended; its contacts read open from now on.
    }
    contactBits = 0;
  }

  private void tell() {
    try (Writer out = new OutputStreamWriter(process.getOutputStream(), StandardCharsets.UTF_8)) {
      for (String order = orders.take(); !order.isEmpty(); order = orders.take()) {
        out.write(order + "\n");
        out.flush();
      }
    } catch (IOException gone) {
      // The process has ended; nothing is left to drive.
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** What is done when the operator says "continue". */
  public void onContinue(Runnable act) {
    onContinue = act;
  }

  @Override
  public Contacts read(long nowNs) {
    return new Contacts(contactBits, nowNs);
  }

  @Override
  public Outputs drive(Outputs outputs) {
    if (!outputs.equals(last)) {
      last = outputs;
      orders.add("drive " + outputs.highBits());
    }
    return outputs;
  }

  /** Tells the hand beside the rig what is asked of it now. */
  public void cue(HandCue cue) {
    orders.add(HandCues.order(cue));
  }

  /** Pulls the cable between head and host: both ends see it at once. */
  public void pullCable() {
    started.forEach(ProcessHandle::destroyForcibly);
  }

  /** The rig's process. */
  public ProcessHandle process() {
    return process.toHandle();
  }

  @Override
  public void close() {
    orders.add("end");
    orders.add("");
    try {
      if (!process.waitFor(END_WAIT_SECONDS, TimeUnit.SECONDS)) {
        process.destroyForcibly();
      }
    } catch (InterruptedException e) {
      process.destroyForcibly();
      Thread.currentThread().interrupt();
    }
    started.forEach(ProcessHandle::destroyForcibly);
  }
}
