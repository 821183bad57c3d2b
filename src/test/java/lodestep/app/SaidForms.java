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
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/** The forms of the rig's own sentences in the page's bundle, as {@code words.js} goes by them. */
public final class SaidForms {

  private static final int OWN_LETTERS = 8;
  private static final String ALONE = "((?:(?!; |\\. [A-Z0-9]).)+?)";
  private static final Pattern WORD = Pattern.compile("\\p{L}{4,}");
  private static final Pattern PART = Pattern.compile("\\{\\w+}");

  /** One form; what stands between its parts is its own. */
  private record Form(Pattern fits, Pattern alone, int own) {
    static Form of(String text) {
      List<String> between = Arrays.asList(PART.split(bare(text), -1));
      return new Form(
          fitting(between, "(.+?)"),
          fitting(between, ALONE),
          between.stream().mapToInt(String::length).sum());
    }

    private static Pattern fitting(List<String> between, String part) {
      String fits = between.stream().map(Pattern::quote).collect(Collectors.joining(part));
      return Pattern.compile(fits, Pattern.DOTALL);
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

  /**
   * The pieces of it for which there is no form, parts of forms and all, as {@code words.js} tells
   * them: nothing of the program's own English may be left.
   *
   * @param names whether this is a name that a person gave, or one that is the same in any language
   */
  public List<String> untold(String text, Predicate<String> names) {
    if (names.test(bare(text)) || !WORD.matcher(text).find()) {
      return List.of();
    }
    return parts(text, firm(), true)
        .or(() -> ofOne(text))
        .map(parts -> inside(parts, names))
        .or(() -> sentences(text, true, names))
        .or(() -> parts(text, firm(), false).map(parts -> inside(parts, names)))
        .or(() -> sentences(text, false, names))
        .or(() -> listed(text))
        .or(() -> parts(text, forms, false).map(parts -> inside(parts, names)))
        .orElseGet(() -> List.of(text));
  }

  private List<Form> firm() {
    return forms.stream().filter(form -> form.own() >= OWN_LETTERS).toList();
  }

  private List<String> inside(List<String> parts, Predicate<String> names) {
    return parts.stream().flatMap(part -> untold(part, names).stream()).toList();
  }

  /** What a form leaves open of it; empty if none fits. */
  private static Optional<List<String>> parts(String text, List<Form> among, boolean alone) {
    return among.stream()
        .map(form -> (alone ? form.alone() : form.fits()).matcher(bare(text)))
        .filter(Matcher::matches)
        .findFirst()
        .map(fits -> IntStream.rangeClosed(1, fits.groupCount()).mapToObj(fits::group).toList());
  }

  private Optional<List<String>> ofOne(String text) {
    int named = text.indexOf(": ") + 2;
    return named < 2 ? Optional.empty() : parts(text.substring(named), firm(), false);
  }

  /** Words with commas between, each of which has a form of its own. */
  private Optional<List<String>> listed(String text) {
    String[] words = text.split(", ", -1);
    boolean all =
        Arrays.stream(words)
            .allMatch(word -> parts(word, forms, false).filter(List::isEmpty).isPresent());
    return words.length > 1 && all ? Optional.of(List.of()) : Optional.empty();
  }

  private Optional<List<String>> sentences(String text, boolean alone, Predicate<String> names) {
    return pieces(text, "(?<=\\.) (?=[A-Z0-9])", " ", alone, names)
        .or(() -> pieces(text, "; ", "; ", alone, names));
  }

  private Optional<List<String>> pieces(
      String text, String between, String join, boolean alone, Predicate<String> names) {
    String[] pieces = text.split(between, -1);
    for (int first = pieces.length - 1; first > 0; first--) {
      String head = String.join(join, Arrays.copyOf(pieces, first));
      Optional<List<String>> parts = parts(head, first == 1 ? forms : firm(), alone);
      if (parts.isPresent()) {
        List<String> untold = new ArrayList<>(inside(parts.get(), names));
        String rest = String.join(join, Arrays.copyOfRange(pieces, first, pieces.length));
        untold.addAll(untold(rest, names));
        return Optional.of(untold);
      }
    }
    return Optional.empty();
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
