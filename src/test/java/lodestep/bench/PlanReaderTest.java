package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.dial.Drop;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;
import lodestep.dial.Tolerance;
import lodestep.magnet.Shape;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Plans that are accepted, and how they are understood. */
class PlanReaderTest {

  private static final String HEADINGS =
      "name,set,alloy,shape,size,nest,pole up,target,tolerance,count\n";

  private static Plan plan(String text) {
    return new PlanReader(BenchRigs.rules())
        .read("test", text)
        .match(plan -> plan, refused -> fail(refused.written()));
  }

  private static Plan fail(List<String> errors) {
    throw new AssertionError(String.join("\n", errors));
  }

  private static PlanRow row(String row) {
    List<PlanRow> rows = plan(HEADINGS + row + "\n").rows();
    assertThat(rows).hasSize(1);
    return rows.get(0);
  }

  private static PlanRow rodWith(String pole, String target, String tolerance) {
    return row("a,,alnico 5,rod,4.9 x 16.5 mm,," + pole + "," + target + "," + tolerance + ",");
  }

  @Test
  void readsEveryColumnOfARow() {
    PlanRow row = row("a1,first set,alnico 5,rod,4.9 x 16.5 mm,rod nest,south,620 G,9 G,3");

    assertThat(row.line()).isEqualTo(2);
    assertThat(row.name()).isEqualTo("a1");
    assertThat(row.set()).contains("first set");
    assertThat(row.alloy().name()).isEqualTo("alnico 5");
    assertThat(row.shape().words()).isEqualTo("rod 4.90 x 16.50 mm");
    assertThat(row.nest()).isEqualTo(BenchRigs.ROD);
    assertThat(row.poleUp()).isEqualTo(PoleUp.SOUTH);
    assertThat(row.count()).isEqualTo(3);
    Task.ToLevel task = (Task.ToLevel) row.task();
    assertThat(task.target().gauss()).isCloseTo(-620, within(1e-9));
    assertThat(task.tolerance().gauss()).isCloseTo(9, within(1e-9));
  }

  @Test
  void takesColumnsInAnyOrderAndSpelling() {
    Plan plan =
        plan(
            """
            Tolerance,POLE-UP,target,size,shape,Alloy,name
            9 G,north,62 mT,4.9 x 16.5 mm,rod,Alnico5,a
            """);

    PlanRow row = plan.rows().get(0);
    assertThat(row.name()).isEqualTo("a");
    assertThat(row.count()).isEqualTo(1);
    assertThat(row.set()).isEqualTo(Optional.empty());
    assertThat(((Task.ToLevel) row.task()).target().gauss()).isCloseTo(620, within(1e-9));
  }

