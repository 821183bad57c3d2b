package lodestep.tidy;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Goal: sources keep their shape, and each rule about it is seen to fail on a planted example. */
class SourceRulesTest {

  @Test
  void findsNothingInTheProgram() throws IOException {
    List<String> found = new ArrayList<>();
    for (Path file : Repository.files("src/main/java", ".java")) {
      found.addAll(SourceRules.findingsInMain(Repository.name(file), Files.readString(file)));
    }

    assertThat(found).isEmpty();
  }

  @Test
  void findsNothingInTheTests() throws IOException {
    List<String> found = new ArrayList<>();
    for (Path file : Repository.files("src/test/java", ".java")) {
      found.addAll(SourceRules.findings(Repository.name(file), Files.readString(file)));
    }

    assertThat(found).isEmpty();
  }

  @Test
  void everyPackageSaysWhatItIsFor() throws IOException {
    for (Path file : Repository.files("src/main/java", ".java")) {
      Path info = file.resolveSibling("package-info.java");
      assertThat(info).as("purpose of the package of " + file).exists();
      assertThat(Files.readString(info)).startsWith("/**").contains("@NullMarked");
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "class A {\n  void setLevel(int level) {}\n}",
        "class A {\n  void testLevel() {}\n}",
        "class A {\n  void run() {\n    assert true;\n  }\n}",
        "class A {\n  void run() {\n    try {\n    } catch (Exception any) {\n    }\n  }\n}",
        "// TO" + "DO later",
        "// FIX" + "ME",
      })
  void findsOnePlantedBreach(String source) {
    assertThat(SourceRules.findings("A.java", source)).hasSize(1);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "// void setLevel(int level)",
        "class A {\n  String word = \"assert\";\n}",
        "class A {\n  void settle() {}\n}",
        "class A {\n  void assertive() {}\n}",
        "// TO" + "DO #12: later",
        " * https://example.org/a-link-that-cannot-be-broken"
            + "-although-it-is-far-longer-than-a-line-may-be-in-this-project",
      })
  void letsTheHarmlessPass(String source) {
    assertThat(SourceRules.findings("A.java", source)).isEmpty();
  }

  @Test
  void findsALongFileAndNotOneJustWithinItsLimit() {
    assertThat(SourceRules.findings("A.java", "\n".repeat(SourceRules.LINES_MAX))).isEmpty();
    assertThat(SourceRules.findings("A.java", "\n".repeat(SourceRules.LINES_MAX + 1))).hasSize(1);
  }

  @Test
  void findsALongLineAndNotOneJustWithinItsLimit() {
    assertThat(SourceRules.findings("A.java", columns(SourceRules.COLUMNS_MAX))).isEmpty();
    assertThat(SourceRules.findings("A.java", columns(SourceRules.COLUMNS_MAX + 1))).hasSize(1);
  }

  private static String columns(int columns) {
    return "x = " + "y".repeat(columns - 4);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "  void run() {\n",
        "  A(int one,\n      int two) {\n",
        "  @Named(value = \"x\")\n  <T> List<T> all() throws E {\n",
      })
  void findsALongMethodAndNotOneJustWithinItsLimit(String head) {
    int within = SourceRules.METHOD_LINES_MAX - 2;

    assertThat(SourceRules.findings("A.java", method(head, within))).isEmpty();
    assertThat(SourceRules.findings("A.java", method(head, within + 1)))
        .singleElement()
        .asString()
        .contains("a method of 41 lines");
  }

  private static String method(String head, int bodyLines) {
    return "class A {\n" + head + "    go();\n".repeat(bodyLines) + "  }\n}\n";
  }

  @Test
  void findsWhatIsPublicWithoutJavadoc() {
    String bare = "public class A {\n  public void run() {}\n}";
    String good = "/** A. */\npublic class A {\n  /** Runs. */\n  public void run() {}\n}";
    String inherited = "/** A. */\n@Fast\npublic class A {\n  @Override\n  public void run() {}\n}";

    assertThat(SourceRules.findingsInMain("A.java", bare)).hasSize(2);
    assertThat(SourceRules.findingsInMain("A.java", good)).isEmpty();
    assertThat(SourceRules.findingsInMain("A.java", inherited)).isEmpty();
  }
}
