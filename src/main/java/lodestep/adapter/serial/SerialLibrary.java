package lodestep.adapter.serial;

import com.fazecast.jSerialComm.SerialPort;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.tinylog.Logger;

/**
 * Loads the serial library's native part from a folder of our own.
 *
 * <p>Left alone, the library unpacks itself to a path below the shared folder for temporary files
 * that anyone can foresee: with several users on one computer that fails, or runs what another put
 * there. Here it is unpacked to a new folder that only this user may enter, and the folder is
 * removed as soon as the library is loaded, so that nothing is left behind even by a program that
 * is killed.
 */
final class SerialLibrary {

  /** The library's own switch for a folder with its native parts. */
  private static final String FOLDER_SWITCH = "jSerialComm.library.path";

  private static final String FILE_NAME = "libjSerialComm.so";

  /** The kinds of processor for which the library brings a native part on Linux. */
  private static final List<String> PROCESSORS =
      List.of("x86_64", "x86", "armv8_64", "armv8_32", "armv7hf", "armv6hf", "armv5", "ppc64le");

  private static final Optional<String> FAILURE = load();

  /** Longer than any end in good order takes. */
  private static final long KEPT_SECONDS = 20;

  private SerialLibrary() {}

  /** Why the library cannot be used on this computer; empty when it can. */
  static Optional<String> failure() {
    return FAILURE;
  }

  /**
   * Keeps the library from closing its ports when the program is told to end. It closes them at
   * once and from a thread of its own, while the host is still letting go of the rig over them; but
   * it runs the threads it was given first, one after the other. To be called after {@link
   * #failure}.
   *
   * @param released reaches zero when the ports are no longer needed; waited for with a bound, in
   *     case that the host hangs
   */
  static void keepPortsOpenAtTheEndUntil(CountDownLatch released) {
    SerialPort.addShutdownHook(new Thread(() -> await(released), "head-port-kept"));
  }

  private static void await(CountDownLatch released) {
    try {
      boolean inTime = released.await(KEPT_SECONDS, TimeUnit.SECONDS);
      if (!inTime) {
        Logger.warn("the head's port is closed though the host has not let go of it");
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private static Optional<String> load() {
    if (System.getProperty(FOLDER_SWITCH) != null) {
      // Whoever packs the program may have unpacked the library already.
      return initialise();
    }
    try {
      Path folder = Files.createTempDirectory("lodestep-serial");
      try {
        unpackTo(folder);
        System.setProperty(FOLDER_SWITCH, folder.toString());
        return initialise();
      } finally {
        System.clearProperty(FOLDER_SWITCH);
        remove(folder);
      }
    } catch (IOException e) {
      return Optional.of(e.toString());
    }
  }

  private static Optional<String> initialise() {
    try {
      SerialPort.getVersion();
      return Optional.empty();
    } catch (LinkageError e) {
      return Optional.of(e.toString());
    }
  }

  private static void unpackTo(Path folder) throws IOException {
    for (String processor : PROCESSORS) {
      try (InputStream part =
          SerialPort.class.getResourceAsStream("/Linux/" + processor + "/" + FILE_NAME)) {
        if (part != null) {
          Path target = Files.createDirectories(folder.resolve("Linux").resolve(processor));
          Files.copy(part, target.resolve(FILE_NAME));
        }
      }
    }
  }

  private static void remove(Path folder) throws IOException {
    for (String processor : PROCESSORS) {
      Path target = folder.resolve("Linux").resolve(processor);
      Files.deleteIfExists(target.resolve(FILE_NAME));
      Files.deleteIfExists(target);
    }
    Files.deleteIfExists(folder.resolve("Linux"));
    Files.delete(folder);
  }
}
