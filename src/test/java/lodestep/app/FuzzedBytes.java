package lodestep.app;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Deque;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;

/**
 * One direction of a line that changes what passes over it, knowing how lines are built: fields,
 * order and number of lines, with a checksum that is right again, and besides what any bad wire
 * does. It knows the grammar of {@code firmware-host/PROTOCOL.md} and none of its fields, and keeps
 * accounts of its own of what it lets out.
 */
final class FuzzedBytes {

  /** What is done to a line. */
  enum Change {
    /** A field gets a number from the ends of ranges, or one near its own. */
    FIELD,
    /** A field gets that of an older line: another boot, token, intent or sequence. */
    FIELD_OF_ANOTHER,
    /** Two fields change places. */
    FIELDS_SWAPPED,
    /** A field is left out, or one is added. */
    FIELD_COUNT,
    /** It gets another line's letter. */
    LETTER,
    /** It comes again, at once. */
    REPEATED,
    /** An old line comes again before it. */
    OLD_AGAIN,
    /** It is held back until some lines have passed it. */
    OVERTAKEN,
    /** It does not come. */
    LOST,
    /** It ends somewhere in its middle, and the next one follows at once. */
    CUT,
    /** It has no line end, so that the next one is joined to it. */
    JOINED,
    /** A bit is turned over. */
    BIT
  }

  private static final int KEPT = 64;
  private static final String[] ENDS = {
    "0",
    "1",
    "-1",
    "255",
    "256",
    "65535",
    "65536",
    "99999",
    "100000",
    "2147483647",
    "2147483648",
    "999999999999999999",
    "1000000000000000000",
    "9223372036854775808",
    "-8388608",
    "FFFF",
    "3FFF",
    "0000",
    "007",
    "+1",
    "NaN",
    ""
  };

  private final SplittableRandom random;
  private final double share;
  private final List<String> old = new ArrayList<>();
  private final Deque<String> held = new ArrayDeque<>();
  private final Map<Change, Integer> done = new EnumMap<>(Change.class);
  private final ByteArrayOutputStream underWay = new ByteArrayOutputStream();
  private int heldFor;
  private long lines;
  private long badSums;

  /**
   * @param share of the lines that are changed
   */
  FuzzedBytes(SplittableRandom random, double share) {
    this.random = random;
    this.share = share;
  }

  /** What comes out for this line, its line end included; may be empty, or several lines. */
  byte[] pass(byte[] line, boolean fuzzing) {
    String body = text(line).substring(0, line.length - 1);
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    if (fuzzing && random.nextDouble() < share) {
      Change change = Change.values()[random.nextInt(Change.values().length)];
      done.merge(change, 1, Integer::sum);
      changed(change, body, out);
    } else {
      end(body, out);
    }
    if (!held.isEmpty() && heldFor-- <= 0) {
      held.forEach(late -> end(late, out));
      held.clear();
    }
    old.add(body);
    if (old.size() > KEPT) {
      old.remove(0);
    }
    account(out.toByteArray());
    return out.toByteArray();
  }

  private void changed(Change change, String line, ByteArrayOutputStream out) {
    switch (change) {
      case FIELD, FIELD_OF_ANOTHER, FIELDS_SWAPPED, FIELD_COUNT, LETTER ->
          end(rebuilt(change, line), out);
      case REPEATED -> {
        for (int again = random.nextInt(2, 5); again > 0; again--) {
          end(line, out);
        }
      }
      case OLD_AGAIN -> {
        end(older(line), out);
        end(line, out);
      }
      case OVERTAKEN -> {
        held.add(line);
        heldFor = random.nextInt(1, 40);
      }
      case LOST -> {}
      case CUT -> out.writeBytes(bytes(line.substring(0, random.nextInt(line.length()))));
      case JOINED -> out.writeBytes(bytes(line));
      case BIT -> {
        byte[] turned = bytes(line + "\n");
        turned[random.nextInt(turned.length)] ^= (byte) (1 << random.nextInt(7));
        out.writeBytes(turned);
      }
    }
  }

