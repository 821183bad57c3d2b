package lodestep.config;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: a sound file becomes exactly its rig, and every kind of mistake is refused with the place.
 * Method: the shipped file is taken as text and one thing at a time is spoilt in it.
 */
class RigFileTest {

  private static final String FILE = "rig.toml";

  @Test
  void readsTheShippedFileWithTheReferenceFigures() throws IOException {
    RigConfig rig = rig(shipped());

    assertThat(rig.name()).isEqualTo("reference rig");
    assertThat(rig.kind()).isEqualTo(RigKind.VIRTUAL);
    assertThat(rig.head()).isEqualTo(new HeadConfig.VirtualHead());
    assertThat(rig.bank())
        .isEqualTo(new BankConfig(0.022, new Voltage(48), new Voltage(50), 47.0, 2000.0, 22.0));
    assertThat(rig.coils()).extracting(CoilConfig::name).containsExactly("rod coil", "slot coil");
    assertThat(rig.coil("rod coil").fieldPerAmp()).isEqualTo(7000);
    assertThat(rig.coil("rod coil").inductanceHenries()).isCloseTo(0.22e-3, within(1e-12));
    assertThat(rig.coil("slot coil").seriesOhms()).isEqualTo(3.3);
    assertThat(rig.coil("slot coil").heatJoulesPerKelvin()).isEqualTo(120);
    assertThat(rig.coil("slot coil").temperatureMax()).isEqualTo(Temperature.ofDegC(70));
    assertThat(rig.nests())
        .containsExactly(
            new NestConfig("rod nest", "rod", Length.ofMm(2), "rod coil"),
            new NestConfig("bar nest", "bar", Length.ofMm(2), "slot coil"));
    assertThat(rig.gauge().with(List.of()))
        .isEqualTo(new GaugeConfig(500_000, new FluxDensity(0.26)));
    assertThat(rig.gauge().references())
        .extracting(ReferenceConfig::name)
        .containsExactly("house rod", "house bar");
    assertThat(rig.limits()).isEqualTo(Limits.standard());
    assertThat(rig.pins()).isEmpty();
  }

  /** Only the last digit of a figure may differ: "0.22 mH" is read as 0.22 times a thousandth. */
  @Test
  void readsTheShippedFileAsTheReferenceRig() throws IOException {
    assertThat(rig(shipped()))
        .usingRecursiveComparison()
        .withComparatorForType(RigFileTest::nearly, Double.class)
        .isEqualTo(ReferenceRig.virtual().readFrom(shipped()));
  }

  private static int nearly(double left, double right) {
    return Math.abs(left - right) <= 1e-12 * Math.abs(right) ? 0 : Double.compare(left, right);
  }

  @Test
  void isCarriedByTheProgramAsItsDefault() throws IOException {
    try (var stream = RigFileTest.class.getResourceAsStream("/lodestep/rig-virtual.toml")) {
      assertThat(stream).isNotNull();
      assertThat(new String(stream.readAllBytes(), StandardCharsets.UTF_8)).isEqualTo(shipped());
    }
  }

  @Test
  void readsARealRigWithItsPinsAndHead() throws IOException {
    RigConfig rig = rig(real(pins()));

    assertThat(rig.kind()).isEqualTo(RigKind.REAL);
    assertThat(rig.head()).isEqualTo(new HeadConfig.SerialHead("/dev/serial/by-id/usb-h7", "h7"));
    assertThat(rig.pins())
        .hasSize(PinNames.WITH_BANK.needed().size())
        .containsEntry("bank_fill", 9);
  }

  @Test
  void readsARealRigOfNothingButAHead() throws IOException {
    RigConfig rig = rig(headAlone());

    assertThat(rig.headAlone()).isTrue();
    assertThat(rig.bank()).isEqualTo(BankConfig.NONE);
    assertThat(rig.pins()).isEmpty();
    assertThat(rig.nest("rod nest").coil()).isEmpty();
    assertThat(RigFile.show(rig)).contains("by hand").doesNotContain("null", "bank", "NaN");
    assertThat(ReferenceRig.virtual().headAlone()).isFalse();
  }

