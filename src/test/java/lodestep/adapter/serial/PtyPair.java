package lodestep.adapter.serial;

import java.io.File;
import java.io.FileInputStream;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Optional;

/**
 * A serial cable on this computer: two pseudo-terminals joined by socat. What is written at one end
 * is read at the other. The names of the ends are links in the folder given, so that two pairs
 * never meet. Close it; it leaves nothing running and no link behind.
 */
public final class PtyPair implements AutoCloseable {

  private static final String INSTALL =
      "socat is missing, and the tests of the serial link need it; run: apt-get install -y socat";

  private final Path folder;
  private Process socat;
  private Optional<OutputStream> toFar = Optional.empty();
  private Optional<InputStream> fromFar = Optional.empty();

  private PtyPair(Path folder) {
    this.folder = folder;
    this.socat = join();
  }

  /** Joins a new pair with its names in this folder, which belongs to the test alone. */
  public static PtyPair in(Path folder) {
    return new PtyPair(folder);
  }

  /** The end for the program under test. */
  public Path near() {
    return folder.resolve("near");
  }

  /** The end that plays the head. */
  public Path far() {
    return folder.resolve("far");
  }

  /** Pulls the cable: both ends are gone at once, their names with them. */
  public void cut() {
    closeFar();
    socat.destroyForcibly();
    Polling.until("socat to end", () -> !socat.isAlive());
    removeNames();
  }

  /** Plugs the cable in again, under the same names. */
  public void restore() {
    socat = join();
  }

  /** The far end takes and gives nothing more, though the cable is plugged in. */
  public void freeze() {
    signal("STOP");
  }

  /** Ends {@link #freeze}. */
  public void thaw() {
    signal("CONT");
  }

  /** Writes at the far end. */
  public void write(byte[] bytes) {
    try {
      if (toFar.isEmpty()) {
        toFar = Optional.of(new FileOutputStream(far().toFile()));
      }
      OutputStream out = toFar.get();
      out.write(bytes);
      out.flush();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** What has arrived at the far end since the last call; never waits. */
  public byte[] read() {
    try {
      if (fromFar.isEmpty()) {
        fromFar = Optional.of(new FileInputStream(far().toFile()));
      }
      InputStream in = fromFar.get();
      // Not readNBytes: it asks for a position in the file, and a terminal has none.
      byte[] buffer = new byte[in.available()];
      int length = buffer.length == 0 ? 0 : in.read(buffer);
      return Arrays.copyOf(buffer, Math.max(length, 0));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** How many bytes wait unread at the near end. */
  public int waitingAtNear() {
    try (InputStream in = new FileInputStream(near().toFile())) {
      return in.available();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Override
  public void close() {
    cut();
  }

  private Process join() {
    try {
      Process started =
          new ProcessBuilder("socat", "pty,raw,echo=0,link=near", "pty,raw,echo=0,link=far")
              .directory(folder.toFile())
              .redirectErrorStream(true)
              .redirectOutput(new File(folder.toFile(), "socat.log"))
              .start();
      Polling.until(
          "socat to make its two ends",
          () -> {
            if (!started.isAlive()) {
              throw new AssertionError("socat has ended: " + log());
            }
            return Files.exists(near()) && Files.exists(far());
          });
      return started;
    } catch (IOException e) {
      throw new AssertionError(INSTALL, e);
    }
  }

  private String log() {
    try {
      return Files.readString(folder.resolve("socat.log"), StandardCharsets.UTF_8);
    } catch (IOException e) {
      return e.toString();
    }
  }

  private void signal(String name) {
    try {
      Process sent =
          new ProcessBuilder("sh", "-c", "kill -" + name + " " + socat.pid()).inheritIO().start();
      Polling.until("the signal " + name + " to be sent", () -> !sent.isAlive());
      if (sent.exitValue() != 0) {
        throw new AssertionError("kill -" + name + " failed");
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private void closeFar() {
    try {
      if (toFar.isPresent()) {
        toFar.get().close();
      }
      if (fromFar.isPresent()) {
        fromFar.get().close();
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    toFar = Optional.empty();
    fromFar = Optional.empty();
  }

  private void removeNames() {
    try {
      Files.deleteIfExists(near());
      Files.deleteIfExists(far());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
