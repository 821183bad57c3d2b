package lodestep.adapter.sqlite;

import java.io.IOException;
import java.util.Arrays;
import java.util.Optional;
import lodestep.ledger.RowProof;
import lodestep.ledger.StoredRow;
import lodestep.port.Hash;

/**
 * Goes through the rows of a ledger's table page by page and hands each to a proof, where it lies.
 * Whatever is not as this program has SQLite write it is a no. A table is a tree of pages whose
 * leaves hold the rows in the order of their numbers: SQLite, "Database File Format", sections 1.6
 * and 2.1 (sqlite.org/fileformat2.html; from memory). One thread.
 */
final class TableRows {

  private static final int INTERIOR = 5;
  private static final int LEAF = 13;
  private static final int INTERIOR_HEADER_BYTES = 12;
  private static final int LEAF_HEADER_BYTES = 8;
  private static final int RIGHTMOST = 8;
  private static final int CELL_COUNT = 3;

  /** Deeper than any file that fits a disk. */
  private static final int DEPTH_MAX = 12;

  private static final int SERIAL_NULL = 0;
  private static final int SERIAL_TEXT = 13;
  private static final int SERIAL_HASH = 12 + 2 * Hash.SIZE_BYTES;

  /** Bytes of a whole number by its serial type; none for what is no whole number. */
  private static final int[] WHOLE_BYTES = {-1, 1, 2, 3, 4, 6, 8, -1, 0, 0};

  /** A piece that is read at once, and how many of them are kept. */
  private static final int PIECE_BYTES = 1 << 17;

  private static final int PIECES = 8;

  private final DatabasePages pages;
  private final LogFrames frames;
  private final RowProof proof;
  private final long from;
  private final long to;
  private final int pageSize;
  private final int pieceSize;
  private final byte[][] pieces = new byte[PIECES][];
  private final long[] pieceNumbers = new long[PIECES];
  private final byte[] logged;

  /** The page looked at: where it lies, and where its bytes are. */
  private byte[] bytes = {};

  private int start;

  /** Behind the last number of variable length that was read. */
  private int at;

  private byte[] together = {};

  TableRows(DatabasePages pages, LogFrames frames, RowProof proof, long from, long to) {
    this.pages = pages;
    this.frames = frames;
    this.proof = proof;
    this.from = from;
    this.to = to;
    this.pageSize = pages.pageSize();
    this.pieceSize = Math.max(PIECE_BYTES, pageSize);
    this.logged = new byte[pageSize];
  }

  /** Whether the rows from the first number to the last, and no others, are surely as written. */
  boolean surely(int root) throws IOException {
    try {
      return root > 1 && below(root, 0) && proof.end().number() == to;
    } catch (IndexOutOfBoundsException beyondThePage) {
      return false;
    }
  }

  private boolean below(int page, int depth) throws IOException {
    if (page < 2 || depth > DEPTH_MAX || !find(page)) {
      return false;
    }
    return switch (bytes[start]) {
      case LEAF -> leaf();
      case INTERIOR -> interior(depth);
      default -> false;
    };
  }

  /** Read as a whole before going down, since the pieces kept change meanwhile. */
  private boolean interior(int depth) throws IOException {
    int cells = u16(start + CELL_COUNT);
    int[] children = new int[cells + 1];
    long[] keys = new long[cells];
    for (int cell = 0; cell < cells; cell++) {
      int place = cell(INTERIOR_HEADER_BYTES, cell);
      children[cell] = i32(place);
      keys[cell] = varint(place + 4);
    }
    children[cells] = i32(start + RIGHTMOST);
    for (int cell = 0; cell <= cells; cell++) {
      boolean before = cell < cells && keys[cell] < from;
      boolean after = cell > 0 && keys[cell - 1] >= to;
      if (!before && !after && !below(children[cell], depth + 1)) {
        return false;
      }
    }
    return true;
  }

  private boolean leaf() throws IOException {
    int cells = u16(start + CELL_COUNT);
    for (int cell = 0; cell < cells; cell++) {
      int place = cell(LEAF_HEADER_BYTES, cell);
      long size = varint(place);
      long number = varint(at);
      if (number >= from && number <= to && !row(number, at, size)) {
        return false;
      }
    }
    return true;
  }

  /** Where a cell begins; anything outside the page's cells is caught by what it would be read. */
  private int cell(int header, int cell) {
    int offset = u16(start + header + 2 * cell);
    if (offset < header || offset >= pageSize) {
      throw new IndexOutOfBoundsException(offset);
    }
    return start + offset;
  }

