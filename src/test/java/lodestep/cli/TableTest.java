package lodestep.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import org.junit.jupiter.api.Test;

class TableTest {

  private static final List<Table.Column> COLUMNS =
      List.of(Table.Column.ofWords("name"), Table.Column.ofNumbers("G"));

  private static List<String> lines(List<List<String>> rows) {
    return new Table(COLUMNS, rows).lines();
  }

  @Test
  void alignsWordsLeftAndNumbersRight() {
    assertThat(lines(List.of(List.of("first one", "5.0"), List.of("b", "-1205.0"))))
        .containsExactly(
            "name             G", "---------  -------", "first one      5.0", "b          -1205.0");
  }

  @Test
  void showsHeadingsWithoutRows() {
    assertThat(lines(List.of())).containsExactly("name  G", "----  -");
  }

  @Test
  void leavesNoSpacesAtTheEndOfALine() {
    assertThat(lines(List.of(List.of("a", "")))).allSatisfy(l -> assertThat(l).doesNotEndWith(" "));
  }

  @Test
  void countsTheColumnsACharacterTakes() {
    // Unicode Standard Annex 11: ideographs are wide (W), a combining acute takes no column.
    assertThat(Columns.of("\u78c1\u77f3")).isEqualTo(4);
    assertThat(Columns.of("e\u0301")).isEqualTo(1);
    assertThat(Columns.of("\u00e9 \u00b5\u2212")).isEqualTo(4);
    assertThat(Columns.of("\ud83e\uddf2")).isEqualTo(2); // U+1F9F2, wide
    assertThat(Columns.of("\uff21\uff71")).isEqualTo(3); // full-width A, half-width katakana
  }

  @Test
  void alignsBesideWideCharacters() {
    assertThat(lines(List.of(List.of("\u78c1\u77f3-1", "1"), List.of("e\u0301", "2"))))
        .endsWith("\u78c1\u77f3-1  1", "e\u0301       2");
  }

  @Test
  void showsOneLineARowWhateverACellHolds() {
    assertThat(lines(List.of(List.of("a\r\nb\tc\u001b[2J", "1"))).get(2)).isEqualTo("a b c?[2J  1");
  }

  @Test
  void refusesRowsOfAnotherWidthAndTablesWithoutColumns() {
    assertThatThrownBy(() -> lines(List.of(List.of("a"))))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("a row of 1 cells in a table of 2 columns");
    assertThatThrownBy(() -> new Table(List.of(), List.of()))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
