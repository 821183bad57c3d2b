package lodestep.protocol;

import java.nio.charset.StandardCharsets;

/** Writes one line field by field; a confined builder. */
final class FieldWriter {

  private final StringBuilder text = new StringBuilder(HeadFrame.LINE_BYTES_MAX);

  FieldWriter(char type) {
    text.append(type);
  }

  FieldWriter number(WireField field, long value) {
    text.append(' ').append(inRange(field, value));
    return this;
  }

  FieldWriter yesNo(boolean value) {
    return number(WireField.YES_NO, value ? 1 : 0);
  }

  FieldWriter flags(int bits) {
    text.append(' ');
    hex(inRange(WireField.FLAGS, bits));
    return this;
  }

  FieldWriter word(String word, int charactersMax) {
    if (!WireWord.isWord(word, charactersMax)) {
      throw new IllegalArgumentException(
          "'" + word + "' is not 1 to " + charactersMax + " printable characters without blanks");
    }
    text.append(' ').append(word);
    return this;
  }

  /** The whole line with its CRC and line end, at most {@link HeadFrame#LINE_BYTES_MAX} bytes. */
  byte[] line() {
    int crc = Crc16.of(text.toString());
    text.append(' ');
    hex(crc);
    text.append('\n');
    return text.toString().getBytes(StandardCharsets.US_ASCII);
  }

  private void hex(long value) {
    for (int shift = 12; shift >= 0; shift -= 4) {
      text.append("0123456789ABCDEF".charAt((int) (value >> shift) & 0xF));
    }
  }

  private static long inRange(WireField field, long value) {
    if (!field.holds(value)) {
      throw new IllegalArgumentException(
          field + " is " + value + ", not " + field.smallest() + " to " + field.largest());
    }
    return value;
  }
}
