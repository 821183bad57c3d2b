package lodestep.app;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lodestep.bench.Lots;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import lodestep.config.RigReading;

/** Finds the rig's description: the file that was named, or the virtual rig that is built in. */
public final class RigSource {

  /** Built-in descriptions on the class path, the same files as {@code firmware-host/board}. */
  private static final String BUILT_IN = "/lodestep/rig-virtual";

  private static final String TOML = ".toml";

  private RigSource() {}

  /**
   * Reads the rig's description.
   *
   * @param file the file that was named; empty means the built-in virtual rig. A file that was
   *     named and cannot be read is a refusal, never a reason to go virtual.
   * @throws IOException when the built-in description cannot be read: the program is damaged
   */
  public static RigReading read(Optional<Path> file) throws IOException {
    return file.isPresent() ? readFile(file.get()) : builtIn("");
  }

  /**
   * Reads a built-in virtual rig.
   *
   * @param kind "" for the reference rig, else what its file's name ends in, as "-jig"
   * @throws IOException when there is none, or it cannot be read: the program is damaged
   */
  static RigReading builtIn(String kind) throws IOException {
    return RigFile.read("built-in rig" + kind, builtInText(BUILT_IN + kind + TOML));
  }

  private static RigReading readFile(Path file) {
    String name = file.toString();
    if (!Files.isRegularFile(file)) {
      return refused(name, "there is no such file; name the rig.toml of your rig");
    }
    try {
      RigReading reading = RigFile.read(name, decoded(Files.readAllBytes(file)));
      return reading.match(rig -> withSoundLots(name, rig), problems -> reading);
    } catch (CharacterCodingException wrongBytes) {
      return refused(name, "is not UTF-8 text; save it as UTF-8");
    } catch (IOException unreadable) {
      return refused(name, "cannot be read (" + unreadable.getMessage() + ")");
    }
  }

  /** Whether the figures of its lots can be belongs to the model of magnets to say. */
  private static RigReading withSoundLots(String name, RigConfig rig) {
    try {
      Lots.of(rig);
      return new RigReading.Rig(rig);
    } catch (IllegalArgumentException wrong) {
      return refused(name, String.valueOf(wrong.getMessage()));
    }
  }

  private static RigReading refused(String name, String why) {
    return new RigReading.Refusal(List.of(name + ": " + why));
  }

  /** A file of wrong bytes is refused rather than read with question marks in it. */
  private static String decoded(byte[] bytes) throws CharacterCodingException {
    return StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
  }

  /**
   * The text of one of the program's own files.
   *
   * @throws IOException when it cannot be read: the program is damaged
   */
  static String builtInText(String resource) throws IOException {
    try (InputStream stream = RigSource.class.getResourceAsStream(resource)) {
      if (stream == null) {
        throw new IOException(resource + " is missing in the program; build it again");
      }
      return decoded(stream.readAllBytes());
    }
  }
}