  @Test
  void readsAVirtualRigOfNothingButAHead() throws IOException {
    RigConfig rig = rig(headAlone().replace("\"real\"", "\"virtual\""));

    assertThat(rig.headAlone()).isTrue();
    assertThat(rig.kind()).isEqualTo(RigKind.VIRTUAL);
  }

  @Test
  void takesARigWithAnythingToDriveForNoHeadAlone() throws IOException {
    String pins = headAlone() + "[pins]\nbank_fill = 17\n";
    assertThat(RigFile.read(FILE, pins)).isInstanceOf(RigReading.Refusal.class);
    String relays = headAlone() + "[relays]\noperations = 100000\n";
    assertThat(RigFile.read(FILE, relays).toString()).contains("no coil, and so no relays");
  }

  @Test
  void readsSinceWhenTheCapacitorsAreNew() throws IOException {
    String bleed = "bleed_resistor = \"22 Ω\"";
    String told = shipped().replace(bleed, bleed + "\nnew_since = \"2026-11-02\"");
    assertThat(rig(shipped()).bank().newSince()).isEmpty();
    assertThat(rig(told).bank().newSince()).isEqualTo("2026-11-02");
    assertThat(RigFile.show(rig(told))).contains("new since 2026-11-02");
    String wrong = told.replace("\"2026-11-02\"", "\"in spring\"");
    assertThat(RigFile.read(FILE, wrong).toString()).contains("'new_since' must be a day");
  }

  @Test
  void readsHowOftenARelayMayWork() throws IOException {
    String told = shipped().replace("operations = 100000", "operations = 50000");
    assertThat(rig(told).relays()).isEqualTo(new RelayConfig(50_000, ""));
    String since =
        told.replace("operations = 50000", "operations = 50000\nnew_since = \"2026-11-02\"");
    assertThat(rig(since).relays()).isEqualTo(new RelayConfig(50_000, "2026-11-02"));
    assertThat(RigFile.show(rig(since))).contains("50,000 operations", "new since 2026-11-02");
    String wrong = since.replace("2026-11-02", "last autumn");
    assertThat(RigFile.read(FILE, wrong).toString()).contains("'new_since' must be a day");
    String unsaid = shipped().replace("[relays]\noperations = 100000\n", "");
    assertThat(rig(unsaid).relays().named()).isFalse();
    assertThat(RigFile.show(rig(unsaid))).contains("is not said");
  }

  private static String headAlone() throws IOException {
    Path folder = Path.of(System.getProperty("lodestep.repository")).resolve("firmware-host/board");
    return Files.readString(folder.resolve("rig-real-head.toml"));
  }

  @Test
  void letsAVirtualRigHaveItsHeadOnASerialLine() throws IOException {
    RigConfig rig = rig(shipped() + "[head]\nport = \"/run/pair/host side\"\n");

    assertThat(rig.head()).isEqualTo(new HeadConfig.SerialHead("/run/pair/host side", ""));
  }

  @Test
  void readsWindowsLineEndsAndAByteOrderMark() throws IOException {
    String text = "\ufeff" + shipped().replace("\n", "\r\n");

    RigConfig rig = rig(text);

    assertThat(rig).isEqualTo(rig(shipped()).readFrom(text));
  }

  @Test
  void readsEveryExampleForTheBoard() throws IOException {
    Path folder = Path.of(System.getProperty("lodestep.repository")).resolve("firmware-host/board");
    try (Stream<Path> files = Files.list(folder)) {
      List<Path> examples = files.filter(file -> file.toString().endsWith(".toml")).toList();
      assertThat(examples).hasSizeGreaterThan(1);
      for (Path example : examples) {
        assertThat(rig(Files.readString(example)).nests()).as(example.toString()).isNotEmpty();
      }
    }
  }

  @Test
  void saysWhereTheTomlBreaks() throws IOException {
    assertThat(problems(shipped().replace("[bank]", "[bank")))
        .singleElement()
        .asString()
        .startsWith("rig.toml:" + lineOf(shipped(), "[bank]") + ":")
        .contains("this is not TOML");
  }

  @Test
  void refusesADoubledKeyAsTomlDoes() throws IOException {
    assertThat(problems(shipped() + "range = \"200 mT\"\n"))
        .singleElement()
        .asString()
        .contains("range");
  }

