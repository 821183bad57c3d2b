package lodestep.soak;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * A run that broke a rule, as it is kept to be replayed: JSON, one happening a line. Any thread,
 * immutable.
 *
 * @param rig the kind of rig it was played on
 * @param plan the plan's text, whose magnets the run draws from
 * @param violation the rule that was seen broken
 */
public record SavedRun(
    SoakRig rig, long seed, String plan, Planted planted, Script script, Violation violation) {

  private static final ObjectMapper MAPPER = new ObjectMapper();
  private static final String FORMAT = "lodestepSoakRun";
  private static final int VERSION = 1;

  SavedRun with(Script other, Violation seen) {
    return new SavedRun(rig, seed, plan, planted, other, seen);
  }

  /** The file's text. */
  public String written() {
    StringBuilder text = new StringBuilder("{\n");
    line(text, FORMAT, VERSION);
    line(text, "rig", rig.word());
    line(text, "seed", seed);
    line(text, "rule", violation.rule());
    line(text, "words", violation.words());
    line(text, "brokenAtMs", violation.atMs());
    line(text, "seen", violation.detail());
    line(text, "planted", planted.name());
    line(text, "plan", plan);
    line(text, "healMs", script.healMs());
    text.append("\"happenings\": [");
    for (int i = 0; i < script.happenings().size(); i++) {
      text.append(i == 0 ? "\n  " : ",\n  ").append(json(node(script.happenings().get(i))));
    }
    return text.append("]\n}\n").toString();
  }

  private static void line(StringBuilder text, String name, Object value) {
    text.append(json(name)).append(": ").append(json(value)).append(",\n");
  }

  private static String json(Object value) {
    try {
      return MAPPER.writeValueAsString(value);
    } catch (JsonProcessingException impossible) {
      throw new IllegalStateException("text and numbers can always be written", impossible);
    }
  }

  private static ObjectNode node(Happening happening) {
    ObjectNode node = MAPPER.createObjectNode();
    node.put("atMs", happening.atMs());
    node.put("forMs", happening.forMs());
    node.put("what", happening.kind().words());
    if (!happening.on().isEmpty()) {
      node.put("on", happening.on());
    }
    if (happening.kind().hasValue()) {
      node.put("value", happening.value());
    }
    return node;
  }

  /**
   * Reads a file's text.
   *
   * @throws IllegalArgumentException with one sentence, if it is none of these files
   */
  public static SavedRun read(String text) {
    try {
      JsonNode node = MAPPER.readTree(text);
      if (node == null || node.path(FORMAT).asInt() != VERSION) {
        throw new IllegalArgumentException("it is no saved soak run of version " + VERSION);
      }
      List<Happening> happenings = new ArrayList<>();
      for (JsonNode each : required(node, "happenings")) {
        happenings.add(happening(each));
      }
      return new SavedRun(
          // Runs that were saved before there was a choice were all of a coil.
          rig(node.path("rig").asText(SoakRig.COIL.word())),
          required(node, "seed").asLong(),
          required(node, "plan").asText(),
          planted(required(node, "planted").asText()),
          new Script(required(node, "healMs").asLong(), happenings),
          new Violation(
              required(node, "rule").asText(),
              required(node, "words").asText(),
              required(node, "brokenAtMs").asLong(),
              required(node, "seen").asText()));
    } catch (JsonProcessingException damaged) {
      throw new IllegalArgumentException("it is no JSON: " + damaged.getOriginalMessage(), damaged);
    }
  }

  private static Happening happening(JsonNode node) {
    String what = required(node, "what").asText();
    HappeningKind kind =
        HappeningKind.of(what)
            .orElseThrow(() -> new IllegalArgumentException("nothing is called '" + what + "'"));
    return new Happening(
        kind,
        required(node, "atMs").asLong(),
        required(node, "forMs").asLong(),
        node.path("on").asText(""),
        node.path("value").asDouble(0));
  }

  private static SoakRig rig(String word) {
    return SoakRig.of(word)
        .orElseThrow(() -> new IllegalArgumentException("no kind of rig is called '" + word + "'"));
  }

  private static Planted planted(String name) {
    return Arrays.stream(Planted.values())
        .filter(planted -> planted.name().equals(name))
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException("no mistake is called '" + name + "'"));
  }

  private static JsonNode required(JsonNode node, String name) {
    if (!node.has(name)) {
      throw new IllegalArgumentException("'" + name + "' is missing in it");
    }
    return node.get(name);
  }
}
