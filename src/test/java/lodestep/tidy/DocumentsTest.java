package lodestep.tidy;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Goal: no document leads a reader nowhere, and the build's parts stand explained. */
class DocumentsTest {

  @Test
  void findsNothingInTheDocuments() throws IOException {
    List<String> found = new ArrayList<>();
    List<Path> documents = Repository.files("", ".md");
    for (Path file : documents) {
      found.addAll(Documents.findings(Repository.root(), file, Files.readString(file)));
    }

    assertThat(documents).as("documents looked at").isNotEmpty();
    assertThat(found).isEmpty();
  }

  @Test
  void explainsEveryDependencyOfTheBuild() throws IOException {
    String build = Files.readString(Repository.root().resolve("pom.xml"));
    String developers = Files.readString(Repository.root().resolve("DEVELOPERS.md"));

    List<String> artifacts = artifacts(build);
    assertThat(artifacts).contains("tomlj", "assertj-core");
    assertThat(artifacts).allSatisfy(name -> assertThat(developers).contains("`" + name + "`"));
  }

  private static List<String> artifacts(String build) {
    return Pattern.compile(
            "<dependency>\\s*<groupId>[^<]*</groupId>\\s*<artifactId>([^<]*)</artifactId>")
        .matcher(build)
        .results()
        .map(match -> match.group(1))
        .toList();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "# Title\n[gone](gone.md)",
        "# Title\n[gone](gone.md#part)",
        "# Title\nsee `safety/gone.md`",
        "no title",
        "# One\n# Two",
      })
  void findsOnePlantedFault(String text, @TempDir Path root) {
    assertThat(Documents.findings(root, root.resolve("page.md"), text)).hasSize(1);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "# Title\n[there](there.md#part) [part](#title) [world](https://example.org/)",
        "# Title\n```\n# a comment in a script\n[x](gone.md)\n```",
        "# Title\nsee `safety/`",
      })
  void letsTheSoundPass(String text, @TempDir Path root) throws IOException {
    Files.createDirectory(root.resolve("safety"));
    Files.createFile(root.resolve("there.md"));

    assertThat(Documents.findings(root, root.resolve("page.md"), text)).isEmpty();
  }
}