  @ParameterizedTest
  @ValueSource(strings = {"schema = 2", "schema = 0", "schema = \"1\"", "# none"})
  void refusesAnUnknownSchemaAndLooksNoFurther(String schema) throws IOException {
    assertThat(problems(shipped().replace("schema = 1", schema).replace("22 mF", "22 mX")))
        .singleElement()
        .asString()
        .contains("schema");
  }

  @Test
  void offersTheNearestKeyForAnUnknownOne() throws IOException {
    String text =
        shipped()
            .replace("stand_off = \"2.0 mm\"\ncoil = \"rod", "stand_of = \"2.0 mm\"\ncoil = \"rod");

    assertThat(problems(text))
        .anySatisfy(
            problem ->
                assertThat(problem)
                    .startsWith("rig.toml:" + lineOf(text, "stand_of =") + ":1: ")
                    .endsWith("unknown key 'stand_of' in [[nest]]; did you mean 'stand_off'?"))
        .anySatisfy(problem -> assertThat(problem).contains("[[nest]] has no 'stand_off'"))
        .hasSize(2);
  }

  @Test
  void offersTheNearestSectionForAMisspeltOne() throws IOException {
    assertThat(problems(shipped().replace("[gauge]", "[guage]")))
        .anySatisfy(
            problem -> assertThat(problem).contains("unknown key 'guage'").contains("mean 'gauge'"))
        .anySatisfy(problem -> assertThat(problem).contains("section [gauge] is missing"));
  }

  @Test
  void collectsAllMistakesInTheOrderOfTheFile() throws IOException {
    List<String> problems =
        problems(
            shipped()
                .replace("22 mF", "22 mX")
                .replace("0.30 mH", "0.30")
                .replace("\"260 mT\"", "260"));

    assertThat(problems).hasSize(3);
    assertThat(problems.get(0)).contains("'capacitance'").contains("unknown unit 'mX'");
    assertThat(problems.get(1)).contains("'inductance'").contains("has no unit");
    assertThat(problems.get(2)).contains("'range' must be text in quotes");
  }

  @Test
  void refusesAHeadWhosePathIsNotAbsolute() throws IOException {
    assertThat(problems(shipped() + "[head]\nport = \"ttyX0\"\n"))
        .singleElement()
        .asString()
        .contains("absolute path");
  }

  @Test
  void refusesASerialNumberThatNoHeadCanTell() throws IOException {
    String head = "[head]\nport = \"/dev/ttyX0\"\nserial_number = ";

    assertThat(problems(shipped() + head + "\"seventeen-letters\"\n"))
        .singleElement()
        .asString()
        .contains("'serial_number' must have 1 to 16 printable characters");
    assertThat(problems(shipped() + head + "\"two words\"\n")).hasSize(1);
    assertThat(rig(shipped() + head + "\"sixteen-letters_\"\n").head())
        .isEqualTo(new HeadConfig.SerialHead("/dev/ttyX0", "sixteen-letters_"));
  }

  @Test
  void refusesANestWithoutItsCoil() throws IOException {
    assertThat(problems(shipped().replace("coil = \"slot coil\"", "coil = \"slott coil\"")))
        .singleElement()
        .asString()
        .contains("there is no coil 'slott coil'")
        .endsWith("did you mean 'slot coil'?");
  }

  @Test
  void refusesTwoCoilsOrNestsOfOneName() throws IOException {
    String text =
        shipped()
            .replace("name = \"slot coil\"", "name = \"rod coil\"")
            .replace("coil = \"slot coil\"", "coil = \"rod coil\"")
            .replace("name = \"bar nest\"", "name = \"rod nest\"");

    assertThat(problems(text))
        .hasSize(2)
        .anySatisfy(problem -> assertThat(problem).contains("already a coil 'rod coil'"))
        .anySatisfy(problem -> assertThat(problem).contains("already a nest 'rod nest'"));
  }

  @Test
  void refusesAShapeThatIsNeitherRodNorBar() throws IOException {
    assertThat(problems(shipped().replace("shape = \"bar\"", "shape = \"baar\"")))
        .singleElement()
        .asString()
        .contains("did you mean 'bar'?");
  }

