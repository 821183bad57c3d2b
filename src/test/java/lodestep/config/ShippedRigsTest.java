package lodestep.config;

import static lodestep.config.RigFileTest.problems;
import static lodestep.config.RigFileTest.rig;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Goal: the rigs shipped for a board can be wired as the notes say, with every line they need and
 * none that they do not, and nobody takes one for a virtual rig. Method: each file as it stands,
 * the tables of the wiring notes, and each file with one line taken out or put in.
 */
class ShippedRigsTest {

  private static final Path ROOT = Path.of(System.getProperty("lodestep.repository"));
  private static final Path BOARD = ROOT.resolve("firmware-host/board");

  /** The columns of the wiring notes' table of pins, in its order. */
  private static final List<String> KINDS = List.of("coil", "jig", "coil-and-jig", "switched");

  private static final List<String> MAY_BE_LEFT_OUT =
      List.of("work_seat", "lamp_ready", "lamp_busy", "lamp_accept", "lamp_refuse", "buzzer");

  static Stream<String> kinds() {
    return KINDS.stream();
  }

  private static String text(String file) {
    try {
      return Files.readString(BOARD.resolve(file));
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    }
  }

  private static String real(String kind) {
    return text("rig-real-" + kind + ".toml");
  }

  private static Map<String, Integer> pins(String kind) {
    return rig(real(kind)).pins();
  }

  @Test
  void saysByItsNameWhichFileIsForABoard() throws IOException {
    try (Stream<Path> files = Files.list(BOARD)) {
      List<String> rigs =
          files
              .map(file -> file.getFileName().toString())
              .filter(name -> name.endsWith(".toml"))
              .toList();
      assertThat(rigs).hasSizeGreaterThan(KINDS.size());
      for (String file : rigs) {
        RigKind kind = rig(text(file)).kind();
        assertThat(file).startsWith("rig-" + kind.word());
        assertThat(text(file).lines().findFirst().orElseThrow())
            .as(file)
            .containsIgnoringCase(kind == RigKind.REAL ? "real" : "virtual");
      }
    }
  }

  /** But for kind, name, head and pins the two files of a kind are one rig. */
  @ParameterizedTest
  @MethodSource("kinds")
  void hasAVirtualTwinOfTheSameParts(String kind) {
    RigConfig real = rig(real(kind));
    RigConfig twin =
        rig(text(kind.equals("coil") ? "rig-virtual.toml" : "rig-virtual-" + kind + ".toml"));

    assertThat(real.sources()).isEqualTo(twin.sources());
    assertThat(real.supply()).isEqualTo(twin.supply());
    assertThat(real.hasBank()).isEqualTo(twin.hasBank());
    assertThat(real.coils()).extracting(CoilConfig::name).isEqualTo(names(twin));
    assertThat(real.nests()).isEqualTo(twin.nests());
    // A certificate is of one magnet: a rig file to start from has none.
    assertThat(real.gauge()).isEqualTo(twin.gauge().with(List.of()));
    assertThat(real.name()).isNotEqualTo(twin.name());
    assertThat(twin.kind()).isEqualTo(RigKind.VIRTUAL);
  }

  private static List<String> names(RigConfig rig) {
    return rig.coils().stream().map(CoilConfig::name).toList();
  }

  @ParameterizedTest
  @MethodSource("kinds")
  void hasThePinsOfTheWiringNotes(String kind) throws IOException {
    Map<String, Integer> noted = new HashMap<>();
    table("The pins of the examples")
        .forEach(
            (line, cells) -> {
              String number = cells.get(KINDS.indexOf(kind));
              if (!number.isEmpty()) {
                noted.put(line, Integer.valueOf(number));
              }
            });

    assertThat(pins(kind)).isEqualTo(noted);
  }

  @ParameterizedTest
  @MethodSource("kinds")
  void hasEachPinOnceWhereItsLineIsSafe(String kind) {
    assertThat(pins(kind).values()).doesNotHaveDuplicates();
    pins(kind)
        .forEach(
            (line, number) ->
                assertThat(number).as(line).isBetween(isOutput(line) ? 9 : 4, 27).isNotIn(14, 15));
  }