  private boolean row(long number, int place, long size) throws IOException {
    int usable = pageSize;
    if (size > Integer.MAX_VALUE / 4) {
      return false;
    }
    if (size <= usable - 35) {
      return place + size <= start + pageSize && entry(number, bytes, place, (int) size);
    }
    int least = (usable - 12) * 32 / 255 - 23;
    int kept = least + (int) ((size - least) % (usable - 4));
    int local = kept <= usable - 35 ? kept : least;
    return place + local + 4 <= start + pageSize && overflowing(number, place, local, (int) size);
  }

  /** Put together from the pages behind it; then the leaf is looked up again. */
  private boolean overflowing(long number, int place, int local, int size) throws IOException {
    byte[] leaf = bytes;
    int leafStart = start;
    byte[] leafCopy = Arrays.copyOfRange(leaf, leafStart, leafStart + pageSize);
    if (together.length < size) {
      together = new byte[size];
    }
    System.arraycopy(bytes, place, together, 0, local);
    int filled = local;
    int next = i32(place + local);
    while (filled < size) {
      if (next < 2 || !find(next)) {
        return false;
      }
      int part = Math.min(size - filled, pageSize - 4);
      System.arraycopy(bytes, start + 4, together, filled, part);
      filled += part;
      next = i32(start);
    }
    boolean sure = next == 0 && entry(number, together, 0, size);
    bytes = leafCopy;
    start = 0;
    return sure;
  }

  private boolean entry(long number, byte[] in, int begin, int size) {
    byte[] page = bytes;
    bytes = in;
    int headerEnd = begin + (int) varint(begin);
    boolean numberAside = varint(at) == SERIAL_NULL;
    long kind = varint(at);
    long magnet = varint(at);
    long wall = varint(at);
    long payload = varint(at);
    long hash = varint(at);
    boolean sure =
        numberAside
            && at == headerEnd
            && kind >= SERIAL_TEXT
            && (kind & 1) == 1
            && payload >= SERIAL_TEXT
            && (payload & 1) == 1
            && hash == SERIAL_HASH
            && magnet < WHOLE_BYTES.length
            && wall < WHOLE_BYTES.length
            && row(number, begin + size, kind, (int) magnet, (int) wall, payload);
    bytes = page;
    return sure;
  }

  private boolean row(long number, int end, long kind, int magnet, int wall, long payload) {
    long magnetAt = at + (kind - SERIAL_TEXT) / 2;
    long wallAt = magnetAt + WHOLE_BYTES[magnet];
    long payloadAt = wallAt + WHOLE_BYTES[wall];
    long hashAt = payloadAt + (payload - SERIAL_TEXT) / 2;
    if (WHOLE_BYTES[magnet] < 0 || WHOLE_BYTES[wall] < 0 || hashAt + Hash.SIZE_BYTES != end) {
      return false;
    }
    return proof.surely(
        bytes,
        new StoredRow(
            number,
            whole((int) magnetAt, magnet),
            whole((int) wallAt, wall),
            at,
            (int) magnetAt,
            (int) payloadAt,
            (int) hashAt));
  }

  /** Big-endian with its sign; the last two types are the numbers 0 and 1 themselves. */
  private long whole(int place, int type) {
    if (WHOLE_BYTES[type] == 0) {
      return type - 8L;
    }
    long value = bytes[place];
    for (int i = 1; i < WHOLE_BYTES[type]; i++) {
      value = value << 8 | (bytes[place + i] & 0xff);
    }
    return value;
  }

  /** Seven bits a byte as long as the highest is set, and eight in the ninth. */
  private long varint(int place) {
    long value = 0;
    at = place;
    for (int i = 0; i < 8; i++) {
      byte next = bytes[at++];
      value = value << 7 | (next & 0x7f);
      if (next >= 0) {
        return value;
      }
    }
    return value << 8 | (bytes[at++] & 0xff);
  }

  private int u16(int place) {
    return (bytes[place] & 0xff) << 8 | (bytes[place + 1] & 0xff);
  }

  private int i32(int place) {
    return u16(place) << 16 | u16(place + 2);
  }

  private boolean find(int page) throws IOException {
    Optional<Long> inLog = frames.place(page);
    if (inLog.isPresent()) {
      bytes = logged;
      start = 0;
      return pages.readLogged(logged, inLog.get());
    }
    long place = (page - 1L) * pageSize;
    long number = place / pieceSize;
    int slot = (int) (number % PIECES);
    if (pieces[slot] == null) {
      pieces[slot] = new byte[pieceSize];
      pieceNumbers[slot] = -1;
    }
    if (pieceNumbers[slot] != number) {
      pages.read(pieces[slot], number * pieceSize);
      pieceNumbers[slot] = number;
    }
    bytes = pieces[slot];
    start = (int) (place % pieceSize);
    return true;
  }
}