  @ParameterizedTest
  @ValueSource(strings = {"0 mm", "-2 mm", "21 mm"})
  void refusesAStandOffOutsideTheNest(String standOff) throws IOException {
    assertThat(problems(shipped().replaceFirst("\"2.0 mm\"", "\"" + standOff + "\"")))
        .singleElement()
        .asString()
        .contains("'stand_off' must be greater than zero and at most");
  }

  @ParameterizedTest
  @ValueSource(strings = {"", " bench", "a\\tb", "12345678901234567890123456789012345678901"})
  void refusesANameThatPrintsBadly(String name) throws IOException {
    assertThat(problems(shipped().replace("\"reference rig\"", "\"" + name + "\"")))
        .singleElement()
        .asString()
        .contains("1 to 40 printable characters");
  }

  @ParameterizedTest
  @ValueSource(strings = {"7000 A/m", "7000 per A", "0 A/m per A", "-1 A/m per A"})
  void refusesAFieldThatIsNotPerAmpere(String field) throws IOException {
    assertThat(problems(shipped().replace("7000 A/m per A", field)))
        .singleElement()
        .asString()
        .contains("'field'");
  }

  @ParameterizedTest
  @ValueSource(strings = {"39.9 °C", "120.1 °C"})
  void refusesACoilTemperatureOutsideItsRange(String temperature) throws IOException {
    assertThat(problems(shipped().replaceFirst("70 °C", temperature)))
        .singleElement()
        .asString()
        .contains("'highest_temperature' must be 40.0 °C to 120.0 °C");
  }

  @ParameterizedTest
  @ValueSource(strings = {"40 °C", "120 °C"})
  void takesACoilTemperatureAtEitherEndOfItsRange(String temperature) throws IOException {
    assertThat(rig(shipped().replaceFirst("70 °C", temperature)).coils()).hasSize(2);
  }

  @Test
  void showsTheRigInColumnsThatLineUp() throws IOException {
    String shown = RigFile.show(rig(real(pins())));

    assertThat(shown).contains("rig     reference rig, real\n").contains("serial number h7");
    assertThat(shown).contains("reaches 48.85 V").contains("time constant 44 s");
    assertThat(shown.lines()).noneMatch(line -> line.endsWith(" "));
    List<String> coils = shown.lines().filter(line -> line.contains(" mH  ")).toList();
    assertThat(coils).hasSize(2);
    assertThat(coils.stream().map(line -> line.indexOf("mH")).distinct()).hasSize(1);
    assertThat(shown).contains("bank_fill        9\n");
  }

  static String real(String pins) throws IOException {
    return shipped().replace("\"virtual\"", "\"real\"")
        + "[head]\nport = \"/dev/serial/by-id/usb-h7\"\nserial_number = \"h7\"\n[pins]\n"
        + pins;
  }

  /** Lines of the header that take any line of the rig, in their order. */
  private static final List<Integer> FREE_PINS =
      List.of(9, 10, 11, 12, 13, 16, 17, 18, 19, 20, 21, 22, 23, 24);

  /** All needed lines on free pins, in the order of the wiring notes. */
  static String pins() {
    return PinNames.WITH_BANK.needed().stream()
        .map(name -> name + " = " + FREE_PINS.get(PinNames.WITH_BANK.needed().indexOf(name)) + "\n")
        .collect(Collectors.joining());
  }

  static String shipped() throws IOException {
    Path repository = Path.of(System.getProperty("lodestep.repository"));
    return Files.readString(repository.resolve("firmware-host/board/rig-virtual.toml"));
  }

  static RigConfig rig(String text) {
    return RigFile.read(FILE, text)
        .match(
            rig -> rig,
            problems -> {
              throw new AssertionError(problems);
            });
  }

  static List<String> problems(String text) {
    return RigFile.read(FILE, text)
        .match(
            rig -> {
              throw new AssertionError("was taken: " + rig);
            },
            problems -> problems);
  }

  static int lineOf(String text, String start) {
    return (int) text.lines().takeWhile(line -> !line.startsWith(start)).count() + 1;
  }

  private static Offset<Double> within(double tolerance) {
    return Offset.offset(tolerance);
  }
}
