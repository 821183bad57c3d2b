package lodestep.powerloss;

import java.io.BufferedInputStream;
import java.io.DataInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What a program did to its disk, in order, and what it had said to the world before each of it.
 *
 * @param steps every change, sync and saying, in order
 * @param spoke whether anything was said to the head, whose rig is there then
 */
record DiskTrace(List<Step> steps, boolean spoke) {

  private static final int HEAD_BYTES = 20;

  /** A request to the head for its fire window: session, token, intent, highest voltage. */
  private static final Pattern WINDOW = Pattern.compile("^w \\d+ \\d+ (\\d+) \\d+ [0-9A-F]{4}$");

  /** A verdict as the batch command tells it. */
  private static final Pattern VERDICT = Pattern.compile("^ *(\\d+) of \\d+ .*");

  DiskTrace {
    steps = List.copyOf(steps);
  }

  /** One entry of the trace. */
  sealed interface Step {}

  /** A change of a file or of the folder, or a sync of one. */
  record Disk(Kind kind, String name, long at, ByteBuffer data) implements Step {}

  /** The head was asked to open its window for the pulse of this intent. */
  record WindowAsked(long intent) implements Step {}

  /** An operation failed as ordered. */
  record Failed(long operation) implements Step {}

  /** A person was told so many verdicts. */
  record VerdictsTold(int count) implements Step {}

  /** What is done to the disk, in the order of the library's numbers, from 1. */
  enum Kind {
    CREATE,
    WRITE,
    TRUNCATE,
    SYNC_FILE,
    SYNC_FOLDER,
    UNLINK
  }

  /** Changes and syncs alone. */
  long changes() {
    return steps.stream().filter(Disk.class::isInstance).count();
  }

  /** Reads what the library wrote. */
  static DiskTrace read(Path file) throws IOException {
    Reader reader = new Reader();
    try (InputStream bytes = Files.newInputStream(file);
        DataInputStream in = new DataInputStream(new BufferedInputStream(bytes, 1 << 20))) {
      byte[] head = new byte[HEAD_BYTES];
      while (true) {
        try {
          in.readFully(head);
        } catch (EOFException end) {
          return new DiskTrace(reader.steps, reader.spoke);
        }
        ByteBuffer numbers = ByteBuffer.wrap(head).order(ByteOrder.nativeOrder());
        int kind = numbers.getInt();
        byte[] name = new byte[numbers.getInt()];
        long at = numbers.getLong();
        byte[] data = new byte[numbers.getInt()];
        in.readFully(name);
        in.readFully(data);
        reader.entry(kind, new String(name, StandardCharsets.UTF_8), at, data);
      }
    }
  }

  /** Puts together the lines of what was said, which come in pieces. */
  private static final class Reader {
    private final List<Step> steps = new ArrayList<>();
    private final StringBuilder told = new StringBuilder();
    private final StringBuilder line = new StringBuilder();
    private boolean spoke;

    void entry(int kind, String name, long at, byte[] data) {
      Kind[] kinds = Kind.values();
      if (kind <= kinds.length) {
        steps.add(new Disk(kinds[kind - 1], name, at, ByteBuffer.wrap(data).asReadOnlyBuffer()));
        return;
      }
      if (kind == kinds.length + 3) {
        steps.add(new Failed(at));
        return;
      }
      boolean out = kind == kinds.length + 1;
      spoke |= !out;
      StringBuilder so = out ? told : line;
      so.append(new String(data, StandardCharsets.ISO_8859_1));
      for (int end = so.indexOf("\n"); end >= 0; end = so.indexOf("\n")) {
        said(out, so.substring(0, end));
        so.delete(0, end + 1);
      }
    }

    private void said(boolean out, String text) {
      Matcher matcher = (out ? VERDICT : WINDOW).matcher(text);
      if (matcher.matches()) {
        steps.add(
            out
                ? new VerdictsTold(Integer.parseInt(matcher.group(1)))
                : new WindowAsked(Long.parseLong(matcher.group(1))));
      }
    }
  }
}
