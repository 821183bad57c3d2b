package lodestep.app;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;

/**
 * The sentences of the program's own that a screen shows of an answer, as its page takes it apart.
 */
final class SaidOnScreens {

  /** Facts that are a version and a file's name. */
  private static final Set<String> NAMES = Set.of("program", "ledger");

  private SaidOnScreens() {}

  /** Facts, cautions, and rig.toml as understood, cell by cell. */
  static Set<String> ofRig(JsonNode rig) {
    Set<String> said = new TreeSet<>();
    for (JsonNode fact : rig.path("facts")) {
      if (!NAMES.contains(fact.path("what").asText())) {
        said.add(fact.path("how").asText());
      }
    }
    StringBuilder cautions = new StringBuilder();
    rig.path("cautions").forEach(line -> cautions.append(line.asText()).append('\n'));
    for (String each : cautions.toString().split("\\n\\s*\\n", -1)) {
      said.add(each.strip().replace('\n', ' '));
    }
    for (String line : rig.path("words").asText().split("\n", -1)) {
      said.addAll(words(Arrays.asList(line.strip().split("\\s{2,}", -1))));
    }
    said.remove("");
    return said;
  }

  /** What became of a magnet. */
  static Set<String> ofMagnet(JsonNode magnet) {
    Set<String> said = new TreeSet<>();
    magnet.path("happenings").forEach(each -> said.add(each.path("words").asText()));
    if (magnet.has("verdict")) {
      said.add(magnet.path("verdict").asText() + ": " + magnet.path("why").asText());
    }
    return said;
  }

  /** A return check. */
  static Set<String> ofReturn(JsonNode judged) {
    Set<String> said = new TreeSet<>();
    for (String field : List.of("why", "taken", "customer", "how")) {
      said.add(judged.path(field).asText());
    }
    said.remove("");
    return said;
  }

  /** Passages, with tables' names, heads and words, and what stands at the curves. */
  static Set<String> ofVoice(JsonNode answer) {
    Set<String> said = new TreeSet<>();
    for (JsonNode passage : answer.path("passages")) {
      said.add(passage.path("text").asText());
      said.add(passage.path("name").asText());
      passage.path("columns").forEach(column -> said.addAll(words(List.of(column.asText()))));
      for (JsonNode row : passage.path("rows")) {
        row.forEach(cell -> said.addAll(words(List.of(cell.asText()))));
      }
    }
    for (JsonNode plot : answer.path("plots")) {
      for (String field : List.of("title", "across", "up")) {
        said.add(plot.path(field).asText());
      }
      plot.path("curves").forEach(curve -> said.add(curve.path("name").asText()));
    }
    said.remove("");
    return said;
  }

  /** Those with words in them: figures with their units need no translation. */
  private static List<String> words(Collection<String> cells) {
    return cells.stream().filter(cell -> cell.matches("(?s).*\\p{L}{4,}.*")).toList();
  }
}
