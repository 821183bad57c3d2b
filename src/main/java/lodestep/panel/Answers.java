package lodestep.panel;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import lodestep.panel.Bench.Answer;

/** How an answer is written. Any thread. */
final class Answers {

  private static final String JSON = "application/json";

  private Answers() {}

  /** What became of an act. */
  static void act(Context context, Answer answer) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("done", answer.done());
    node.put("sentence", answer.sentence());
    if (answer.entry() > 0) {
      node.put("entry", answer.entry());
    }
    context.status(answer.done() ? 200 : 422);
    node(context, node);
  }

  /** What there is to see. */
  static void node(Context context, JsonNode node) {
    json(context, node.toString());
  }

  /** The same as it was written already. */
  static void json(Context context, String json) {
    context.contentType(JSON).result(json);
  }

  /** A text of this type. */
  static void text(Context context, String type, String text) {
    context.contentType(type).result(text);
  }

  /** A file to be kept, under this name. */
  static void file(Context context, String name, String type, byte[] bytes) {
    context
        .header("Content-Disposition", disposition(name))
        .header("Content-Length", Integer.toString(bytes.length))
        .contentType(type)
        .result(bytes);
  }

  /** Letters that a header cannot hold are told as RFC 6266 has it. */
  static String disposition(String name) {
    StringBuilder coded = new StringBuilder();
    for (byte one : name.getBytes(StandardCharsets.UTF_8)) {
      boolean plain = (one >= '0' && one <= '9') || (one >= 'A' && one <= 'Z');
      if (plain || (one >= 'a' && one <= 'z') || one == '.' || one == '-' || one == '_') {
        coded.append((char) one);
      } else {
        coded.append(String.format(Locale.ROOT, "%%%02X", one));
      }
    }
    return "attachment; filename=\""
        + name.replaceAll("[^A-Za-z0-9._-]+", "-")
        + "\"; filename*=UTF-8''"
        + coded;
  }
}
