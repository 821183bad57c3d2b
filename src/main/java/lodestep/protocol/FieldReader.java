package lodestep.protocol;

import java.util.Optional;

/**
 * Reads the fields of one line whose CRC matched; confined to one decoding. Total: the first fault
 * is kept, and every reading after it gives a value that nobody looks at.
 *
 * <p>Each number has exactly one way of being written, so that no flipped bit can turn a line into
 * another spelling of itself.
 */
final class FieldReader {

  /** More digits than any field has; below the 19 at which a long could overflow. */
  private static final int DIGITS_MAX = 18;

  private static final int FLAG_DIGITS = 4;

  private final String body;
  private int next = 1;
  private Optional<LineFault> fault = Optional.empty();

  FieldReader(String body) {
    this.body = body;
  }

  char type() {
    return body.charAt(0);
  }

  long number(WireField field) {
    String text = field();
    if (!isNumber(text)) {
      return failed(LineFault.BAD_FIELD);
    }
    return inRange(field, Long.parseLong(text));
  }

  /** A field whose range fits an int. */
  int integer(WireField field) {
    return (int) number(field);
  }

  boolean yesNo() {
    return number(WireField.YES_NO) == 1;
  }

  int flags() {
    String text = field();
    if (text.length() != FLAG_DIGITS || !isHex(text)) {
      return (int) failed(LineFault.BAD_FIELD);
    }
    return (int) inRange(WireField.FLAGS, Integer.parseInt(text, 16));
  }

  String word(int charactersMax) {
    String text = field();
    if (!WireWord.isWord(text, charactersMax)) {
      failed(LineFault.BAD_FIELD);
    }
    return text;
  }

  RefusalReason refusalReason() {
    return RefusalReason.ofCode(integer(WireField.REFUSAL_REASON))
        .orElseGet(
            () -> {
              failed(LineFault.OUT_OF_RANGE);
              return RefusalReason.NOT_SAFE;
            });
  }

  /** The message, if every field was good and none is left. */
  <T> Decoded<T> end(T message) {
    if (next != body.length()) {
      failed(LineFault.BAD_FIELD);
    }
    return fault
        .<Decoded<T>>map(Decoded.Dropped::new)
        .orElseGet(() -> new Decoded.Message<>(message));
  }

  /** Whether the text is four upper-case hex digits or fewer. */
  static boolean isHex(String text) {
    return text.chars().allMatch(c -> (c >= '0' && c <= '9') || (c >= 'A' && c <= 'F'));
  }

  private String field() {
    if (next >= body.length() || body.charAt(next) != ' ') {
      failed(LineFault.BAD_FIELD);
      return "";
    }
    int end = body.indexOf(' ', next + 1);
    int stop = end < 0 ? body.length() : end;
    String text = body.substring(next + 1, stop);
    next = stop;
    return text;
  }

  private static boolean isNumber(String text) {
    String digits = text.startsWith("-") ? text.substring(1) : text;
    if (digits.isEmpty() || digits.length() > DIGITS_MAX) {
      return false;
    }
    if (digits.charAt(0) == '0' && text.length() > 1) {
      return false;
    }
    return digits.chars().allMatch(c -> c >= '0' && c <= '9');
  }

  private long inRange(WireField field, long value) {
    return field.holds(value) ? value : failed(LineFault.OUT_OF_RANGE);
  }

  private long failed(LineFault found) {
    if (fault.isEmpty()) {
      fault = Optional.of(found);
    }
    return 0;
  }
}
