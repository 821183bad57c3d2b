package lodestep.device;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;

/** The rigs that come with the program. */
final class Rigs {

  private Rigs() {}

  static RigConfig shipped(String name) {
    Path file =
        Path.of(System.getProperty("lodestep.repository", "."), "firmware-host", "board", name);
    try {
      return RigFile.read(name, Files.readString(file))
          .match(
              rig -> rig,
              problems -> {
                throw new AssertionError(problems);
              });
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    }
  }
}
