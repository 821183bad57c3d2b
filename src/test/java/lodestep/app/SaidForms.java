package lodestep.app;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** The forms of the rig's own sentences in the page's bundle, as {@code words.js} goes by them. */
public final class SaidForms {

  private static final int OWN_LETTERS = 8;
  private static final Pattern PART = Pattern.compile("\\{\\w+}");

  /** One form; what stands between its parts is its own. */
  private record Form(Pattern fits, int own) {
    static Form of(String text) {
      List<String> between = Arrays.asList(PART.split(bare(text), -1));
      String fits = between.stream().map(Pattern::quote).collect(Collectors.joining("(.+?)"));
      return new Form(
          Pattern.compile(fits, Pattern.DOTALL), between.stream().mapToInt(String::length).sum());
    }
  }

  private final JsonNode words;
  private final List<Form> forms;

  private SaidForms(JsonNode words) {
    this.words = words;
    this.forms =
        words.properties().stream()
            .filter(entry -> entry.getKey().startsWith("says."))
            .map(entry -> Form.of(entry.getValue().asText()))
            .sorted(Comparator.comparingInt(Form::own).reversed())
            .toList();
  }

  /** Those that the program carries. */
  public static SaidForms ofTheBundle() {
    try (InputStream stream = SaidForms.class.getResourceAsStream("/lodestep/page/words.en.json")) {
      return new SaidForms(JsonMapper.builder().build().readTree(stream));
    } catch (IOException gone) {
      throw new UncheckedIOException(gone);
    }
  }

  /** The words of this key; empty if there are none. */
  public String words(String key) {
    return words.path(key).asText();
  }

  /** All forms, by their keys. */
  public List<Map.Entry<String, JsonNode>> all() {
    return words.properties().stream().filter(each -> each.getKey().startsWith("says.")).toList();
  }

  /** The sentences in it for which there is no form. */
  public List<String> unknown(String text) {
    int named = text.indexOf(": ") + 2;
    boolean ofOne = named >= 2 && known(text.substring(named), OWN_LETTERS);
    if (text.isEmpty() || known(text, OWN_LETTERS) || ofOne) {
      return List.of();
    }
    Optional<List<String>> apart =
        apart(text, "(?<=\\.) (?=[A-Z0-9])", " ").or(() -> apart(text, "; ", "; "));
    return apart.orElseGet(() -> known(text, 0) ? List.of() : List.of(text));
  }

  private boolean known(String text, int own) {
    return forms.stream()
        .filter(form -> form.own() >= own)
        .map(form -> form.fits().matcher(bare(text)))
        .anyMatch(Matcher::matches);
  }

  /** As much at once as there is a form for, then the rest; empty if nothing fits at its begin. */
  private Optional<List<String>> apart(String text, String between, String join) {
    String[] pieces = text.split(between, -1);
    for (int first = pieces.length - 1; first > 0; first--) {
      String head = String.join(join, Arrays.copyOf(pieces, first));
      if (known(head, first == 1 ? 0 : OWN_LETTERS)) {
        String rest = String.join(join, Arrays.copyOfRange(pieces, first, pieces.length));
        return Optional.of(new ArrayList<>(unknown(rest)));
      }
    }
    return Optional.empty();
  }

  private static String bare(String text) {
    return text.endsWith(".") ? text.substring(0, text.length() - 1) : text;
  }
}
