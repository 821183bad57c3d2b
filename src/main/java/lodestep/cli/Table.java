package lodestep.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;

/**
 * A table whose columns line up on a terminal, with a line under its headings. Nothing is cut and
 * nothing wraps: a column is as wide as its widest cell. Any thread, immutable.
 *
 * @param columns at least one, from left to right
 * @param rows each with as many cells as there are columns; may be empty
 */
public record Table(List<Column> columns, List<List<String>> rows) {

  private static final String GAP = "  ";

  /** What a terminal would obey rather than show. */
  private static final String CONTROL = "\\p{Cc}";

  /**
   * A column.
   *
   * @param right whether its cells end, rather than begin, at the same place
   */
  public record Column(String heading, boolean right) {

    /** A column of words. */
    public static Column ofWords(String heading) {
      return new Column(heading, false);
    }

    /** A column of numbers, which line up when they have equally many decimals. */
    public static Column ofNumbers(String heading) {
      return new Column(heading, true);
    }
  }

  /**
   * @throws IllegalArgumentException if there is no column, or a row with more cells or fewer
   */
  public Table {
    columns = List.copyOf(columns);
    rows = rows.stream().<List<String>>map(List::copyOf).toList();
    if (columns.isEmpty()) {
      throw new IllegalArgumentException("a table has at least one column");
    }
    for (List<String> row : rows) {
      if (row.size() != columns.size()) {
        throw new IllegalArgumentException(
            "a row of " + row.size() + " cells in a table of " + columns.size() + " columns");
      }
    }
  }

  /** The lines to print: headings, rule, rows; no spaces at their ends, no line breaks. */
  public List<String> lines() {
    List<String> headings = columns.stream().map(Column::heading).toList();
    List<List<String>> all = new ArrayList<>();
    all.add(headings.stream().map(Table::shown).toList());
    rows.forEach(row -> all.add(row.stream().map(Table::shown).toList()));
    List<Integer> widths =
        IntStream.range(0, columns.size())
            .mapToObj(at -> all.stream().mapToInt(row -> Columns.of(row.get(at))).max().orElse(0))
            .toList();
    List<String> lines = new ArrayList<>();
    all.forEach(row -> lines.add(line(row, widths)));
    lines.add(1, String.join(GAP, widths.stream().map("-"::repeat).toList()));
    return List.copyOf(lines);
  }

  private String line(List<String> cells, List<Integer> widths) {
    return String.join(
            GAP,
            IntStream.range(0, cells.size())
                .mapToObj(at -> padded(cells.get(at), widths.get(at), columns.get(at).right()))
                .toList())
        .stripTrailing();
  }

  private static String padded(String cell, int width, boolean right) {
    String spaces = " ".repeat(width - Columns.of(cell));
    return right ? spaces + cell : cell + spaces;
  }

  private static String shown(String cell) {
    return cell.replaceAll("\\R|\t", " ").replaceAll(CONTROL, "?");
  }
}