  @Test
  void hasALineOfSeveralKindsOnTheSamePinInEach() {
    Map<String, Integer> seen = new HashMap<>();
    for (String kind : KINDS) {
      pins(kind)
          .forEach(
              (line, number) ->
                  assertThat(Optional.ofNullable(seen.put(line, number)).orElse(number))
                      .as(line)
                      .isEqualTo(number));
    }
  }

  @Test
  void tellsOfEveryLineOfTheHostAndWhichWayItGoes() throws IOException {
    Map<String, List<String>> lines = table("Lines");
    // The head's own.
    lines.keySet().removeAll(List.of("chain", "jig_home", "jig_far"));

    assertThat(lines.keySet()).containsExactlyInAnyOrderElementsOf(every());
    lines.forEach(
        (line, cells) ->
            assertThat(cells.get(0)).as(line).startsWith(isOutput(line) ? "out" : "in"));
  }

  @ParameterizedTest
  @MethodSource("kinds")
  void isRefusedWithoutAnyOfItsLinesButLampsBuzzerAndASeatWithNoJig(String kind)
      throws IOException {
    for (String line : pins(kind).keySet()) {
      String without = real(kind).replaceFirst("(?m)^" + line + " = \\d+\n", "");
      assertThat(without).isNotEqualTo(real(kind));
      boolean provesAJig = line.equals("work_seat") && kind.contains("jig");
      if (MAY_BE_LEFT_OUT.contains(line) && !provesAJig) {
        assertThat(rig(without).pins()).doesNotContainKey(line);
      } else {
        assertThat(problems(without)).singleElement().asString().contains("'" + line + "'");
      }
    }
  }

  @ParameterizedTest
  @MethodSource("kinds")
  void isRefusedWithALineThatItsKindDoesNotHave(String kind) throws IOException {
    List<String> others =
        every().stream()
            .filter(line -> !pins(kind).containsKey(line) && !MAY_BE_LEFT_OUT.contains(line))
            .toList();
    assertThat(others).isNotEmpty();
    for (String line : others) {
      assertThat(problems(real(kind) + line + " = 21\n"))
          .as(line)
          .isNotEmpty()
          .allSatisfy(problem -> assertThat(problem).contains("'" + line + "'"));
    }
  }

  private static List<String> every() {
    return Stream.<Enum<?>>concat(
            Arrays.stream(InputLine.values()), Arrays.stream(OutputLine.values()))
        .map(line -> line.name().toLowerCase(Locale.ROOT))
        .toList();
  }

  private static boolean isOutput(String line) {
    return Arrays.stream(OutputLine.values())
        .anyMatch(output -> output.name().toLowerCase(Locale.ROOT).equals(line));
  }

  /** The cells behind each line's name in the first table under this title. */
  private static Map<String, List<String>> table(String title) throws IOException {
    String notes = Files.readString(ROOT.resolve("hardware-notes/wiring.md"));
    String part = notes.substring(notes.indexOf("\n## " + title + "\n") + 4).split("\n## ", 2)[0];
    Map<String, List<String>> rows = new TreeMap<>();
    for (String row : part.lines().filter(line -> line.startsWith("| `")).toList()) {
      List<String> cells =
          Arrays.stream(row.substring(1).split("\\|", -1)).map(String::strip).toList();
      for (String line : named(cells.get(0))) {
        rows.put(line, cells.subList(1, cells.size()));
      }
    }
    return rows;
  }

  /** The lines in a cell; "`a_1` to `a_8`" are all eight. */
  private static List<String> named(String cell) {
    List<String> names =
        Pattern.compile("`(\\w+)`").matcher(cell).results().map(name -> name.group(1)).toList();
    Matcher range = Pattern.compile("`(\\w+_)1` to `\\w+_(\\d)`").matcher(cell);
    if (!range.find()) {
      return names;
    }
    Stream<String> between =
        Stream.iterate(1, k -> k <= Integer.parseInt(range.group(2)), k -> k + 1)
            .map(k -> range.group(1) + k);
    return Stream.concat(names.stream(), between).distinct().collect(Collectors.toList());
  }
}
