package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import lodestep.config.ChargeBy;
import lodestep.config.JigConfig;
import lodestep.config.KnockDownBy;
import lodestep.config.Sources;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: nothing wrong with a plan passes, and each thing wrong is told where it is and what to do.
 * Method: one good row, in which one cell at a time is made bad.
 */
class PlanRefusalTest {

  private static final String HEADINGS =
      "name,set,alloy,shape,size,nest,pole up,target,tolerance,count\n";

  private static final List<String> COLUMNS = List.of(HEADINGS.strip().split(",", -1));

  private static final List<String> ROD =
      List.of("a", "", "alnico 5", "rod", "4.9 x 16.5 mm", "", "north", "620 G", "9 G", "1");

  private static final String GOOD = String.join(",", ROD) + "\n";

  private static List<PlanError> errors(PlanRules rules, String text) {
    return new PlanReader(rules)
        .read("autumn", text)
        .match(
            plan -> {
              throw new AssertionError("accepted: " + text);
            },
            PlanReading.Refused::errors);
  }

  private static List<PlanError> errors(String text) {
    return errors(BenchRigs.rules(), text);
  }

  private static PlanError only(List<PlanError> errors) {
    assertThat(errors).hasSize(1);
    return errors.get(0);
  }

  private static PlanError onlyAt(PlanRules rules, String column, String cell) {
    PlanError error = only(errors(rules, HEADINGS + rodWith(column, cell)));
    assertThat(error.line()).isEqualTo(2);
    assertThat(error.columnName()).isEqualTo(column);
    assertThat(error.column()).isEqualTo(COLUMNS.indexOf(column) + 1);
    return error;
  }

  private static PlanError onlyAt(String column, String cell) {
    return onlyAt(BenchRigs.rules(), column, cell);
  }

  private static String rodWith(String column, String cell) {
    List<String> cells = new ArrayList<>(ROD);
    cells.set(COLUMNS.indexOf(column), '"' + cell.replace("\"", "\"\"") + '"');
    return String.join(",", cells) + "\n";
  }

  @Test
  void acceptsTheRowTheOthersAreMadeFrom() {
    assertThat(new PlanReader(BenchRigs.rules()).read("autumn", HEADINGS + GOOD))
        .isInstanceOf(Plan.class);
  }

  @ParameterizedTest
  @ValueSource(strings = {"name", "alloy", "shape", "size", "pole up", "target", "tolerance"})
  void refusesARequiredCellLeftEmpty(String column) {
    assertThat(onlyAt(column, " ").sentence()).contains("the " + column + " is left empty");
  }

  @Test
  void refusesThePoleThatAJigCannotKnockDown() {
    JigConfig jig =
        new JigConfig(
            new JigConfig.Screw(Length.ofMm(2), 1600, Length.ofMm(78), Length.ofMm(2), 8),
            new JigConfig.Opposing(Length.ofMm(22), Length.ofMm(14), new FluxDensity(1.26), false),
            Length.ofMm(92),
            Length.ofMm(3),
            new Length(6),
            Temperature.ofDegC(60));
    PlanRules plain = BenchRigs.rules();
    Sources sources = new Sources(ChargeBy.COIL, KnockDownBy.JIG, List.of(jig));
    PlanRules rules =
        new PlanRules(plain.rig().with(sources), plain.alloys(), plain.tightest(), HandGauges.NONE);

    assertThat(new PlanReader(rules).read("autumn", HEADINGS + rodWith("pole up", "north")))
        .isInstanceOf(Plan.class);
    assertThat(onlyAt(rules, "pole up", "south").sentence())
        .contains("north up only", "magnet_faces_work");
  }

  @ParameterizedTest
  @CsvSource({"alnico 66, alnico 6", "alnco 2, alnico 2", "alnico 8 x, alnico 8"})
  void refusesAnUnknownAlloyAndOffersTheNearest(String typed, String nearest) {
    assertThat(onlyAt("alloy", typed).sentence())
        .contains("'" + typed + "'", "did you mean '" + nearest + "'?", "alnico 3");
  }

  @ParameterizedTest
  @ValueSource(strings = {"samarium", "alnico 7"})
  void offersNoAlloyWhereNoneIsNearOrAllAreEquallyNear(String typed) {
    assertThat(onlyAt("alloy", typed).sentence())
        .contains("known are: alnico 2")
        .doesNotContain("did you mean");
  }

