package lodestep.panel;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Function;

/**
 * What a page sends with an act: a JSON object, judged before anything is done. Any thread,
 * immutable.
 *
 * @param json as it came
 */
record Order(JsonNode json) {

  /** A command that took longer than this to come is void: whoever gave it saw something else. */
  static final long LAPSE_MS_MAX = 5_000;

  private static final int KEY_MAX = 64;
  private static final int TEXT_MAX = 200;
  private static final JsonMapper MAPPER = JsonMapper.builder().build();

  /**
   * @throws Refused if it is no JSON object
   */
  static Order read(byte[] body) {
    try {
      JsonNode json = MAPPER.readTree(body);
      if (json == null || !json.isObject()) {
        throw bad("the request must be a JSON object");
      }
      return new Order(json);
    } catch (IOException wrong) {
      throw bad("the request is no JSON");
    }
  }

  private static Refused bad(String sentence) {
    return new Refused(400, "not understood", sentence);
  }

  /** A text of at most {@value #TEXT_MAX} characters; empty if it is not there. */
  String text(String field) {
    return text(field, TEXT_MAX);
  }

  /** A text of at most so many characters; empty if it is not there. */
  String text(String field, int most) {
    return text(json, field, most);
  }

  private static String text(JsonNode node, String field) {
    return text(node, field, TEXT_MAX);
  }

  private static String text(JsonNode node, String field, int most) {
    JsonNode value = node.get(field);
    if (value == null || value.isNull()) {
      return "";
    }
    if (!value.isValueNode() || value.asText().length() > most) {
      throw bad(field + " must be a text of at most " + most + " characters");
    }
    return value.asText().strip();
  }

  /** A whole number. */
  long whole(String field) {
    JsonNode value = json.get(field);
    if (value == null || !value.isIntegralNumber() || !value.canConvertToLong()) {
      throw bad(field + " must be a whole number");
    }
    return value.longValue();
  }

  /** A count as a person types it; 0 if it is left out. */
  long count(String field) {
    String written = text(field);
    if (!written.matches("[0-9]{0,9}")) {
      throw new IllegalArgumentException(field + ": a whole number, not '" + written + "'");
    }
    return written.isEmpty() ? 0 : Long.parseLong(written);
  }

  /** The key by which it is carried out once. */
  String key() {
    String key = text("key");
    if (key.length() < 8 || key.length() > KEY_MAX) {
      throw bad("key must be 8 to " + KEY_MAX + " characters, new with each command");
    }
    return key;
  }

  /**
   * Refuses what came too late, and what was decided on an older state.
   *
   * @param nowMs the server's time
   * @param version of the state that is shown now
   */
  void requireFresh(long nowMs, long version) {
    long by = whole("by");
    if (nowMs > by || by - nowMs > LAPSE_MS_MAX) {
      throw new Refused(409, "late", "this came too late to be carried out; look, and ask again");
    }
    if (whole("saw") != version) {
      throw new Refused(
          409, "changed", "the rig has moved on since this was pressed; look, and ask again");
    }
  }

  /** One of these, by its name in small letters with blanks or dashes. */
  <E extends Enum<E>> E oneOf(String field, Function<String, E> find) {
    String word = text(field);
    try {
      return find.apply(word.toUpperCase(Locale.ROOT).replace('-', '_').replace(' ', '_'));
    } catch (IllegalArgumentException unknown) {
      throw bad("'" + word + "' is no " + field + " that is known here");
    }
  }

  /** The plan it holds. */
  PlanForm plan() {
    JsonNode rows = json.get("rows");
    if (rows == null || !rows.isArray() || rows.isEmpty() || rows.size() > PlanForm.ROWS_MAX) {
      throw bad("a plan has 1 to " + PlanForm.ROWS_MAX + " rows");
    }
    List<PlanForm.Row> made = new ArrayList<>();
    for (JsonNode row : rows) {
      if (!row.isObject()) {
        throw bad("each row must be a JSON object");
      }
      made.add(
          new PlanForm.Row(
              text(row, "name"),
              text(row, "set"),
              text(row, "spread"),
              text(row, "alloy"),
              text(row, "shape"),
              text(row, "size"),
              text(row, "nest"),
              text(row, "poleUp"),
              text(row, "target"),
              text(row, "tolerance"),
              text(row, "count"),
              text(row, "lot")));
    }
    String name = text("name");
    return new PlanForm(name.isEmpty() ? "by touch" : name, made);
  }
}
