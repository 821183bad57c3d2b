package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.lang.reflect.Method;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import lodestep.port.TripCause;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The safety documents say what the program does. */
class SafetyDocumentsTest {

  private static final Pattern CELLS = Pattern.compile("\\s*\\|\\s*");

  private record Row(List<String> cells) {
    TripCause cause() {
      return TripCause.valueOf(cells.get(2));
    }

    String test() {
      return cells.get(7);
    }
  }

  private static List<Row> table() throws IOException {
    List<Row> rows = new ArrayList<>();
    for (String line : Files.readAllLines(repository().resolve("safety/interlocks.md"))) {
      if (line.matches("\\| \\d.*")) {
        rows.add(new Row(CELLS.splitAsStream(line).toList()));
      }
    }
    return rows;
  }

  /** The causes named in the first column under "When each of them acts". */
  private static List<TripCause> timed() throws IOException {
    String text = Files.readString(repository().resolve("safety/interlocks.md"));
    String chapter = text.split("\n## When each of them acts\n", 2)[1].split("\n## ", 2)[0];
    return chapter
        .lines()
        .filter(line -> line.startsWith("| ") && !line.startsWith("| cause |"))
        .map(line -> CELLS.splitAsStream(line).skip(1).findFirst().orElseThrow())
        .flatMap(Pattern.compile(", ")::splitAsStream)
        .map(TripCause::valueOf)
        .toList();
  }

  private static Path repository() {
    return Path.of(System.getProperty("lodestep.repository", "."));
  }

  @Test
  void listsEveryCauseOnceInTheOrderOfTheProgramAndInItsWords() throws IOException {
    List<List<String>> written =
        table().stream().map(row -> row.cells().subList(1, 6)).map(List::copyOf).toList();
    List<List<String>> meant =
        Arrays.stream(TripCause.values())
            .map(c -> List.of("" + c.code(), c.name(), c.what(), c.why(), c.remedy()))
            .toList();

    assertThat(written).isEqualTo(meant);
  }

  @Test
  void namesWhoEnforcesEachCause() throws IOException {
    assertThat(table())
        .allSatisfy(row -> assertThat(row.cells().get(6)).containsPattern("chain|head|host"));
  }

  @Test
  void saysOnceOfEveryCauseWhenItActs() throws IOException {
    assertThat(timed()).containsExactlyInAnyOrder(TripCause.values());
  }

  @Test
  void namesForEveryCauseATestThatProvokesItAndOneThatJustDoesNot() throws IOException {
    for (Row row : table()) {
      boolean provoked = false;
      boolean spared = false;
      for (Method method : testClass(row.test()).getDeclaredMethods()) {
        Provokes provokes = method.getAnnotation(Provokes.class);
        Spares spares = method.getAnnotation(Spares.class);
        provoked |= provokes != null && List.of(provokes.value()).contains(row.cause());
        spared |= spares != null && List.of(spares.value()).contains(row.cause());
      }
      assertThat(provoked).as("%s provoked in %s", row.cause(), row.test()).isTrue();
      assertThat(spared).as("%s spared in %s", row.cause(), row.test()).isTrue();
    }
  }

  private static Class<?> testClass(String name) {
    try {
      return Class.forName("lodestep.interlock." + name);
    } catch (ClassNotFoundException missing) {
      throw new AssertionError("safety/interlocks.md names a test that is not there", missing);
    }
  }

  @Test
  void givesEveryCauseACodeOfItsOwn() {
    assertThat(Arrays.stream(TripCause.values()).map(TripCause::code)).doesNotHaveDuplicates();
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "-bank", "-coil", "-jig", "-by-hand"})
  void carriesTheCautionsInTheProgramAndLinksThemFromTheSafetyPage(String of) throws IOException {
    String name = "cautions" + of + ".txt";
    Path safety = repository().resolve("safety");
    String linked = "../src/main/resources/lodestep/" + name;

    assertThat(Files.readString(safety.resolve("README.md"))).contains("(" + linked + ")");
    assertThat(Files.readString(safety.resolve(linked))).isEqualTo(carried(name));
  }

  /** Word for word, so that who reads no further has read them. */
  @Test
  void carriesTheCautionsInTheReadme() throws IOException {
    String quoted =
        Files.readString(repository().resolve("README.md"))
            .lines()
            .filter(line -> line.startsWith(">"))
            .map(line -> line.substring(1).strip())
            .collect(Collectors.joining("\n"));

    for (String paragraph : carried("cautions.txt").split("\n\n", -1)) {
      assertThat(quoted).contains(paragraph.strip());
    }
  }

  @Test
  void cautionsAboutWhatCanHurt() throws IOException {
    assertThat(carried("cautions.txt"))
        .contains("eye protection", "Pacemakers", "0.5 mT", "Cards", "Children", "licensed")
        .contains("not an emergency stop");
    assertThat(carried("cautions-bank.txt")).contains("stores energy", "a meter");
    assertThat(carried("cautions-coil.txt")).contains("hot", "lid closed", "does not end");
    assertThat(carried("cautions-jig.txt")).contains("pinches", "eye protection", "unplugged");
    assertThat(carried("cautions-by-hand.txt")).contains("Eye protection", "one strong magnet");
  }

  private static String carried(String name) throws IOException {
    try (var stream = SafetyDocumentsTest.class.getResourceAsStream("/lodestep/" + name)) {
      assertThat(stream).as("%s on the class path", name).isNotNull();
      return new String(stream.readAllBytes(), StandardCharsets.UTF_8);
    }
  }
}
