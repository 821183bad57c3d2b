package lodestep.config;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.function.UnaryOperator;

/** The rigs that come with the program. */
public final class ShippedRig {

  private ShippedRig() {}

  /** The rig of this file in {@code firmware-host/board}. */
  public static RigConfig read(String name) {
    return read(name, text -> text);
  }

  /** The same with its text changed. */
  public static RigConfig read(String name, UnaryOperator<String> change) {
    Path file =
        Path.of(System.getProperty("lodestep.repository", "."), "firmware-host", "board", name);
    try {
      return RigFile.read(name, change.apply(Files.readString(file)))
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
