package lodestep.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import lodestep.port.Bytes;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CanonicalJsonTest {

  @Test
  void writesTextAsPublished() {
    // RFC 8785, section 3.2.2 (the member "string") and its bytes in section 3.2.4.
    String text = "\u20ac$\u000f\nA'B\"\\\\\"/";

    Bytes written = write("string", new JsonValue.Text(text));

    assertThat(written.hex())
        .isEqualTo(
            ("7b 22 73 74 72 69 6e 67 22 3a 22 e2 82 ac 24 5c 75 30 30 30 66 5c 6e 41 27 42 5c 22"
                    + " 5c 5c 5c 5c 5c 22 2f 22 7d")
                .replace(" ", ""));
  }

  @Test
  void sortsMembersAsPublished() {
    // RFC 8785, section 3.2.3.
    SortedMap<String, JsonValue> members = new TreeMap<>();
    members.put("\u20ac", new JsonValue.Text("Euro Sign"));
    members.put("\r", new JsonValue.Text("Carriage Return"));
    members.put("\ufb33", new JsonValue.Text("Hebrew Letter Dalet With Dagesh"));
    members.put("1", new JsonValue.Text("One"));
    members.put("\ud83d\ude00", new JsonValue.Text("Emoji: Grinning Face"));
    members.put("\u0080", new JsonValue.Text("Control"));
    members.put("\u00f6", new JsonValue.Text("Latin Small Letter O With Diaeresis"));

    String written = CanonicalJson.write(members).utf8();

    assertThat(written)
        .containsSubsequence(
            "{\"\\r\":\"Carriage Return\",\"1\":\"One\",",
            "\"Control\"",
            "\"Latin Small Letter O With Diaeresis\"",
            "\"Euro Sign\"",
            "\"Emoji: Grinning Face\"",
            "\"Hebrew Letter Dalet With Dagesh\"}");
  }

  @Test
  void escapesNoMoreThanItMust() {
    // RFC 8785, section 3.2.2.2: the short escapes, lower-case hexadecimal, and no other escape.
    String written = write("t", new JsonValue.Text("\b\t\n\f\r\u0000\u001f\u007f\u2028é/")).utf8();

    assertThat(written).isEqualTo("{\"t\":\"\\b\\t\\n\\f\\r\\u0000\\u001f\u007f\u2028é/\"}");
  }

  @Test
  void takesWholeNumbersThatEveryReaderTakesExactly() {
    // RFC 7493, section 2.2: the range [-(2**53)+1, (2**53)-1].
    assertThat(write("n", new JsonValue.Whole(9007199254740991L)).utf8())
        .isEqualTo("{\"n\":9007199254740991}");
    assertThat(write("n", new JsonValue.Whole(-9007199254740991L)).utf8())
        .isEqualTo("{\"n\":-9007199254740991}");

    assertThatIllegalArgumentException().isThrownBy(() -> new JsonValue.Whole(9007199254740992L));
    assertThatIllegalArgumentException().isThrownBy(() -> new JsonValue.Whole(-9007199254740992L));
    assertThatIllegalArgumentException()
        .isThrownBy(() -> new JsonValue.Wholes(List.of(1L, Long.MIN_VALUE)));
  }

  @ParameterizedTest
  @ValueSource(strings = {"\ud83d", "a\ude00", "\ude00\ud83d", "\ud83dx"})
  void refusesHalfASurrogatePair(String text) {
    // RFC 8785, section 3.2.2.2, and RFC 7493, section 2.1.
    assertThatIllegalArgumentException()
        .isThrownBy(() -> write("t", new JsonValue.Text(text)))
        .withMessageContaining("surrogate");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "7",
        "[1]",
        "{\"a\":1} ",
        " {\"a\":1}",
        "{\"a\": 1}",
        "{\"b\":1,\"a\":2}",
        "{\"a\":1,\"a\":1}",
        "{\"a\":1}{}",
        "{\"a\":01}",
        "{\"a\":-0}",
        "{\"a\":1.0}",
        "{\"a\":1e3}",
        "{\"a\":null}",
        "{\"a\":{}}",
        "{\"a\":[[1]]}",
        "{\"a\":[\"x\"]}",
        "{\"a\":[1",
        "{\"a\":9007199254740992}",
        "{\"a\":99999999999999999999}",
        "{\"a\":\"\\u0041\"}",
        "{\"a\":\"\\/\"}",
        "{\"a\":\"\\u000A\"}",
        "{\"a\":\"\\ud83d\"}"
      })
  void refusesAnythingNotCanonical(String text) {
    assertThatIllegalArgumentException().isThrownBy(() -> CanonicalJson.read(Bytes.ofUtf8(text)));
  }

  @Test
  void refusesBytesThatAreNotUtf8() {
    // Two bytes for what needs one, and a byte that never stands in UTF-8 (RFC 3629, section 3).
    assertThatIllegalArgumentException()
        .isThrownBy(() -> CanonicalJson.read(Bytes.ofHex("7b2261223a22c0af227d")));
    assertThatIllegalArgumentException()
        .isThrownBy(() -> CanonicalJson.read(Bytes.ofHex("7b2261223a22ff227d")));
  }

  @Test
  void writesAnEmptyObject() {
    assertThat(CanonicalJson.write(new TreeMap<>()).utf8()).isEqualTo("{}");
    assertThat(CanonicalJson.read(Bytes.ofUtf8("{}"))).isEmpty();
  }

  @Property
  void readsBackWhatItWrote(@ForAll("objects") Map<String, JsonValue> members) {
    SortedMap<String, JsonValue> sorted = new TreeMap<>(members);

    assertThat(CanonicalJson.read(CanonicalJson.write(sorted))).isEqualTo(sorted);
  }

  @Provide
  Arbitrary<Map<String, JsonValue>> objects() {
    Arbitrary<String> texts =
        Arbitraries.integers()
            .between(0, Character.MAX_CODE_POINT)
            .filter(point -> point < Character.MIN_SURROGATE || point > Character.MAX_SURROGATE)
            .list()
            .ofMaxSize(12)
            .map(points -> points.stream().map(Character::toString).reduce("", String::concat));
    Arbitrary<Long> wholes = Arbitraries.longs().between(-JsonValue.WHOLE_MAX, JsonValue.WHOLE_MAX);
    Arbitrary<JsonValue> values =
        Arbitraries.oneOf(
            texts.map(JsonValue.Text::new),
            wholes.map(JsonValue.Whole::new),
            Arbitraries.of(true, false).map(JsonValue.Truth::new),
            wholes.list().ofMaxSize(4).map(JsonValue.Wholes::new));
    return Arbitraries.maps(texts, values).ofMaxSize(6);
  }

  private static Bytes write(String name, JsonValue value) {
    return CanonicalJson.write(new TreeMap<>(Map.of(name, value)));
  }
}
