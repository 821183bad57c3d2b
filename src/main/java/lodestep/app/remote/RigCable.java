package lodestep.app.remote;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;

/**
 * The rig's end of a serial cable on this computer: socat joins a pseudo-terminal, which the host
 * opens as its port, to two pipes that are held here. Whatever way this process ends, socat sees
 * its pipes close and goes too.
 *
 * <p>socat would overwrite a file that stands where its link is to be. So it makes a link of a name
 * that belongs to this process alone, and the port is a link to that one, made only where nothing
 * is. A port whose link leads nowhere and bears such a name was left by a rig that was killed; it
 * is replaced. Confined to one thread, but for {@link #close}; or one thread reads and one writes.
 */
final class RigCable implements AutoCloseable {

  private static final String OWN_NAME = ".lodestep-line-";
  private static final long LOOK_NS = 2_000_000L;
  private static final int LOOKS_MAX = 15_000;
  private static final long END_WAIT_SECONDS = 5;

  private final Path port;
  private final Path ownLink;
  private final byte[] buffer = new byte[4_096];

  /** Any thread may end it. */
  private volatile Process socat;

  private InputStream fromHost;
  private OutputStream toHost;
  private long received;
  private long sent;
  private volatile boolean lost;

  private RigCable(Path port, Path ownLink, Process socat) {
    this.port = port;
    this.ownLink = ownLink;
    this.socat = socat;
    this.fromHost = socat.getInputStream();
    this.toHost = socat.getOutputStream();
  }

  /**
   * Lays a cable to this port.
   *
   * @param port absolute path at which nothing may stand yet, in a folder that may be written
   * @throws IOException when that cannot be; its message is one sentence for a person
   */
  static RigCable lay(Path port) throws IOException {
    Path folder = folderOf(port);
    requireFree(port);
    Path ownLink = folder.resolve(OWN_NAME + ProcessHandle.current().pid());
    Files.deleteIfExists(ownLink);
    RigCable cable = new RigCable(port, ownLink, socat(folder, ownLink));
    cable.nameIt();
    return cable;
  }

  /**
   * Plugs the cable in again, under the same name.
   *
   * @param hostSent how many bytes the host has sent by now; those that did not come are lost
   * @throws IOException as {@link #lay}
   */
  void layAgain(long hostSent) throws IOException {
    close();
    requireFree(port);
    socat = socat(folderOf(port), ownLink);
    fromHost = socat.getInputStream();
    toHost = socat.getOutputStream();
    nameIt();
    received = hostSent;
    lost = false;
  }

  private void nameIt() throws IOException {
    try {
      awaitTerminal();
      Files.createSymbolicLink(port, ownLink);
    } catch (FileAlreadyExistsException e) {
      close();
      throw taken(port);
    } catch (IOException e) {
      close();
      throw e;
    }
  }

  private static Path folderOf(Path port) throws IOException {
    Path folder = port.toAbsolutePath().getParent();
    if (folder == null || !Files.isDirectory(folder) || !Files.isWritable(folder)) {
      throw new IOException(
          "the virtual head's line cannot be laid to "
              + port
              + ": its folder is not there or may not be written; name another 'port' under [head]"
              + " in rig.toml");
    }
    return folder;
  }

  private static void requireFree(Path port) throws IOException {
    if (!Files.exists(port, LinkOption.NOFOLLOW_LINKS)) {
      return;
    }
    removeLeftOver(port);
    if (Files.exists(port, LinkOption.NOFOLLOW_LINKS)) {
      throw taken(port);
    }
  }

  /** Removes what a killed rig has left at this port; anything else, and a live one, stays. */
  static void removeLeftOver(Path port) throws IOException {
    if (!Files.isSymbolicLink(port) || Files.exists(port)) {
      return;
    }
    Path target = Files.readSymbolicLink(port);
    if (String.valueOf(target.getFileName()).startsWith(OWN_NAME)) {
      Files.delete(port);
      Files.deleteIfExists(target);
    }
  }

  private static IOException taken(Path port) {
    return new IOException(
        "the virtual head's line cannot be laid to "
            + port
            + ": something is there already; end the other batch that uses it, or name another"
            + " 'port' under [head] in rig.toml");
  }

  private static Process socat(Path folder, Path ownLink) throws IOException {
    try {
      return new ProcessBuilder("socat", "pty,raw,echo=0,link=./" + ownLink.getFileName(), "-")
          .directory(folder.toFile())
          .start();
    } catch (IOException e) {
      throw new IOException(
          "socat is missing, and the virtual head's line needs it; install it with:"
              + " sudo apt-get install -y socat",
          e);
    }
  }

  private void awaitTerminal() throws IOException {
    for (int look = 0; look < LOOKS_MAX && !Files.exists(ownLink); look++) {
      if (!socat.isAlive()) {
        byte[] said = socat.getErrorStream().readAllBytes();
        throw new IOException(
            "socat could not lay the virtual head's line to "
                + port
                + " ("
                + new String(said, StandardCharsets.UTF_8).strip().replace('\n', ';')
                + "); name another 'port' under [head] in rig.toml");
      }
      LockSupport.parkNanos(LOOK_NS);
    }
    if (!Files.exists(ownLink)) {
      throw new IOException(
          "socat does not come to lay the virtual head's line to "
              + port
              + "; try again when this computer has less to do");
    }
  }

  /**
   * Waits until this many bytes have come since the cable was laid, or the cable is cut.
   *
   * @return what came since the last call; may be empty
   */
  byte[] readUpTo(long total) {
    byte[] came = new byte[0];
    while (!lost && received < total) {
      int length = readOnce();
      if (length < 0) {
        lost = true;
      } else {
        received += length;
        int before = came.length;
        came = Arrays.copyOf(came, before + length);
        System.arraycopy(buffer, 0, came, before, length);
      }
    }
    return came;
  }

  private int readOnce() {
    try {
      return fromHost.read(buffer);
    } catch (IOException e) {
      return -1;
    }
  }

  /** Sends these bytes; on a cable that is cut they are gone. */
  void write(byte[] bytes) {
    sent += bytes.length;
    try {
      if (!lost) {
        toHost.write(bytes);
        toHost.flush();
      }
    } catch (IOException e) {
      lost = true;
    }
  }

  /** How many bytes were given to {@link #write}. */
  long sentBytes() {
    return sent;
  }

  /** Takes the cable away, with both links; any thread, and more than once. */
  @Override
  public void close() {
    try {
      if (Files.isSymbolicLink(port) && Files.readSymbolicLink(port).equals(ownLink)) {
        Files.delete(port);
      }
      socat.destroy();
      if (!socat.waitFor(END_WAIT_SECONDS, TimeUnit.SECONDS)) {
        socat.destroyForcibly();
      }
      Files.deleteIfExists(ownLink);
    } catch (IOException e) {
      // Gone already, or the folder is: then nothing of ours is left in it.
      socat.destroyForcibly();
    } catch (InterruptedException e) {
      socat.destroyForcibly();
      Thread.currentThread().interrupt();
    }
  }
}
