package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;

/** Source of the examples: RFC 4180 (October 2005), section 2, by the number of the rule. */
class PlanSheetTest {

  private static final List<List<String>> PLAIN =
      List.of(List.of("aaa", "bbb", "ccc"), List.of("zzz", "yyy", "xxx"));

  private static List<List<String>> cells(String text) {
    PlanSheet sheet = PlanSheet.of(text);
    assertThat(sheet.broken()).isEmpty();
    return sheet.rows().stream().map(PlanSheet.Row::cells).toList();
  }

  private static List<Integer> lines(String text) {
    return PlanSheet.of(text).rows().stream().map(PlanSheet.Row::line).toList();
  }

  @Test
  void readsRecordsOnLinesOfTheirOwn() {
    assertThat(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")).isEqualTo(PLAIN); // rule 1
  }

  @Test
  void readsALastRecordWithoutLineBreak() {
    assertThat(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx")).isEqualTo(PLAIN); // rule 2
  }

  @Test
  void readsTheHeaderLikeAnyRecord() {
    String text = "field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"; // rule 3

    assertThat(cells(text).get(0)).containsExactly("field_name", "field_name", "field_name");
    assertThat(cells(text).subList(1, 3)).isEqualTo(PLAIN);
  }

  @Test
  void readsQuotedFields() {
    assertThat(cells("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx")).isEqualTo(PLAIN); // rule 5
  }

  @Test
  void keepsALineBreakInsideQuotes() {
    String text = "\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"; // rule 6

    assertThat(cells(text))
        .containsExactly(List.of("aaa", "b\r\nbb", "ccc"), List.of("zzz", "yyy", "xxx"));
  }

  @Test
  void readsADoubledQuoteAsOne() {
    assertThat(cells("\"aaa\",\"b\"\"bb\",\"ccc\"")) // rule 7
        .containsExactly(List.of("aaa", "b\"bb", "ccc"));
  }

  @Test
  void readsLineBreaksOfEveryKind() {
    assertThat(cells("aaa,bbb,ccc\nzzz,yyy,xxx\n")).isEqualTo(PLAIN);
    assertThat(cells("aaa,bbb,ccc\rzzz,yyy,xxx\r")).isEqualTo(PLAIN);
  }

  @Test
  void passesOverTheByteOrderMark() {
    assertThat(cells("\uFEFFaaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")).isEqualTo(PLAIN);
    assertThat(cells("\uFEFF# remark\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")).isEqualTo(PLAIN);
  }

  @Test
  void takesSpacesAroundAQuotedCellAsNothing() {
    assertThat(cells("aaa , \"b,b\" ,ccc")).containsExactly(List.of("aaa", "b,b", "ccc"));
  }

  @Test
  void passesOverRemarksBlankLinesAndPaddedRows() {
    String text = "# a, b\naaa,bbb\n\n,\n\"# padded, by a spreadsheet\",\nzzz,yyy\n# end";

    assertThat(cells(text)).containsExactly(List.of("aaa", "bbb"), List.of("zzz", "yyy"));
  }

  @Test
  void countsLinesThroughRemarksAndLineBreaksInCells() {
    String text = "# one\naaa,bbb\n\n# four\n\"z\nz\nz\",yyy\nlast,row";

    assertThat(lines(text)).containsExactly(2, 5, 8);
    assertThat(lines(text.replace("\n", "\r\n"))).containsExactly(2, 5, 8);
  }

  @Test
  void tellsWhereAQuoteIsNeverClosedAndKeepsTheRowsBefore() {
    PlanSheet sheet = PlanSheet.of("aaa,bbb\nzzz,\"yyy\nxxx,www\n");

    assertThat(sheet.rows()).hasSize(1);
    assertThat(sheet.broken().orElseThrow().line()).isEqualTo(2);
    assertThat(sheet.broken().orElseThrow().sentence()).contains("quote marks");
  }

  @Test
  void tellsWhereTextFollowsAClosedQuote() {
    assertThat(PlanSheet.of("aaa\n\"b\" b,ccc").broken().orElseThrow().line()).isEqualTo(2);
  }

  @Test
  void refusesAMagnetThatHidesAsARemark() {
    String text = "name,alloy,shape,size,target\n#12,alnico 2,rod,5.1 x 18 mm,430 G\n";

    assertThat(PlanSheet.filledRemarks(text, 5))
        .singleElement()
        .satisfies(error -> assertThat(error.written()).startsWith("line 2: a row that begins"));
    assertThat(PlanSheet.filledRemarks("# 12, of two, three, four, five, six\n#x,,,,\n", 5))
        .isEmpty();
    assertThat(cells(text.replace("#12", "\"#12\"")).get(1).get(0)).isEqualTo("#12");
  }
}
