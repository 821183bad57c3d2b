package lodestep.adapter.sqlite;

import java.io.IOException;
import java.io.InputStream;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.Arrays;
import org.sqlite.util.LibraryLoaderUtil;

/**
 * Unpacks SQLite's native library once into a folder beside the ledger. Left to itself the driver
 * unpacks it anew into the temporary folder at every start, and a killed program leaves its copy
 * there: more than a megabyte each time.
 */
final class SqliteNative {

  /** Where the driver looks for the library first; whoever has set it has seen to it. */
  private static final String PATH_PROPERTY = "org.sqlite.lib.path";

  private static final String FOLDER = ".sqlite-library";

  private SqliteNative() {}

  /**
   * Points the driver to the unpacked library, before it is first used in this program; later calls
   * change nothing. If the folder cannot be written the driver is left to itself.
   */
  static void prepare(Path ledgerFolder) {
    if (System.getProperty(PATH_PROPERTY) != null) {
      return;
    }
    String name = LibraryLoaderUtil.getNativeLibName();
    String resource = LibraryLoaderUtil.getNativeLibResourcePath() + "/" + name;
    try (InputStream packed = LibraryLoaderUtil.class.getResourceAsStream(resource)) {
      if (packed != null) {
        Path folder = Files.createDirectories(ledgerFolder.resolve(FOLDER));
        unpack(packed.readAllBytes(), folder, name);
        System.setProperty(PATH_PROPERTY, folder.toString());
      }
    } catch (IOException | OverlappingFileLockException unwritable) {
      // A ledger in a folder that cannot be written is only read; the driver then unpacks its
      // library into the temporary folder, as it does by default.
      return;
    }
  }

  /** The content is compared, so that another version's or a planted library is never loaded. */
  private static void unpack(byte[] wanted, Path folder, String name) throws IOException {
    Path library = folder.resolve(name);
    // The lock lets two programs that start together unpack one after the other, into one file
    // of a fixed name, so that being killed here leaves no more than that file.
    try (FileChannel channel =
            FileChannel.open(
                folder.resolve("lock"), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
        FileLock held = channel.lock()) {
      if (held.isValid() && !holds(library, wanted)) {
        Path part = folder.resolve(name + ".part");
        Files.write(part, wanted);
        move(part, library);
      }
    }
  }

  private static boolean holds(Path library, byte[] wanted) throws IOException {
    return Files.isRegularFile(library)
        && Files.size(library) == wanted.length
        && Arrays.equals(Files.readAllBytes(library), wanted);
  }

  private static void move(Path from, Path to) throws IOException {
    try {
      Files.move(from, to, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (AtomicMoveNotSupportedException notHere) {
      Files.move(from, to, StandardCopyOption.REPLACE_EXISTING);
    }
  }
}