  @Test
  void refusesAnUnknownShape() {
    assertThat(onlyAt("shape", "rode").sentence())
        .contains("did you mean 'rod'?", "bar through thickness");
  }

  @ParameterizedTest
  @CsvSource({
    "0 x 16.5 mm, not above zero",
    "4.9 x -16.5 mm, not above zero",
    "4.9 x 16.5, '''4.9 x 16.5'' has no unit; write diameter'",
    "4.9 mm, 'diameter x length'",
    "4.9 x 16.5 x 3 mm, 'diameter x length'",
    "4.9 x x 16.5 mm, 'diameter x length'",
    "4.9 x 165 furlong, unknown unit",
    "'4,9 x 16,5 mm', has a comma",
    "0.4 x 16.5 mm, 0.50 mm to 200.00 mm",
    "4.9 x 201 mm, 0.50 mm to 200.00 mm"
  })
  void refusesASizeThatCannotBe(String size, String why) {
    assertThat(onlyAt("size", size).sentence()).contains(why);
  }

  @Test
  void refusesSizesOfABarOutOfOrder() {
    String row = "a,,alnico 5,bar,58 x 3.4 x 11.5 mm,,north,300 G,9 G,1\n";

    assertThat(only(errors(HEADINGS + row)).written())
        .startsWith("line 2, column 5 (size): ")
        .contains("58.00 mm x 11.50 mm x 3.40 mm");
  }

  @ParameterizedTest
  @CsvSource({
    "-620 G, north is up",
    "up 20 G, charging is the only way up",
    "Up 5 %, charging is the only way up",
    "down -20 G, not down",
    "down 0 G, not down",
    "down, 'down, but not how far'",
    "down 0 %, not between 0 and 100 %",
    "down 100 %, demagnetise",
    "down 20 quux, unknown unit",
    "0 G, demagnetise",
    "80 %, is no target",
    "demagnetice, did you mean 'demagnetise'?",
    "loud, is no target",
    "620, no unit",
    "'620,5 G', has a comma",
    "1e9 T, out of range",
    "620 g, unknown unit"
  })
  void refusesATargetThatCannotBe(String target, String why) {
    assertThat(onlyAt("target", target).sentence()).contains(why);
  }

  @Test
  void refusesASignThatContradictsSouthUp() {
    String row = GOOD.replace("north,620 G", "south,+620 G");

    assertThat(only(errors(HEADINGS + row)).sentence()).contains("620.0 G", "south is up");
  }

  @ParameterizedTest
  @ValueSource(strings = {"2200 G", "down 2200 G"})
  void refusesATargetAboveWhatTheMagnetTakesAndSaysHowMuchThatIs(String target) {
    PlanError error = only(errors(HEADINGS + rodWith("target", target).replace("9 G", "30 G")));

    assertThat(error.columnName()).isEqualTo("target");
    assertThat(error.sentence())
        .contains("2200.0 G is more", "alnico 5, rod 4.90 x 16.50 mm", "about 808 G", "2.00 mm");
  }

  @Test
  void refusesATargetAboveWhatTheModelOfTheMagnetTakes() {
    PlanError error = only(errors(HEADINGS + GOOD.replace("620 G,9 G", "1900 G,30 G")));

    assertThat(error.columnName()).isEqualTo("target");
    assertThat(error.sentence()).contains("1900.0 G is more than such a magnet takes");
  }

  /** MMPA's saturating field of ceramic is 800 kA/m inside the magnet (from memory). */
  @Test
  void refusesCeramicWithTheFieldItWouldNeed() {
    PlanError error = only(errors(HEADINGS + rodWith("alloy", "ceramic 5")));

    assertThat(error.columnName()).isEqualTo("alloy");
    assertThat(error.sentence())
        .contains("ceramic 5 is too hard to be charged", "a field of about 83", "read and matched");
  }

  @Test
  void refusesATargetBeyondTheGauge() {
    PlanRules rules =
        PlanRules.of(BenchRigs.readingUpTo(0.05), (nest, level) -> FluxDensity.ofGauss(1));

    assertThat(onlyAt(rules, "target", "510 G").sentence()).contains("reads up to 500.0 G");
  }

  @ParameterizedTest
  @CsvSource({
    "0 G, not above zero",
    "-9 G, not above zero",
    "0 %, not between 0 and 100 %",
    "100 %, not between 0 and 100 %",
    "620 G, as large as the target",
    "700 G, as large as the target",
    "9, no unit",
    "narrow, not a number"
  })
  void refusesAToleranceThatCannotBe(String tolerance, String why) {
    assertThat(onlyAt("tolerance", tolerance).sentence()).contains(why);
  }