  /** The line with another body, and the checksum that belongs to it. */
  private String rebuilt(Change change, String line) {
    List<String> fields = new ArrayList<>(List.of(line.split(" ", -1)));
    fields.remove(fields.size() - 1);
    int at = fields.size() < 2 ? 0 : random.nextInt(1, fields.size());
    switch (change) {
      case FIELD -> fields.set(at, near(fields.get(at)));
      case FIELD_OF_ANOTHER -> fields.set(at, ofAnother(fields.get(at)));
      case FIELDS_SWAPPED -> {
        int other = fields.size() < 2 ? 0 : random.nextInt(1, fields.size());
        String moved = fields.get(at);
        fields.set(at, fields.get(other));
        fields.set(other, moved);
      }
      case FIELD_COUNT -> {
        if (random.nextBoolean() && fields.size() > 1) {
          fields.remove(at);
        } else {
          fields.add(at, "1");
        }
      }
      default -> fields.set(0, older(line).substring(0, 1));
    }
    String body = String.join(" ", fields);
    return body + String.format(Locale.ROOT, " %04X", sum(body));
  }

  private String near(String field) {
    try {
      long number = Long.parseLong(field);
      if (random.nextBoolean()) {
        return Long.toString(number + random.nextLong(-3, 4));
      }
    } catch (NumberFormatException word) {
      // Flags, a name, or a letter: an end will do.
    }
    return ENDS[random.nextInt(ENDS.length)];
  }

  private String ofAnother(String field) {
    String[] others = older(field).split(" ", -1);
    return others[random.nextInt(others.length)];
  }

  private String older(String otherwise) {
    return old.isEmpty() ? otherwise : old.get(random.nextInt(old.size()));
  }

  private static void end(String line, ByteArrayOutputStream out) {
    out.writeBytes(bytes(line + "\n"));
  }

  /** Bytes as they are: a turned bit need not leave a letter. */
  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.ISO_8859_1);
  }

  private static String text(byte[] bytes) {
    return new String(bytes, StandardCharsets.ISO_8859_1);
  }

  /** Counts what has been let out as a receiver must see it. */
  private void account(byte[] bytes) {
    for (byte octet : bytes) {
      if (octet != '\n') {
        underWay.write(octet);
        continue;
      }
      String line = text(underWay.toByteArray());
      underWay.reset();
      lines += line.isEmpty() ? 0 : 1;
      badSums += line.isEmpty() || sumFits(line) ? 0 : 1;
    }
  }

  private static boolean sumFits(String line) {
    int end = line.length() - 5;
    return end > 0
        && line.substring(end)
            .equals(String.format(Locale.ROOT, " %04X", sum(line.substring(0, end))));
  }

  /**
   * CRC-16/CCITT-FALSE bit by bit, written here anew so that the program's own is not judged by
   * itself: width 16, polynomial 1021, start FFFF, nothing reflected, nothing inverted.
   */
  static int sum(String body) {
    int sum = 0xffff;
    for (byte octet : bytes(body)) {
      sum ^= (octet & 0xff) << 8;
      for (int bit = 0; bit < 8; bit++) {
        sum = (sum & 0x8000) != 0 ? sum << 1 ^ 0x1021 : sum << 1;
      }
      sum &= 0xffff;
    }
    return sum;
  }

  /** Lines that were let out whole, empty ones left out. */
  long lines() {
    return lines;
  }

  /** How many of these have a checksum that is not theirs. */
  long badSums() {
    return badSums;
  }

  /** How often each change was made. */
  Map<Change, Integer> done() {
    return done;
  }

  /** Whether every change was made at least once. */
  static boolean all(Map<Change, Integer> done) {
    return Arrays.stream(Change.values()).allMatch(done::containsKey);
  }
}
