package lodestep.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.tinylog.configuration.Configuration;

/** Where the diagnostics go: a rotating file beside the program's data. */
public final class Diagnostics {

  /** Small enough to be sent by mail, large enough for weeks of a quiet program. */
  private static final String SIZE_MAX = "2mb";

  private static final String FILES_MAX = "10";

  private Diagnostics() {}

  /**
   * Where diagnostics go on this machine: the user's folder for state.
   *
   * @param environment of the process
   */
  static Path usualFolder(Map<String, String> environment) {
    return UserFolder.of(environment, "XDG_STATE_HOME", ".local/state");
  }

  /**
   * Lets diagnostics be written to {@code lodestep.0.log} and its successors in this folder, which
   * is made if it is not there. The oldest file goes when there are ten. To be called once, before
   * anything is logged. Nothing is written while nothing is logged.
   *
   * @throws IOException when the folder cannot be made
   * @throws UnsupportedOperationException when something was logged before
   */
  public static void writeTo(Path folder) throws IOException {
    Files.createDirectories(folder);
    Map.of(
            "writerFile", "rolling file",
            "writerFile.file", folder.toAbsolutePath().resolve("lodestep.{count}.log").toString(),
            "writerFile.policies", "size: " + SIZE_MAX,
            "writerFile.backups", FILES_MAX,
            "writerFile.charset", "UTF-8",
            "writerFile.buffered", "true",
            "writerFile.format",
                "{date: yyyy-MM-dd'T'HH:mm:ss.SSSXXX} {level} {thread} {class-name}: {message}")
        .forEach(Configuration::set);
  }
}
