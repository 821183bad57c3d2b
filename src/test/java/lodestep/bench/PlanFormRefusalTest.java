package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.Size;
import net.jqwik.api.constraints.StringLength;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: a text that is no plan, or only partly one, is refused with every error at its place.
 * Method: a good plan, in which the form is spoilt in one way at a time; then any text at all.
 */
class PlanFormRefusalTest {

  private static final String HEADINGS =
      "name,set,alloy,shape,size,nest,pole up,target,tolerance,count\n";

  private static final String GOOD = "a,,alnico 5,rod,4.9 x 16.5 mm,,north,620 G,9 G,1\n";

  private static List<PlanError> errors(String text) {
    return new PlanReader(BenchRigs.rules())
        .read("autumn", text)
        .match(
            plan -> {
              throw new AssertionError("accepted: " + text);
            },
            PlanReading.Refused::errors);
  }

  private static PlanError only(List<PlanError> errors) {
    assertThat(errors).hasSize(1);
    return errors.get(0);
  }

  @Test
  void refusesAnUnknownHeadingAndOffersTheNearest() {
    PlanError error = only(errors(HEADINGS.replace("count", "cuont") + GOOD));

    assertThat(error.written()).startsWith("line 1, column 10 (cuont): ").contains("'count'?");
  }

  @Test
  void refusesAHeadingTwiceOrEmpty() {
    assertThat(only(errors(HEADINGS.replace("nest", "set") + GOOD)).written())
        .startsWith("line 1, column 6 (set): ")
        .contains("twice");
    assertThat(only(errors(HEADINGS.replace("nest", "") + GOOD)).sentence())
        .contains("without a heading");
  }

  @Test
  void namesEveryMissingColumnOnceAndStillReadsTheRows() {
    String text = "name,alloy,shape,size,count\na,alnico 55,rod,4.9 x 16.5 mm,0\n";

    assertThat(errors(text).stream().map(PlanError::written))
        .satisfiesExactly(
            e -> assertThat(e).startsWith("line 1: the column 'pole up' is missing"),
            e -> assertThat(e).startsWith("line 1: the column 'target' is missing"),
            e -> assertThat(e).startsWith("line 1: the column 'tolerance' is missing"),
            e -> assertThat(e).startsWith("line 2, column 2 (alloy)"),
            e -> assertThat(e).startsWith("line 2, column 5 (count)"));
  }

  @ParameterizedTest
  @ValueSource(strings = {";", "\t"})
  void saysThatTheColumnsAreNotDividedByCommas(String divider) {
    String text = (HEADINGS + GOOD).replace(",", divider);

    assertThat(only(errors(text)).written()).startsWith("line 1: the columns are not divided by");
  }

  @Test
  void refusesRowsOfAnotherWidthThanTheHeading() {
    String text = HEADINGS + "a,b,c\n" + GOOD.replace(",1\n", ",1,more\n");

    assertThat(errors(text).stream().map(PlanError::written))
        .satisfiesExactly(
            e -> assertThat(e).startsWith("line 2: the row has 3 cells and the heading 10"),
            e -> assertThat(e).startsWith("line 3: the row has 11 cells"));
  }

  @Test
  void passesOverEmptyCellsBeyondTheHeading() {
    String text = HEADINGS.replace("\n", ",,\n") + GOOD.replace("\n", ",,\n");

    assertThat(new PlanReader(BenchRigs.rules()).read("t", text)).isInstanceOf(Plan.class);
  }

  @Test
  void tellsAllErrorsAtOnceInTheOrderOfTheText() {
    String text =
        HEADINGS
            + "# remark\n"
            + "a,,alnico 55,rod,0 x 16.5 mm,,west,up 3 G,9,0\n"
            + GOOD
            + "\"b\nb\",,alnico 5,rod,4.9 x 16.5 mm,,north,9000 G,1 G,1\n"
            + "a,,alnico 5,rod,4.9 x 16.5 mm,,north,620 G,9 G,0\n";

    assertThat(errors(text).stream().map(e -> e.line() + ":" + e.columnName()))
        .containsExactly(
            "3:alloy",
            "3:size",
            "3:pole up",
            "3:target",
            "3:tolerance",
            "3:count",
            "4:name",
            "5:target",
            "5:tolerance",
            "7:name",
            "7:count");
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "\uFEFF", "\n\n", "# only a remark\n", ",,,\n"})
  void refusesAPlanWithNothingInIt(String text) {
    assertThat(only(errors(text)).sentence()).contains("no heading and no magnet");
  }

  @Test
  void refusesHeadingsWithoutMagnets() {
    assertThat(only(errors("# remark\n" + HEADINGS)).written())
        .startsWith("line 2: no magnet follows the headings");
  }

  @Test
  void refusesAnOpenQuoteAndTellsTheRestToo() {
    String text = HEADINGS + GOOD.replace("alnico 5", "alnico 55") + "\"b,,\n";

    assertThat(errors(text).stream().map(PlanError::line)).containsExactly(2, 3);
  }

  @Test
  void refusesWhatIsNotUtf8AndTellsTheLine() {
    byte[] latin1 = (HEADINGS + GOOD + "\u00e9" + GOOD).getBytes(StandardCharsets.ISO_8859_1);
    byte[] utf16 = (HEADINGS + GOOD).getBytes(StandardCharsets.UTF_16);
    PlanReader reader = new PlanReader(BenchRigs.rules());

    assertThat(((PlanReading.Refused) reader.read("autumn", latin1)).written())
        .singleElement()
        .asString()
        .startsWith("autumn, line 3: a character here is not UTF-8");
    assertThat(((PlanReading.Refused) reader.read("autumn", utf16)).errors().get(0).line())
        .isEqualTo(1);
  }

  @Test
  void refusesAFileTooLargeToBeAPlan() {
    byte[] bytes = new byte[PlanReader.BYTES_MAX + 1];

    PlanReading reading = new PlanReader(BenchRigs.rules()).read("autumn", bytes);

    assertThat(((PlanReading.Refused) reading).errors().get(0).sentence())
        .contains("more than 1,000,000 bytes is no plan");
  }

  @Property(tries = 200)
  void answersToAnyBytes(@ForAll @Size(max = 400) byte[] bytes) {
    assertThat(new PlanReader(BenchRigs.rules()).read("any", bytes)).isNotNull();
  }

  @Property(tries = 200)
  void answersToAnyCellsAndPlacesEveryError(
      @ForAll @Size(10) List<@StringLength(max = 20) String> cells) {
    String row =
        String.join(",", cells.stream().map(c -> '"' + c.replace("\"", "\"\"") + '"').toList());

    PlanReading reading = new PlanReader(BenchRigs.rules()).read("any", HEADINGS + row + "\n");

    // Ten random cells are no magnet; each of the errors lies in the text.
    List<PlanError> errors = ((PlanReading.Refused) reading).errors();
    assertThat(errors).allSatisfy(e -> assertThat(e.line()).isBetween(1, 2));
    assertThat(errors).allSatisfy(e -> assertThat(e.column()).isBetween(0, 10));
  }
}
