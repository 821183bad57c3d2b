package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.lang.reflect.Method;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: nobody takes a remembered figure for one that was read, or our own for either. Prints what
 * the physics and the metrology are held against, each kind counted apart, and fails where a test's
 * words and its mark disagree.
 */
class ChecksReportTest {

  private static final Path TESTS =
      Path.of(System.getProperty("lodestep.repository")).resolve("src/test/java/lodestep");

  private static final List<String> CHECKED = List.of("magnet", "measure", "sim", "voice");

  /** The comment of a test, its annotations, its name. */
  private static final Pattern TEST =
      Pattern.compile(
          "/\\*\\*((?:(?!\\*/).)*+)\\*/\\s*((?:@[^\\n]*\\n(?:(?!\\s*void )[^\\n]*\\n)*?)+)"
              + "\\s*void (\\w+)\\(",
          Pattern.DOTALL);

  /** How many tests, and how many figures in their tables. */
  private record Count(int tests, int rows) {
    Count plus(int more) {
      return new Count(tests + 1, rows + more);
    }
  }

  private static List<Class<?>> classes() throws IOException {
    List<Class<?>> found = new ArrayList<>();
    for (String folder : CHECKED) {
      try (Stream<Path> files = Files.list(TESTS.resolve(folder))) {
        for (Path file : files.sorted().toList()) {
          String name = file.getFileName().toString().replaceFirst("\\.java$", "");
          if (name.endsWith("Test")) {
            found.add(load("lodestep." + folder + "." + name));
          }
        }
      }
    }
    return found;
  }

  private static Class<?> load(String name) {
    try {
      return Class.forName(name, false, ChecksReportTest.class.getClassLoader());
    } catch (ClassNotFoundException missing) {
      throw new AssertionError(missing);
    }
  }

  private static int rows(Method test) {
    CsvSource table = test.getAnnotation(CsvSource.class);
    return table == null ? 1 : table.value().length;
  }

  @Test
  void countsEachKindOfCheckApart() throws IOException {
    Map<Against.Kind, Count> counts = new EnumMap<>(Against.Kind.class);
    Map<String, Against.Kind> marks = new TreeMap<>();
    for (Class<?> type : classes()) {
      for (Method test : type.getDeclaredMethods()) {
        Against mark = test.getAnnotation(Against.class);
        if (mark != null) {
          marks.put(type.getSimpleName() + "#" + test.getName(), mark.value());
          counts.merge(mark.value(), new Count(1, rows(test)), (old, one) -> old.plus(one.rows()));
        }
      }
    }
    System.out.println(
        "What magnets, coils, strings and the judging of readings are held against:");
    for (Against.Kind kind : Against.Kind.values()) {
      Count count = counts.getOrDefault(kind, new Count(0, 0));
      System.out.printf(
          Locale.ROOT, "%4d tests %4d rows  %s%n", count.tests(), count.rows(), kind.words());
      marks.forEach(
          (name, of) -> {
            if (of == kind) {
              System.out.println("                      " + name);
            }
          });
    }

    assertThat(counts).containsKeys(Against.Kind.values());
  }

  /** What a comment calls remembered, or worked out before, is marked no better. */
  @Test
  void marksNoFigureAsMoreThanItsWordsSay() throws IOException {
    List<String> wrong = new ArrayList<>();
    try (Stream<Path> files = Files.walk(TESTS)) {
      for (Path file : files.filter(ChecksReportTest::isChecked).sorted().toList()) {
        Matcher test = TEST.matcher(Files.readString(file));
        while (test.find()) {
          String words =
              test.group(1).replaceAll("\\s*\\n\\s*\\*\\s*", " ").toLowerCase(Locale.ROOT);
          if (!allowed(words, test.group(2))) {
            wrong.add(file.getFileName() + "#" + test.group(3));
          }
        }
      }
    }

    assertThat(wrong).isEmpty();
  }

  private static boolean isChecked(Path file) {
    return CHECKED.contains(String.valueOf(TESTS.relativize(file).getName(0)))
        && file.toString().endsWith(".java");
  }

  private static boolean allowed(String words, String marks) {
    boolean marked = marks.contains("@Against");
    boolean read = marks.contains("Kind.READ");
    boolean weak = words.contains("from memory") || words.contains("beforehand");
    return !weak || (marked && !read);
  }

  @Test
  void findsAPlantedMark() {
    assertThat(allowed("a standard, from memory", "@Against(Against.Kind.READ)")).isFalse();
    assertThat(allowed("computed beforehand", "@Test")).isFalse();
    assertThat(allowed("computed beforehand", "@Against(Against.Kind.COMPUTED)")).isTrue();
    assertThat(allowed("a law", "@Test")).isTrue();
  }
}
