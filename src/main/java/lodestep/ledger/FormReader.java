package lodestep.ledger;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;

/**
 * Goes over values of canonical JSON, mostly eight bytes at a time, which is what makes it quick.
 * Each function says where the value that begins there ends, or {@value #NO} where it surely is
 * none or is for the slow way; it may look at bytes behind the end of what was given. Any thread,
 * no state.
 */
final class FormReader {

  static final int NO = -1;

  /** Digits that surely stand for a whole number that a record may hold. */
  private static final int DIGITS_MAX = 15;

  /** Digits that surely fit a {@code long}. */
  private static final int NANOSECOND_DIGITS_MAX = 18;

  /** Eight bytes of an array as one number, the first the lowest. */
  private static final VarHandle WORDS =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.LITTLE_ENDIAN);

  private static final long EACH = 0x0101010101010101L;
  private static final long HIGHEST_BITS = 0x8080808080808080L;

  /** Added to a digit's value it leaves the highest bit as it is, and to anything above not. */
  private static final long NO_DIGIT = 0x76 * EACH;

  private static final int TRUE = 'e' << 24 | 'u' << 16 | 'r' << 8 | 't';
  private static final int ALSE = 'e' << 24 | 's' << 16 | 'l' << 8 | 'a';

  private FormReader() {}

  static long word(byte[] bytes, int at) {
    return (long) WORDS.get(bytes, at);
  }

  /** A whole number of few enough digits. */
  static int whole(byte[] bytes, int at) {
    return digits(bytes, at, DIGITS_MAX);
  }

  /** This whole number and no other. */
  static int same(byte[] bytes, int at, long wanted) {
    int end = whole(bytes, at);
    return end != NO && number(bytes, at, end) == wanted ? end : NO;
  }

  /** As few digits as can be: no zero before another, and no minus before zero alone. */
  private static int digits(byte[] bytes, int at, int most) {
    int from = bytes[at] == '-' ? at + 1 : at;
    int end = from;
    int more = Long.BYTES;
    while (more == Long.BYTES && end - from <= most) {
      long digits = word(bytes, end) ^ '0' * EACH;
      long others = ((digits & ~HIGHEST_BITS) + NO_DIGIT | digits) & HIGHEST_BITS;
      more = Long.numberOfTrailingZeros(others) / Byte.SIZE;
      end += more;
    }
    int count = end - from;
    boolean zero = bytes[from] == '0';
    return count == 0 || count > most || (zero && (count > 1 || from > at)) ? NO : end;
  }

  /** The number that the digits there stand for. */
  static long number(byte[] bytes, int from, int end) {
    boolean minus = bytes[from] == '-';
    long made = 0;
    for (int at = minus ? from + 1 : from; at < end; at++) {
      made = made * 10 + (bytes[at] - '0');
    }
    return minus ? -made : made;
  }

  /** Digits that fit a {@code long}, in quotation marks. */
  static int nanoseconds(byte[] bytes, int at) {
    int end = bytes[at] == '"' ? digits(bytes, at + 1, NANOSECOND_DIGITS_MAX) : NO;
    return end != NO && bytes[end] == '"' ? end + 1 : NO;
  }

  /** Whole numbers in square brackets. */
  static int wholes(byte[] bytes, int at, int limit) {
    if (bytes[at] != '[') {
      return NO;
    }
    int end = at + 1;
    if (bytes[end] == ']') {
      return end + 1;
    }
    do {
      end = whole(bytes, end);
    } while (end != NO && end < limit && bytes[end++] == ',');
    return end != NO && end <= limit && bytes[end - 1] == ']' ? end : NO;
  }

  static int truth(byte[] bytes, int at) {
    int four = (int) word(bytes, at);
    if (four == TRUE) {
      return at + 4;
    }
    return bytes[at] == 'f' && (int) word(bytes, at + 1) == ALSE ? at + 5 : NO;
  }

  /** Plain ASCII without escapes; texts with more in them are for the slow way. */
  static int text(byte[] bytes, int at, int limit) {
    if (bytes[at] != '"') {
      return NO;
    }
    for (int end = at + 1; end < limit; end += Long.BYTES) {
      long stops = stops(word(bytes, end));
      if (stops != 0) {
        int stop = end + Long.numberOfTrailingZeros(stops) / Byte.SIZE;
        return bytes[stop] == '"' ? stop + 1 : NO;
      }
    }
    return NO;
  }

  /**
   * The highest bit of the first byte in the word that is a quotation mark, a backslash, below a
   * blank or no ASCII; bits above the lowest that is set say nothing, for what is taken from a byte
   * below zero is borrowed from the next.
   */
  private static long stops(long word) {
    long quoted = word ^ '"' * EACH;
    long escaped = word ^ '\\' * EACH;
    return (word | (quoted - EACH) | (escaped - EACH) | (word - ' ' * EACH)) & HIGHEST_BITS;
  }
}