  @Test
  void takesTheSpreadOfASetFromAnyOfItsRows() {
    Plan plan =
        plan(
            """
            name,set,spread,alloy,shape,size,pole up,target,tolerance
            a,pair,1.5 %,A5,rod,4.9 x 16.5 mm,north,620 G,9 G
            b,pair,,A5,rod,4.9 x 16.5 mm,north,610 G,9 G
            c,,,A5,rod,4.9 x 16.5 mm,north,610 G,9 G
            """);

    assertThat(plan.rows().get(0).spread()).contains(0.015);
    assertThat(plan.rows().get(1).spread()).isEmpty();
    assertThat(PlanDoubts.of(plan, BenchRigs.rules().rig()))
        .singleElement()
        .asString()
        .startsWith("line 3, b: ")
        .contains("pair may lie 3.0 % apart", "its spread is 1.5 %", "with 4.5 G each way");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "a,,1 %,620 G,9 G|names no set",
        "a,pair,1,620 G,9 G|'1' is no spread; write it in per cent, like 1.5 %",
        "a,pair,30 %,620 G,9 G|20 % at most",
        "a,pair,0 %,620 G,9 G|more than 0 %",
        "a,pair,1 %,down 15 %,9 G|matched by their levels",
        "a,pair,2 %,620 G,9 G|has a spread of 1 % in line 2 and of 2 % here"
      })
  void refusesASpreadThatCannotBe(String cells, String why) {
    String[] cell = cells.split(",", -1);
    String form = "%s,%s,%s,A5,rod,4.9 x 16.5 mm,north,%s,%s\n";
    String text =
        "name,set,spread,alloy,shape,size,pole up,target,tolerance\n"
            + String.format(Locale.ROOT, form, "z", "pair", "1 %", "620 G", "9 G")
            + String.format(Locale.ROOT, form, cell[0], cell[1], cell[2], cell[3], cell[4]);

    List<String> errors =
        new PlanReader(BenchRigs.rules())
            .read("test", text)
            .match(plan -> List.<String>of(), PlanReading.Refused::written);

    assertThat(errors).singleElement().asString().contains("line 3", "(spread)", why);
  }

  @Test
  void keepsTheTextAndTheHashOfItsBytes() {
    String text = "\uFEFF" + HEADINGS + "\u00e9,,A5,rod,4.9 x 16.5 mm,,north,620 G,9 G,\r\n";
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);

    Plan plan =
        new PlanReader(BenchRigs.rules())
            .read("test", bytes)
            .match(good -> good, refused -> fail(refused.written()));

    assertThat(plan.text()).isEqualTo(text);
    assertThat(plan.text().getBytes(StandardCharsets.UTF_8)).isEqualTo(bytes);
    assertThat(plan.sha256()).isEqualTo(PlanReader.sha256(bytes));
    assertThat(plan(text)).isEqualTo(plan);
  }

  @Test
  void hashesBySha256() {
    // FIPS 180-4, SHA-256 example of NIST: the message "abc".
    assertThat(PlanReader.sha256("abc".getBytes(StandardCharsets.US_ASCII)))
        .isEqualTo("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  }

  @Test
  void numbersTheMagnetsOfARowInOrder() {
    Plan plan =
        plan(
            HEADINGS
                + "a,one,A5,rod,4.9 x 16.5 mm,,north,620 G,9 G,2\n"
                + "b,,A5,rod,4.9 x 16.5 mm,,north,620 G,9 G,1\n");

    assertThat(plan.magnets().stream().map(PlannedMagnet::name)).containsExactly("a.1", "a.2", "b");
    assertThat(plan.magnets().stream().map(PlannedMagnet::ordinal)).containsExactly(1, 2, 1);
    assertThat(plan.magnets().get(0).set()).contains("one");
    assertThat(plan.magnets().get(2).row()).isEqualTo(plan.rows().get(1));
    assertThatThrownBy(() -> new PlannedMagnet(plan.rows().get(0), 3))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("'a' has 2 magnets");
  }

  @Test
  void takesALineBreakInACellAsASpace() {
    PlanRow row = row("\"left\r\nhand\",,\"alnico\n5\",rod,4.9 x 16.5 mm,,north,620\u00a0G,9 G,");

    assertThat(row.name()).isEqualTo("left hand");
    assertThat(row.alloy().name()).isEqualTo("alnico 5");
  }

  @ParameterizedTest
  @CsvSource({
    "north, 620 G, 620",
    "N, +62 mT, 620",
    "south, 620 G, -620",
    "South, -620 G, -620",
    "s, \u22120.062 T, -620"
  })
  void signsTheTargetByThePole(String pole, String target, double expectedGauss) {
    Task.ToLevel task = (Task.ToLevel) rodWith(pole, target, "9 G").task();

    assertThat(task.target().gauss()).isCloseTo(expectedGauss, within(1e-9));
  }

  @ParameterizedTest
  @CsvSource({"9 G, 9", "0.9 mT, 9", "\u00b1 9 G, 9", "+/-9 G, 9", "2.5 %, 15.5", "2.5%, 15.5"})
  void readsTheToleranceInFluxOrPerCentOfTheTarget(String tolerance, double expectedGauss) {
    Task.ToLevel task = (Task.ToLevel) rodWith("south", "620 G", tolerance).task();

    assertThat(task.tolerance().gauss()).isCloseTo(expectedGauss, within(1e-9));
  }

  @Test
  void readsDownByAnAmount() {
    Task task = rodWith("north", "down by 30 G", "6 G").task();

    assertThat(task)
        .isEqualTo(
            new Task.DownBy(
                new Drop.By(FluxDensity.parse("30 G")),
                new Tolerance.Fixed(FluxDensity.parse("6 G"))));
    assertThat(task.word()).isEqualTo("down-by");
    assertThat(task.targetWords()).isEqualTo("down 30.0 G");
  }

  @ParameterizedTest
  @ValueSource(strings = {"down 15 %", "DOWN 15%", "down by 15 per cent"})
  void readsDownByAPart(String target) {
    Task task = rodWith("north", target, "1.5 %").task();

    assertThat(task)
        .isEqualTo(new Task.DownBy(new Drop.ByPart(0.15), new Tolerance.OfTarget(0.015)));
    assertThat(task.targetWords()).isEqualTo("down 15 %");
    assertThat(task.toleranceWords()).isEqualTo("1.5 %");
  }

  @ParameterizedTest
  @ValueSource(strings = {"demagnetise", "Demagnetize"})
  void needsNoPoleAndTakesTheUsualLimitWhenDemagnetising(String target) {
    Task task = rodWith("", target, "").task();

    assertThat(task).isEqualTo(new Task.Demagnetise(Task.Demagnetise.UNCHARGED));
    assertThat(rodWith("south", target, "4 G").task())
        .isEqualTo(new Task.Demagnetise(FluxDensity.parse("4 G")));
  }

  @ParameterizedTest
  @ValueSource(strings = {"full charge", "Full  Charge"})
  void takesAFullChargeWithItsPoleAndNoTolerance(String target) {
    assertThat(rodWith("south", target, "").task()).isEqualTo(new Task.FullCharge());
  }

  @Test
  void readsTheSizesOfARing() {
    Shape ring = ShapeWords.read("Ring").sized("1.75 cm x 7.2 x 9.4mm");

    assertThat(ring.words()).isEqualTo("ring 17.50 x 7.20 x 9.40 mm");
    assertThatThrownBy(() -> ShapeWords.read("ring").sized("7.2 x 17.5 x 9.4 mm"))
        .hasMessageContaining("inside diameter is smaller than its outside one");
    assertThatThrownBy(() -> ShapeWords.read("ring").sized("17.5 x 9.4 mm"))
        .hasMessage(
            "'17.5 x 9.4 mm' is no size of a ring; write outside diameter x inside diameter x"
                + " length, like 17.5 x 7.2 x 9.4 mm");
  }

  @ParameterizedTest
  @CsvSource({
    "4.9 x 16.5 mm, 4.9, 16.5",
    "4.9mm x 1.65 cm, 4.9, 16.5",
    "4.9\u00d716.5mm, 4.9, 16.5",
    "0.2 in X 0.65 in, 5.08, 16.51",
    "3/16 x 5/8 in, 4.7625, 15.875", // exact: 1 in = 25.4 mm (ISO 80000-3)
    "0.2\" x 0.65\", 5.08, 16.51"
  })
  void readsTheSizesOfARod(String size, double diameterMm, double lengthMm) {
    PlanRow row = row("a,,A5,rod," + size + ",,north,420 G,9 G,");

    Shape.Rod rod = (Shape.Rod) row.shape();
    assertThat(rod.diameter().mm()).isCloseTo(diameterMm, within(1e-9));
    assertThat(rod.length().mm()).isCloseTo(lengthMm, within(1e-9));
  }

  @ParameterizedTest
  @CsvSource({
    "bar, 240 G, THROUGH_WIDTH",
    "Bar Through Width, 240 G, THROUGH_WIDTH",
    "bar through thickness, 90 G, THROUGH_THICKNESS",
    "bar along length, 500 G, ALONG_LENGTH"
  })
  void readsTheAxisOfABar(String shape, String target, Shape.Axis axis) {
    PlanRow row = row("a,,A5," + shape + ",58 x 11.5 x 3.4 mm,,north," + target + ",9 G,");

    assertThat(row.shape().words())
        .isEqualTo(
            new Shape.Bar(Length.ofMm(58), Length.ofMm(11.5), Length.ofMm(3.4), axis).words());
    assertThat(row.nest()).isEqualTo(BenchRigs.BAR);
  }

  @Test
  void takesTheNestNamedWhereSeveralFit() {
    PlanRules rules =
        PlanRules.of(
            BenchRigs.with(BenchRigs.ROD, BenchRigs.ROD_CLOSE, BenchRigs.BAR), BenchRigs::tightest);

    Plan plan =
        new PlanReader(rules)
            .read("test", HEADINGS + "a,,A5,rod,4.9 x 16.5 mm,Close Nest,north,620 G,9 G,\n")
            .match(good -> good, refused -> fail(refused.written()));

    assertThat(plan.rows().get(0).nest()).isEqualTo(BenchRigs.ROD_CLOSE);
  }

  @Test
  void keepsTheSuppliersLot() {
    Plan plan =
        plan(
            HEADINGS.strip()
                + ",lot\n"
                + "a,,A5,rod,4.9 x 16.5 mm,,north,620 G,9 G,2,spring 7\n"
                + "b,,A5,rod,4.9 x 16.5 mm,,north,620 G,9 G,1,\n");

    assertThat(plan.rows())
        .extracting(PlanRow::lot)
        .containsExactly(Optional.of("spring 7"), Optional.empty());
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 500})
  void takesCountsUpToTheirLimits(int count) {
    assertThat(row("a,,A5,rod,4.9 x 16.5 mm,,north,620 G,9 G," + count).count()).isEqualTo(count);
  }

  @Test
  void takesATargetJustBelowWhatTheMagnetTakesWithItsMargin() {
    PlanRules rules =
        new PlanRules(
            BenchRigs.with(BenchRigs.ROD),
            BenchRigs.rules().alloys(),
            (nest, level) -> FluxDensity.ofGauss(2),
            HandGauges.NONE);
    PlanReader reader = new PlanReader(rules);
    String row = "a,,A5,rod,4.9 x 16.5 mm,,south,%.1f G,%s,\n";
    double full = row("a,,A5,rod,4.9 x 16.5 mm,,south,500 G,9 G,").fullCharge().gauss();

    assertThat(reader.read("t", HEADINGS + asked(row, 1.05 * full - 0.1, "2.01 G")))
        .isInstanceOf(Plan.class);
    assertThat(reader.read("t", HEADINGS + asked(row, 1.05 * full + 0.1, "2.01 G")))
        .isInstanceOf(PlanReading.Refused.class);
    assertThat(reader.read("t", HEADINGS + asked(row, 1.05 * full - 0.1, "1.99 G")))
        .isInstanceOf(PlanReading.Refused.class);
  }

  private static String asked(String row, double gauss, String tolerance) {
    return String.format(Locale.ROOT, row, gauss, tolerance);
  }
}
