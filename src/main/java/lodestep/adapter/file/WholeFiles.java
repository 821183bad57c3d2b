package lodestep.adapter.file;

import java.io.IOException;
import java.io.InputStream;
import java.nio.channels.FileChannel;
import java.nio.file.AccessDeniedException;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Comparator;
import java.util.HexFormat;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;

/**
 * Writes files so that a power cut leaves the old state or the new one: under another name first,
 * synced, then renamed, then the folder synced. Any thread, no state.
 */
public final class WholeFiles {

  private static final int BLOCK_BYTES = 1 << 16;

  private WholeFiles() {}

  /** Writes a file that is not there yet, and syncs it; its name is the folder's to sync. */
  public static void write(Path file, byte[] bytes) throws IOException {
    Files.write(file, bytes, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
    force(file);
  }

  /** Syncs what stands in a file. */
  public static void force(Path file) throws IOException {
    try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
      channel.force(true);
    }
  }

  /** Syncs a folder's names, where the system can: a new name is durable only then. */
  public static void forceFolder(Path folder) throws IOException {
    if (!folder.getFileSystem().supportedFileAttributeViews().contains("posix")) {
      return;
    }
    try (FileChannel channel = FileChannel.open(folder, StandardOpenOption.READ)) {
      channel.force(true);
    }
  }

  /**
   * Gives a file or folder its name, within one folder, and syncs that.
   *
   * @throws IOException also if something has the name already
   */
  public static void rename(Path from, Path to) throws IOException {
    if (Files.exists(to)) {
      throw new FileSystemException(to.toString(), null, "something stands there already");
    }
    try {
      Files.move(from, to, StandardCopyOption.ATOMIC_MOVE);
    } catch (AtomicMoveNotSupportedException notHere) {
      Files.move(from, to);
    }
    forceFolder(folderOf(to));
  }

  /** The folder that a file stands in. */
  public static Path folderOf(Path file) {
    return Objects.requireNonNullElse(file.toAbsolutePath().normalize().getParent(), file);
  }

  /**
   * A name in the same folder that nothing has, to write under before renaming. What an earlier
   * program left under it is taken away, so that one killed here leaves no more than that.
   */
  public static Path unfinished(Path file) throws IOException {
    Path part = file.resolveSibling(file.getFileName() + ".unfinished");
    delete(part);
    for (String beside : List.of("-journal", "-wal", "-shm")) {
      Files.deleteIfExists(file.resolveSibling(part.getFileName() + beside));
    }
    return part;
  }

  /** A name like this one that nothing has: itself, or with -2, -3 … at its end. */
  public static Path free(Path wanted) {
    Path name = wanted;
    for (int next = 2; Files.exists(name); next++) {
      name = wanted.resolveSibling(wanted.getFileName() + "-" + next);
    }
    return name;
  }

  /** Takes a file or folder away, with all that is in it; nothing if it is not there. */
  public static void delete(Path path) throws IOException {
    if (!Files.exists(path)) {
      return;
    }
    try (Stream<Path> inside = Files.walk(path)) {
      for (Path each : inside.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(each);
      }
    }
  }

  /** SHA-256 (FIPS 180-4) of a file's bytes, in lower-case hexadecimal. */
  public static String sha256(Path file) throws IOException {
    MessageDigest digest = digest();
    byte[] block = new byte[BLOCK_BYTES];
    try (InputStream stream = new DigestInputStream(Files.newInputStream(file), digest)) {
      int read = 0;
      while (read >= 0) {
        read = stream.read(block);
      }
    }
    return HexFormat.of().formatHex(digest.digest());
  }

  /** A new SHA-256, which every Java platform has. */
  public static MessageDigest digest() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException missing) {
      throw new IllegalStateException("every Java platform has SHA-256", missing);
    }
  }

  /** Why something could not be done with files, and what to do: part of a sentence. */
  public static String why(IOException failed) {
    String said = String.valueOf(failed.getMessage());
    if (said.contains("No space left") || said.contains("Disk quota")) {
      return "the disk is full; make room on it and start again";
    }
    if (failed instanceof AccessDeniedException || said.contains("Read-only file system")) {
      return "it may not be written or read there; see to the rights, or name another place";
    }
    if (failed instanceof NoSuchFileException) {
      return "there is no such file or folder; check the path";
    }
    return said + "; check the disk and start again";
  }
}