  @ParameterizedTest
  @ValueSource(strings = {"5 G", "0.8 %"})
  void refusesAToleranceTighterThanTheGaugeCanTell(String tolerance) {
    // The gauge of these tests tells 2 G and half a per cent: 5.1 G at 620 G.
    assertThat(onlyAt("tolerance", tolerance).sentence())
        .contains("tighter than this gauge can tell at 620 G", "ask for 5.1 G or more");
  }

  @ParameterizedTest
  @CsvSource({
    "down 30 G, 1.9 G, tighter than this gauge can tell at 0 G",
    "down 30 G, 30 G, as large as the way down 30.0 G",
    "demagnetise, 1.9 G, tighter than this gauge can tell at 0 G",
    "demagnetise, 2 %, a part of nothing",
    "full charge, 9 G, a full charge has no tolerance"
  })
  void refusesToleranceThatDoesNotGoWithItsTarget(String target, String tolerance, String why) {
    String row = GOOD.replace("620 G,9 G", target + "," + tolerance);
    PlanError error = only(errors(HEADINGS + row));

    assertThat(error.columnName()).isEqualTo("tolerance");
    assertThat(error.sentence()).contains(why);
  }

  @ParameterizedTest
  @ValueSource(strings = {"0", "-1", "501", "1.5", "two", "99999999999"})
  void refusesACountOutOfRange(String count) {
    assertThat(onlyAt("count", count).sentence()).contains("from 1 to 500");
  }

  @Test
  void refusesAPoleThatIsNone() {
    assertThat(onlyAt("pole up", "up").sentence()).contains("north or south");
  }

  @Test
  void refusesNamesThatDoNotPrint() {
    assertThat(onlyAt("name", "a\u0007b").sentence()).contains("cannot be printed");
    assertThat(onlyAt("name", "a".repeat(41)).sentence()).contains("41 characters");
    assertThat(onlyAt("set", "s".repeat(41)).sentence()).contains("the set has 41 characters");
  }

  @Test
  void refusesANestThatIsNotThere() {
    assertThat(onlyAt("nest", "rod nset").sentence())
        .contains("no nest 'rod nset'", "did you mean 'rod nest'?");
  }

  @Test
  void refusesANestForAnotherShape() {
    assertThat(onlyAt("nest", "bar nest").sentence()).contains("for another shape", "rod nest");
  }

  @Test
  void refusesAnEmptyNestWhereSeveralFit() {
    PlanRules rules =
        PlanRules.of(BenchRigs.with(BenchRigs.ROD, BenchRigs.ROD_CLOSE), BenchRigs::tightest);

    assertThat(onlyAt(rules, "nest", "").sentence()).contains("rod nest, close nest");
  }

  @Test
  void refusesAnEmptyNestInAPlanWithoutThatColumn() {
    PlanRules rules =
        PlanRules.of(BenchRigs.with(BenchRigs.ROD, BenchRigs.ROD_CLOSE), BenchRigs::tightest);
    String text =
        "name,alloy,shape,size,pole up,target,tolerance\na,A5,rod,4.9 x 16.5 mm,north,620 G,9 G\n";

    assertThat(only(errors(rules, text)).written()).startsWith("line 2: the nest is left empty");
  }

  @Test
  void refusesAShapeThisRigHasNoNestFor() {
    PlanRules rules = PlanRules.of(BenchRigs.with(BenchRigs.BAR), BenchRigs::tightest);

    assertThat(onlyAt(rules, "shape", "rod").sentence()).contains("no nest for a rod");
  }

  @Test
  void refusesANameTakenByAnEarlierLine() {
    String text = HEADINGS + GOOD + GOOD.replaceFirst("a", "b") + GOOD.replaceFirst("a", "A");

    assertThat(only(errors(text)).written())
        .startsWith("line 4, column 1 (name): the name 'A' is taken by line 2");
  }

  @Test
  void refusesANameThatANumberedMagnetHas() {
    String text = HEADINGS + GOOD.replace(",1\n", ",3\n") + GOOD.replaceFirst("a", "a.2");

    assertThat(only(errors(text)).sentence()).contains("'a.2' is taken by line 2");
  }
}
