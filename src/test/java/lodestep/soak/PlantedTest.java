package lodestep.soak;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.lang.reflect.Method;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import net.jqwik.api.Property;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Goal: whatever reaction this build owes a broken part, a person or a mistake of its own, taking
 * it away is found. Method: {@code safety/planted.csv} names for each law and each single fault the
 * mistake that the soak must find, the test that fails without the reaction, or why there is none.
 */
class PlantedTest {

  private static final Path DOCUMENT =
      Path.of(System.getProperty("lodestep.repository", "."), "safety", "planted.csv");

  private static final int SEEDS_TO_FIND_MAX = 80;
  private static final List<String> UNMENDED = List.of(Law.READY_AGAIN.id(), Law.WORKS_ON.id());
  private static final long QUIET_MS = 30_000;
  private static final String BY_SOAK = "soak:";
  private static final String NOT_HERE = "none: ";

  /** A line of the document: law or fault, what goes wrong, by what it is found. */
  private record Row(String of, String wrong, List<String> foundBy) {

    static Row read(String line) {
      String[] cells = line.split(",", 3);
      boolean none = cells[2].startsWith(NOT_HERE);
      return new Row(cells[0], cells[1], none ? List.of() : List.of(cells[2].split(" ")));
    }

    Stream<Planted> planted() {
      return rigs().map(Map.Entry::getKey);
    }

    /** Each mistake with the kind of rig it is sought on: "soak:NAME" a coil's, "soak:NAME@jig". */
    Stream<Map.Entry<Planted, SoakRig>> rigs() {
      return foundBy.stream()
          .filter(by -> by.startsWith(BY_SOAK))
          .map(by -> by.substring(BY_SOAK.length()).split("@", 2))
          .map(
              by ->
                  Map.entry(
                      Planted.valueOf(by[0]),
                      by.length == 1 ? SoakRig.COIL : SoakRig.of(by[1]).orElseThrow()));
    }

    Stream<String> tests() {
      return foundBy.stream().filter(by -> !by.startsWith(BY_SOAK));
    }
  }

  private static List<Row> rows() throws IOException {
    return Files.readAllLines(DOCUMENT).stream().skip(1).map(Row::read).toList();
  }

  private static List<Planted> planted() throws IOException {
    return rows().stream().flatMap(Row::planted).distinct().toList();
  }

  /** A mistake, and the law in whose name it must be seen whatever other laws it breaks. */
  record Sought(Planted planted, SoakRig rig, Law law) {}

  static List<Sought> sought() throws IOException {
    List<Row> rows = rows();
    return Law.all().stream()
        .flatMap(
            law ->
                rows.stream()
                    .filter(row -> row.of().equals(law.id()))
                    .flatMap(Row::rigs)
                    .map(by -> new Sought(by.getKey(), by.getValue(), law)))
        .distinct()
        .toList();
  }

  @ParameterizedTest
  @MethodSource("sought")
  void isFoundAmongSeedsDrawnForNoneOfThem(Sought sought) {
    List<String> others = new ArrayList<>();
    int seed = 0;
    boolean found = false;
    while (!found && seed < SEEDS_TO_FIND_MAX) {
      seed++;
      Optional<Violation> seen = played(seed, sought).violation();
      found = seen.filter(violation -> violation.rule().equals(sought.law().id())).isPresent();
      if (!found) {
        // A rig that is never mended does not work on, which says nothing of this law.
        seen.filter(violation -> !UNMENDED.contains(violation.rule()))
            .ifPresent(violation -> others.add(violation.written()));
      }
    }
    System.out.printf(
        "%-7s broken and seen after %2d seeds of the rig %s: %s%n",
        sought.law().id(), seed, sought.rig().word(), sought.planted().words());
    assertThat(found).as("found; other laws seen broken: %s", others).isTrue();
    assertThat(others).as("seen in the name of another law").isEmpty();
  }

  /** That a sound rig trips can be seen only where nothing happens to it. */
  private static RunResult played(long seed, Sought sought) {
    boolean quiet = sought.law().equals(Law.NO_NUISANCE);
    SoakSettings settings = Soaks.of(sought.rig());
    Script script = quiet ? new Script(QUIET_MS, List.of()) : SoakRun.script(settings, seed);
    World world = new World(settings, seed, script, sought.planted()).judgedBy(sought.law());
    return quiet ? world.playQuiet() : world.play();
  }

  @Test
  void listsEveryMistakeOfTheProgram() throws IOException {
    assertThat(planted())
        .containsExactlyInAnyOrderElementsOf(
            Arrays.stream(Planted.values()).filter(p -> p != Planted.NOTHING).toList());
  }

  @Test
  void seeksEveryMistakeInTheNameOfALaw() throws IOException {
    assertThat(sought().stream().map(Sought::planted).distinct())
        .containsExactlyInAnyOrderElementsOf(planted());
  }

  @Test
  void breaksEveryLawByAMistakeThatIsSeenInItsNameOrNamesATest() throws IOException {
    List<Row> rows = rows();
    for (Law law : Law.all()) {
      List<Row> ofLaw = rows.stream().filter(row -> row.of().equals(law.id())).toList();
      assertThat(ofLaw).as(law.id()).anyMatch(row -> !row.foundBy().isEmpty());
      for (Row row : ofLaw) {
        assertThat(row.planted()).as("%s", row).allMatch(p -> p.rules().contains(law.id()));
      }
    }
  }

  @Test
  void saysOfEveryRowHowItIsFoundOrWhyItIsNotHere() throws IOException {
    for (String line : Files.readAllLines(DOCUMENT)) {
      String[] cells = line.split(",", 3);
      assertThat(cells).as(line).hasSize(3).allMatch(cell -> !cell.isBlank());
      assertThat(cells[2].replace(NOT_HERE, "")).as(line).hasSizeGreaterThan(7);
    }
  }

  @Test
  void namesTestsThatAreThere() throws IOException {
    assertThat(rows().stream().flatMap(Row::tests)).allMatch(PlantedTest::isTest);
  }

  @Test
  void takesNoOtherMethodForATest() {
    assertThat(isTest("soak.PlantedTest.takesNoOtherMethodForATest")).isTrue();
    assertThat(isTest("soak.PlantedTest.planted")).isFalse();
    assertThat(isTest("soak.PlantedTest.isNotThere")).isFalse();
    assertThat(isTest("soak.NoTest.isNotThere")).isFalse();
  }

  private static boolean isTest(String name) {
    int dot = name.lastIndexOf('.');
    try {
      return Arrays.stream(Class.forName("lodestep." + name.substring(0, dot)).getDeclaredMethods())
          .filter(method -> method.getName().equals(name.substring(dot + 1)))
          .anyMatch(PlantedTest::isRun);
    } catch (ClassNotFoundException missing) {
      return false;
    }
  }

  private static boolean isRun(Method method) {
    return method.isAnnotationPresent(Test.class)
        || method.isAnnotationPresent(ParameterizedTest.class)
        || method.isAnnotationPresent(TestFactory.class)
        || method.isAnnotationPresent(Property.class);
  }
}
