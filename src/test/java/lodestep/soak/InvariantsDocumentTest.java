package lodestep.soak;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Goal: safety/invariants.md says what the soak judges, no more and no less. */
class InvariantsDocumentTest {

  private static final Path DOCUMENT =
      Path.of(System.getProperty("lodestep.repository", "."), "safety", "invariants.md");

  @Test
  void listsEveryLawWithItsWords() throws IOException {
    List<Law> listed =
        Files.readAllLines(DOCUMENT).stream()
            .filter(line -> line.startsWith("| ") && !line.startsWith("| number"))
            .map(line -> line.split(" *\\| *", -1))
            .map(cells -> new Law(cells[1], cells[2]))
            .toList();

    assertThat(listed).containsExactlyElementsOf(Law.all());
  }

  @Test
  void givesEveryLawANumberOfItsOwnAndWords() {
    assertThat(Law.all()).extracting(Law::id).doesNotHaveDuplicates();
    assertThat(Law.all()).allSatisfy(law -> assertThat(law.words()).hasSizeGreaterThan(20));
  }

  @Test
  void knowsEveryLawThatAPlantedMistakeIsToBreak() {
    List<String> numbers = Law.all().stream().map(Law::id).toList();
    for (Planted planted : Planted.values()) {
      assertThat(numbers).as("%s", planted).containsAll(planted.rules());
    }
  }
}
