package lodestep.tidy;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Goal: a table that says which test shows what cannot name one that is not there. */
class NamedTestsTest {

  private static final Map<String, String> SOURCES =
      Map.of(
          "WireTest",
          """
          class WireTest {
            @Test
            void holds() {}

            @ParameterizedTest
            @ValueSource(ints = {1, 2})
            void holdsEach(int each) {}

            private void helps() {}
          }
          """);

  @Test
  void findsEveryTestThatTheTableOfTheSerialLineNames() throws IOException {
    Map<String, String> sources = new HashMap<>();
    for (Path file : Repository.files("src/test/java", "Test.java")) {
      String name = file.getFileName().toString().replace(".java", "");
      sources.put(name, Files.readString(file));
    }
    String table = Files.readString(Repository.root().resolve("safety/serial-line.md"));

    assertThat(NamedTests.missing(table, sources)).isEmpty();
    assertThat(table.lines().filter(line -> line.startsWith("| L")))
        .allMatch(row -> NamedTests.count(row) > 0)
        .hasSizeGreaterThan(9);
  }

  @ParameterizedTest
  @ValueSource(strings = {"`WireTest.gone`", "`GoneTest.holds`", "`WireTest.helps`"})
  void findsAPlantedNameThatIsNoTest(String text) {
    assertThat(NamedTests.missing(text, SOURCES)).hasSize(1);
  }

  @ParameterizedTest
  @ValueSource(strings = {"`WireTest.holds` and `WireTest.holdsEach`", "no test at all"})
  void letsTheSoundPass(String text) {
    assertThat(NamedTests.missing(text, SOURCES)).isEmpty();
  }
}
