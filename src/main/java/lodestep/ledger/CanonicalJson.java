package lodestep.ledger;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadFeature;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import lodestep.port.Bytes;

/**
 * One object as JSON in the canonical form of RFC 8785: UTF-8, no blanks, members sorted by the
 * UTF-16 code units of their names, the fewest escapes. So equal objects have equal bytes, on any
 * machine and for good.
 *
 * <p>Restricted to the values of {@link JsonValue}, for which the number rules of RFC 8785 come to
 * plain decimal digits. Of the text rules of RFC 7493 it refuses lone surrogates, which UTF-8
 * cannot hold; noncharacters pass, since a stray one in a plan must not stop the bench.
 */
final class CanonicalJson {

  private static final JsonFactory READER =
      JsonFactory.builder().enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION).build();

  private static final char FIRST_UNESCAPED = 0x20;

  private CanonicalJson() {}

  /**
   * The canonical bytes.
   *
   * @param members by name; the natural order of Java's strings is the order of RFC 8785
   * @throws IllegalArgumentException if a text holds half a surrogate pair
   */
  static Bytes write(SortedMap<String, JsonValue> members) {
    StringBuilder out = new StringBuilder(256);
    char separator = '{';
    for (Map.Entry<String, JsonValue> member : members.entrySet()) {
      out.append(separator);
      text(out, member.getKey());
      out.append(':');
      value(out, member.getValue());
      separator = ',';
    }
    if (members.isEmpty()) {
      out.append('{');
    }
    return Bytes.ofUtf8(out.append('}').toString());
  }

  private static void value(StringBuilder out, JsonValue value) {
    if (value instanceof JsonValue.Text text) {
      text(out, text.value());
    } else if (value instanceof JsonValue.Wholes wholes) {
      wholes(out, wholes.value());
    } else {
      out.append(value.plain());
    }
  }

  private static void wholes(StringBuilder out, List<Long> values) {
    out.append('[');
    for (int i = 0; i < values.size(); i++) {
      if (i > 0) {
        out.append(',');
      }
      out.append(values.get(i).longValue());
    }
    out.append(']');
  }

  private static void text(StringBuilder out, String text) {
    out.append('"');
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      if (Character.isSurrogate(c)) {
        int codePoint = text.codePointAt(i);
        if (!Character.isSupplementaryCodePoint(codePoint)) {
          throw new IllegalArgumentException(
              "the text holds half a surrogate pair at character " + (i + 1));
        }
        out.appendCodePoint(codePoint);
        i++;
      } else {
        character(out, c);
      }
    }
    out.append('"');
  }

  /** Escapes as in RFC 8785, section 3.2.2.2: short ones where JSON has them, else lower case. */
  private static void character(StringBuilder out, char c) {
    int escape = "\b\t\n\f\r\"\\".indexOf(c);
    if (escape >= 0) {
      out.append('\\').append("btnfr\"\\".charAt(escape));
    } else if (c < FIRST_UNESCAPED) {
      out.append("\\u00")
          .append(Character.forDigit(c >> 4, 16))
          .append(Character.forDigit(c & 0xf, 16));
    } else {
      out.append(c);
    }
  }

  /**
   * The object these bytes stand for.
   *
   * @throws IllegalArgumentException if they are anything but the canonical bytes of such an object
   */
  static SortedMap<String, JsonValue> read(Bytes bytes) {
    SortedMap<String, JsonValue> members = new TreeMap<>();
    try (JsonParser parser = READER.createParser(bytes.toArray())) {
      expect(parser.nextToken() == JsonToken.START_OBJECT, "they are no object");
      while (parser.nextToken() == JsonToken.FIELD_NAME) {
        String name = parser.currentName();
        parser.nextToken();
        members.put(name, value(parser));
      }
      expect(parser.nextToken() == null, "something follows the object");
    } catch (IOException notJson) {
      throw new IllegalArgumentException("the bytes are not JSON", notJson);
    }
    expect(write(members).equals(bytes), "they are written another way");
    return members;
  }

  private static JsonValue value(JsonParser parser) throws IOException {
    JsonToken token = parser.currentToken();
    if (token == JsonToken.VALUE_STRING) {
      return new JsonValue.Text(parser.getText());
    }
    if (token == JsonToken.VALUE_TRUE || token == JsonToken.VALUE_FALSE) {
      return new JsonValue.Truth(token == JsonToken.VALUE_TRUE);
    }
    if (token == JsonToken.START_ARRAY) {
      List<Long> values = new ArrayList<>();
      while (parser.nextToken() != JsonToken.END_ARRAY) {
        values.add(whole(parser));
      }
      return new JsonValue.Wholes(values);
    }
    return new JsonValue.Whole(whole(parser));
  }

  private static long whole(JsonParser parser) throws IOException {
    expect(
        parser.currentToken() == JsonToken.VALUE_NUMBER_INT,
        "they hold a value of a kind that no record has");
    return parser.getLongValue();
  }

  private static void expect(boolean holds, String otherwise) {
    if (!holds) {
      throw new IllegalArgumentException("the bytes are not a record's: " + otherwise);
    }
  }
}
