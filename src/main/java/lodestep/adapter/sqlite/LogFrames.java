package lodestep.adapter.sqlite;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/**
 * Which pages stand in a database's write-ahead log, as far as its last whole transaction, and
 * where. Read as SQLite itself reads a log that it finds: SQLite, "WAL-mode File Format"
 * (sqlite.org/walformat.html; from memory). Any thread, immutable.
 */
final class LogFrames {

  private static final int HEADER_BYTES = 32;
  private static final int FRAME_HEADER_BYTES = 24;
  private static final int SUMMED_HEADER_BYTES = 24;
  private static final int SUMMED_FRAME_HEADER_BYTES = 8;

  /** The lowest bit says in which order the bytes are summed up. */
  private static final int MAGIC = 0x377f0682;

  private static final int VERSION = 3_007_000;

  /** A longer log than a program at work ever leaves; its table would take memory. */
  private static final int FRAMES_MAX = 200_000;

  private final byte[] header;
  private final Map<Integer, Long> pages;

  private LogFrames(byte[] header, Map<Integer, Long> pages) {
    this.header = header;
    this.pages = pages;
  }

  /** Of a database that has no log. */
  static LogFrames none() {
    return new LogFrames(new byte[0], Map.of());
  }

  /**
   * What stands in this log now; empty if there is any doubt about it.
   *
   * @param pageSize of the database, in bytes
   */
  static Optional<LogFrames> read(FileChannel log, int pageSize) throws IOException {
    byte[] header = header(log);
    if (header.length == 0) {
      return Optional.of(none());
    }
    ByteBuffer fields = ByteBuffer.wrap(header);
    Sum sum = new Sum((fields.getInt(0) & 1) == 1 ? ByteOrder.BIG_ENDIAN : ByteOrder.LITTLE_ENDIAN);
    sum.add(header, 0, SUMMED_HEADER_BYTES);
    boolean known =
        (fields.getInt(0) & ~1) == MAGIC
            && fields.getInt(4) == VERSION
            && fields.getInt(8) == pageSize
            && sum.is(fields.getInt(24), fields.getInt(28));
    return known ? frames(log, pageSize, header, sum) : Optional.empty();
  }

  private static Optional<LogFrames> frames(FileChannel log, int pageSize, byte[] header, Sum sum)
      throws IOException {
    Map<Integer, Long> pages = new HashMap<>();
    Map<Integer, Long> uncommitted = new HashMap<>();
    byte[] frame = new byte[FRAME_HEADER_BYTES + pageSize];
    ByteBuffer fields = ByteBuffer.wrap(frame);
    long at = HEADER_BYTES;
    for (int count = 0; DatabasePages.fill(log, frame, frame.length, at); count++) {
      if (!Arrays.equals(frame, 8, 16, header, 16, 24)) {
        break;
      }
      sum.add(frame, 0, SUMMED_FRAME_HEADER_BYTES);
      sum.add(frame, FRAME_HEADER_BYTES, frame.length);
      int page = fields.getInt(0);
      if (page <= 0 || count >= FRAMES_MAX || !sum.is(fields.getInt(16), fields.getInt(20))) {
        return Optional.empty();
      }
      uncommitted.put(page, at + FRAME_HEADER_BYTES);
      if (fields.getInt(4) != 0) {
        pages.putAll(uncommitted);
        uncommitted.clear();
      }
      at += frame.length;
    }
    return Optional.of(new LogFrames(header, Map.copyOf(pages)));
  }

  private static byte[] header(FileChannel log) throws IOException {
    byte[] header = new byte[HEADER_BYTES];
    return DatabasePages.fill(log, header, HEADER_BYTES, 0) ? header : new byte[0];
  }

  /**
   * Whether the log was not begun anew since, so that all that was read of it meanwhile is good.
   * What a log gets that was empty stands behind everything that a reader of that time sees.
   */
  boolean stands(FileChannel log) throws IOException {
    return header.length == 0 || Arrays.equals(header, header(log));
  }

  /** Where in the log this page stands; empty if it is only in the database's own file. */
  Optional<Long> place(int page) {
    return pages.isEmpty() ? Optional.empty() : Optional.ofNullable(pages.get(page));
  }

  /** The log's running check sum over pairs of words. */
  private static final class Sum {
    private final ByteOrder order;
    private int first;
    private int second;

    Sum(ByteOrder order) {
      this.order = order;
    }

    void add(byte[] bytes, int from, int to) {
      ByteBuffer words = ByteBuffer.wrap(bytes).order(order);
      for (int at = from; at < to; at += 8) {
        first += words.getInt(at) + second;
        second += words.getInt(at + 4) + first;
      }
    }

    boolean is(int one, int other) {
      return first == one && second == other;
    }
  }
}
