package lodestep.app;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PipedInputStream;
import java.io.PipedOutputStream;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.CountDownLatch;
import lodestep.cli.Commands;
import lodestep.port.Contacts;
import lodestep.port.Lines;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.Tone;

/**
 * The program itself as it runs on a real rig, but for the board's pins, which stand on the pipes
 * to whoever started it: lines "stands CONTACTS" in, "drive OUTPUTS" out, as bits. Whatever else
 * comes in is typed, and whatever else goes out is said.
 *
 * <p>With the property {@code lodestep.test.freeze} it stops dead in the middle of the scan that
 * raises this line, once its pin is up: there it waits to be killed.
 */
final class PinsOnAPipe implements Lines {

  private final CountDownLatch wired = new CountDownLatch(1);
  private final CountDownLatch never = new CountDownLatch(1);
  private final PrintWriter out;
  private final String freezeAt = System.getProperty("lodestep.test.freeze", "");
  private volatile int contacts;
  private Outputs last = Outputs.ALL_LOW;

  private PinsOnAPipe(PrintWriter out) {
    this.out = out;
  }

  /** Runs one command and exits with its code. */
  public static void main(String[] arguments) throws IOException, InterruptedException {
    PrintWriter out = new PrintWriter(System.out, true, StandardCharsets.UTF_8);
    PrintWriter err = new PrintWriter(System.err, true, StandardCharsets.UTF_8);
    PinsOnAPipe pins = new PinsOnAPipe(out);
    PipedInputStream typed = new PipedInputStream();
    PipedOutputStream keys = new PipedOutputStream(typed);
    Thread reader = new Thread(() -> pins.readAll(keys), "pins");
    reader.setDaemon(true);
    reader.start();
    pins.wired.await();
    Outside outside =
        new Outside(typed, false, () -> new Tone.Opening.None("this is a test"), numbers -> pins);
    int code = Commands.run(new Wiring(outside), out, err, arguments);
    out.flush();
    System.exit(code);
  }

  private void readAll(PipedOutputStream keys) {
    try (BufferedReader in =
        new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8))) {
      for (String line = in.readLine(); line != null; line = in.readLine()) {
        if (line.startsWith("stands ")) {
          contacts = Integer.parseInt(line.substring(7));
          wired.countDown();
        } else {
          keys.write((line + "\n").getBytes(StandardCharsets.UTF_8));
          keys.flush();
        }
      }
    } catch (IOException ended) {
      // Whoever started it is gone.
    }
    contacts = 0;
  }

  @Override
  public Contacts read(long nowNs) {
    return new Contacts(contacts, nowNs);
  }

  @Override
  public Outputs drive(Outputs outputs) {
    if (!outputs.equals(last)) {
      last = outputs;
      out.println("drive " + outputs.highBits());
      if (!freezeAt.isEmpty() && outputs.isHigh(OutputLine.valueOf(freezeAt))) {
        freeze();
      }
    }
    return outputs;
  }

  private void freeze() {
    try {
      never.await();
    } catch (InterruptedException ending) {
      Thread.currentThread().interrupt();
    }
  }

  @Override
  public void close() {
    drive(Outputs.ALL_LOW);
  }
}
