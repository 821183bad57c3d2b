package lodestep.adapter.sqlite;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Arrays;
import java.util.Optional;

/**
 * A database's pages straight from its files, past SQLite, which takes longer to hand a row over
 * than to find it. Good only while a read transaction on the same file is held open: then nothing
 * is folded into the file that the log does not show as well, and the log is begun anew once at
 * most. SQLite, "Database File Format" (sqlite.org/fileformat2.html; from memory). Any thread.
 *
 * <p>To be opened before any connection to the same file in this process and closed after the last:
 * on POSIX systems the closing of any handle lets go of all the process's locks on the file, those
 * of other connections too.
 */
final class DatabasePages implements AutoCloseable {

  private static final byte[] MAGIC = "SQLite format 3\0".getBytes(StandardCharsets.US_ASCII);

  private static final int HEADER_BYTES = 100;
  private static final int PAGE_MIN = 512;
  private static final int PAGE_MAX = 65_536;

  /** How the file is written and read: with a log. */
  private static final int WITH_LOG = 2;

  private static final int UTF_8 = 1;

  private final FileChannel main;
  private final Path logFile;
  private Optional<FileChannel> log = Optional.empty();
  private LogFrames frames = LogFrames.none();
  private int pageSize;

  private DatabasePages(FileChannel main, Path logFile) {
    this.main = main;
    this.logFile = logFile;
  }

  /** Opens the file and reads nothing yet. */
  static DatabasePages open(Path file) throws IOException {
    return new DatabasePages(FileChannel.open(file, StandardOpenOption.READ), log(file));
  }

  /** Where a database's write-ahead log stands. */
  static Path log(Path file) {
    return file.resolveSibling(file.getFileName() + "-wal");
  }

  /**
   * Finds out how the file is laid out, under a read transaction; no where it is not as this
   * program makes it.
   */
  synchronized boolean known() throws IOException {
    byte[] header = new byte[HEADER_BYTES];
    if (!fill(main, header, HEADER_BYTES, 0)) {
      return false;
    }
    ByteBuffer fields = ByteBuffer.wrap(header);
    int size = fields.getShort(16) & 0xffff;
    pageSize = size == 1 ? PAGE_MAX : size;
    boolean plain =
        Arrays.equals(header, 0, MAGIC.length, MAGIC, 0, MAGIC.length)
            && pageSize >= PAGE_MIN
            && Integer.bitCount(pageSize) == 1
            && header[18] == header[19]
            && header[18] <= WITH_LOG
            && header[20] == 0
            && fields.getInt(56) == UTF_8;
    boolean logged = Files.exists(logFile);
    if (!plain || (logged && header[18] != WITH_LOG)) {
      return false;
    }
    if (logged) {
      log = Optional.of(FileChannel.open(logFile, StandardOpenOption.READ));
    }
    return renew();
  }

  private boolean renew() throws IOException {
    Optional<LogFrames> found =
        log.isPresent() ? LogFrames.read(log.get(), pageSize) : Optional.of(LogFrames.none());
    frames = found.orElse(LogFrames.none());
    return found.isPresent();
  }

  /** What the log holds now; empty if there is any doubt about it. */
  synchronized Optional<LogFrames> frames() throws IOException {
    return stand(frames) || renew() ? Optional.of(frames) : Optional.empty();
  }

  /** Whether all that was read with these was good when it was read. */
  boolean stand(LogFrames used) throws IOException {
    return log.isEmpty() || used.stands(log.get());
  }

  int pageSize() {
    return pageSize;
  }

  /** Reads a piece of the file, as much as there is from there on. */
  void read(byte[] into, long from) throws IOException {
    int read = fillSome(main, into, into.length, from);
    Arrays.fill(into, read, into.length, (byte) 0);
  }

  /** Reads a page that stands in the log. */
  boolean readLogged(byte[] into, long from) throws IOException {
    return log.isPresent() && fill(log.get(), into, pageSize, from);
  }

  /** Reads so many bytes from there; no if the file ends before. */
  static boolean fill(FileChannel channel, byte[] into, int size, long from) throws IOException {
    return fillSome(channel, into, size, from) == size;
  }

  private static int fillSome(FileChannel channel, byte[] into, int size, long from)
      throws IOException {
    ByteBuffer buffer = ByteBuffer.wrap(into, 0, size);
    int read = 0;
    while (buffer.hasRemaining() && read >= 0) {
      read = channel.read(buffer, from + buffer.position());
    }
    return buffer.position();
  }

  @Override
  public void close() throws IOException {
    try (main) {
      if (log.isPresent()) {
        log.get().close();
      }
    }
  }
}
