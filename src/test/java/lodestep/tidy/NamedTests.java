package lodestep.tidy;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Tests that a document names as {@code `ClassTest.method`} must be there, and be run as tests. */
final class NamedTests {

  private static final Pattern NAMED = Pattern.compile("`(\\w+Test)\\.(\\w+)`");

  private static final Pattern ANNOTATION =
      Pattern.compile("^\\s*@(?:Test|ParameterizedTest|Property|Example)\\b");

  private NamedTests() {}

  /** How many tests a text names. */
  static long count(String text) {
    return NAMED.matcher(text).results().count();
  }

  /**
   * What is not there, one finding for each naming.
   *
   * @param sources the text of each test class by its simple name
   */
  static List<String> missing(String text, Map<String, String> sources) {
    List<String> missing = new ArrayList<>();
    Matcher named = NAMED.matcher(text);
    while (named.find()) {
      Optional<String> source = Optional.ofNullable(sources.get(named.group(1)));
      boolean there = source.filter(code -> isTest(code, named.group(2))).isPresent();
      if (!there) {
        missing.add(named.group(1) + "." + named.group(2) + " is no test");
      }
    }
    return missing;
  }

  /** A method of this name, with a test's annotation in the lines right above it. */
  private static boolean isTest(String source, String method) {
    List<String> lines = source.lines().toList();
    boolean annotated = false;
    for (String line : lines) {
      annotated = !line.isBlank() && (annotated || ANNOTATION.matcher(line).find());
      if (annotated && line.contains(" void " + method + "(")) {
        return true;
      }
    }
    return false;
  }
}
