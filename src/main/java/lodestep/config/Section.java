package lodestep.config;

import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.IntStream;
import lodestep.quantity.Nearest;
import org.tomlj.TomlArray;
import org.tomlj.TomlPosition;
import org.tomlj.TomlTable;

/**
 * One table of a TOML file while it is being read: hands out its values and notes everything wrong
 * with them. Confined to one reading; the caller ends it with {@link #end}, which finds the keys
 * that nobody asked for.
 */
final class Section {

  private static final TomlPosition START = TomlPosition.positionAt(1, 1);

  private final Problems problems;
  private final TomlTable table;
  private final String title;
  private final TomlPosition at;
  private final Set<String> known = new LinkedHashSet<>();
  private final int problemsBefore;

  private Section(Problems problems, TomlTable table, String title, TomlPosition at) {
    this.problems = problems;
    this.table = table;
    this.title = title;
    this.at = at;
    this.problemsBefore = problems.count();
  }

  /** The file's outermost table. */
  static Section root(Problems problems, TomlTable table) {
    return new Section(problems, table, "the file", START);
  }

  /** The table of this name; its absence is a problem. */
  Optional<Section> table(String name) {
    known.add(name);
    Object value = table.get(List.of(name));
    if (value instanceof TomlTable inner) {
      return Optional.of(new Section(problems, inner, "[" + name + "]", position(name)));
    }
    problems.add(position(name), "the section [" + name + "] is missing");
    return Optional.empty();
  }

  /** The table of this name if the file has one. */
  Optional<Section> tableIfThere(String name) {
    known.add(name);
    return table.contains(List.of(name)) ? table(name) : Optional.empty();
  }

  /** The tables written as {@code [[name]]}; none at all is a problem. */
  List<Section> tables(String name) {
    known.add(name);
    Object value = table.get(List.of(name));
    if (value instanceof TomlArray array
        && !array.isEmpty()
        && array.toList().stream().allMatch(TomlTable.class::isInstance)) {
      return IntStream.range(0, array.size()).mapToObj(index -> inner(array, index, name)).toList();
    }
    problems.add(
        position(name),
        value instanceof TomlTable
            ? "write [[" + name + "]] in double brackets, as there may be several"
            : "there is no [[" + name + "]]; a rig has at least one");
    return List.of();
  }

  private Section inner(TomlArray array, int index, String name) {
    return new Section(
        problems, array.getTable(index), "[[" + name + "]]", array.inputPositionOf(index));
  }

  /** Text that must be there. The example shows in the refusal how to write it. */
  Optional<String> text(String key, String example) {
    return value(key, "\"" + example + "\"").flatMap(value -> asText(key, value, example));
  }

  /** Text if it is there. */
  Optional<String> textIfThere(String key, String example) {
    known.add(key);
    return Optional.ofNullable(table.get(List.of(key)))
        .flatMap(value -> asText(key, value, example));
  }

  private Optional<String> asText(String key, Object value, String example) {
    if (value instanceof String text) {
      return Optional.of(text);
    }
    refuse(key, "'" + key + "' must be text in quotes, such as \"" + example + "\"");
    return Optional.empty();
  }

  /** A quantity written as text with its unit. */
  <Q> Optional<Q> quantity(String key, String example, Function<String, Q> parse) {
    return text(key, example).flatMap(text -> parsed(key, text, parse));
  }

  private <Q> Optional<Q> parsed(String key, String text, Function<String, Q> parse) {
    try {
      return Optional.of(parse.apply(text));
    } catch (IllegalArgumentException unreadable) {
      refuse(key, "'" + key + "': " + unreadable.getMessage());
      return Optional.empty();
    }
  }

  /** Quantities in a list, each written as text with its unit. */
  <Q> Optional<List<Q>> quantities(String key, String example, Function<String, Q> parse) {
    Optional<Object> value = value(key, example);
    if (value.isEmpty()) {
      return Optional.empty();
    }
    if (!(value.get() instanceof TomlArray array)
        || !array.toList().stream().allMatch(String.class::isInstance)) {
      refuse(key, "'" + key + "' must be a list of texts in quotes, such as " + example);
      return Optional.empty();
    }
    List<Q> quantities =
        array.toList().stream()
            .flatMap(text -> parsed(key, (String) text, parse).stream())
            .toList();
    return quantities.size() == array.size() ? Optional.of(quantities) : Optional.empty();
  }

  /** A number greater than zero, with or without decimals; its unit stands in the key. */
  Optional<Double> positive(String key, String example) {
    Optional<Object> value = value(key, example);
    if (value.isEmpty()) {
      return Optional.empty();
    }
    if (value.get() instanceof Number number
        && number.doubleValue() > 0
        && Double.isFinite(number.doubleValue())) {
      return Optional.of(number.doubleValue());
    }
    refuse(key, "'" + key + "' must be a number greater than zero, such as " + example);
    return Optional.empty();
  }

  /** A number if it is there; its unit stands in the key. */
  Optional<Double> numberIfThere(String key, String example) {
    known.add(key);
    Object value = table.get(List.of(key));
    if (value == null || value instanceof Number) {
      return Optional.ofNullable((Number) value).map(Number::doubleValue);
    }
    refuse(key, "'" + key + "' must be a number, such as " + example);
    return Optional.empty();
  }

  /** A whole number from the least to the most allowed. */
  OptionalLong whole(String key, long least, long most) {
    Optional<Object> value = value(key, Long.toString(least));
    if (value.isEmpty()) {
      return OptionalLong.empty();
    }
    if (value.get() instanceof Long number && number >= least && number <= most) {
      return OptionalLong.of(number);
    }
    refuse(key, "'" + key + "' must be a whole number from " + least + " to " + most);
    return OptionalLong.empty();
  }

  /** One of these words. */
  Optional<String> word(String key, Collection<String> words) {
    Optional<String> text = text(key, words.iterator().next());
    if (text.isPresent() && !words.contains(text.get())) {
      refuse(
          key,
          "'"
              + key
              + "' is \""
              + text.get()
              + "\", but must be one of "
              + words
              + Nearest.hint(text.get(), words));
      return Optional.empty();
    }
    return text;
  }

  private Optional<Object> value(String key, String example) {
    known.add(key);
    Object value = table.get(List.of(key));
    if (value == null) {
      problems.add(
          at, title + " has no '" + key + "'; add a line such as: " + key + " = " + example);
    }
    return Optional.ofNullable(value);
  }

  /** Whether the table has this key, which it need not have. */
  boolean mayHave(String key) {
    known.add(key);
    return table.contains(List.of(key));
  }

  /** Notes a problem at this key's place. */
  void refuse(String key, String sentence) {
    problems.add(position(key), sentence);
  }

  /** Where this key stands; this table's own place when it does not stand in it. */
  TomlPosition position(String key) {
    TomlPosition position = table.inputPositionOf(List.of(key));
    return position == null ? at : position;
  }

  /** Notes every key that was not asked for, and says whether all of this table was good. */
  boolean end() {
    for (String key : table.keySet()) {
      if (!known.contains(key)) {
        refuse(key, "unknown key '" + key + "' in " + title + Nearest.hint(key, known));
      }
    }
    return problems.count() == problemsBefore;
  }
}
