package lodestep.bench;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/**
 * The cells of a plan by row, after RFC 4180, with three liberties: lines that begin with {@code #}
 * are remarks, rows without any content are passed over, and spaces around a cell do not count.
 *
 * @param rows in order, the heading first; empty if there is nothing
 * @param broken the place at which the text stops being CSV; rows before it stand
 */
record PlanSheet(List<Row> rows, Optional<PlanError> broken) {

  private static final CSVFormat FORMAT =
      CSVFormat.RFC4180
          .builder()
          .setCommentMarker('#')
          .setIgnoreEmptyLines(true)
          .setIgnoreSurroundingSpaces(true)
          .get();

  /** Spreadsheets put it before UTF-8 text. */
  private static final String BYTE_ORDER_MARK = "\uFEFF";

  private static final Pattern LINE_BREAK = Pattern.compile("\r\n|\r|\n");

  /** Name, alloy, shape, size and target: fewer make no magnet. */
  private static final int FILLED_CELLS = 5;

  PlanSheet {
    rows = List.copyOf(rows);
  }

  /**
   * One row.
   *
   * @param line line of the text on which it begins, from 1
   * @param cells as they stand, line breaks included
   */
  record Row(int line, List<String> cells) {
    Row {
      cells = List.copyOf(cells);
    }

    /** Nothing in it, or nothing but a remark that a spreadsheet padded with commas. */
    private boolean isEmptyOrRemark() {
      boolean restIsBlank = cells.stream().skip(1).allMatch(String::isBlank);
      return restIsBlank && (cells.get(0).isBlank() || cells.get(0).startsWith("#"));
    }
  }

  static PlanSheet of(String text) {
    String body = text.startsWith(BYTE_ORDER_MARK) ? text.substring(1) : text;
    List<Row> rows = new ArrayList<>();
    int linesDone = 0;
    try (CSVParser parser = CSVParser.parse(body, FORMAT)) {
      try {
        for (Iterator<CSVRecord> records = parser.iterator(); records.hasNext(); ) {
          List<String> cells = records.next().toList();
          linesDone = Math.toIntExact(parser.getCurrentLineNumber());
          Row row = new Row(linesDone - lineBreaksIn(cells), cells);
          if (!row.isEmptyOrRemark()) {
            rows.add(row);
          }
        }
      } catch (UncheckedIOException notCsv) {
        return new PlanSheet(rows, Optional.of(broken(linesDone + 1)));
      }
    } catch (IOException impossible) {
      throw new UncheckedIOException("a text in memory cannot fail to be read", impossible);
    }
    return new PlanSheet(rows, Optional.empty());
  }

  /**
   * Remarks that look like magnets: a row filled in like the heading, whose name begins with the
   * mark of a remark. Passed over in silence such a magnet would be missing.
   *
   * @param width cells of the heading
   */
  static List<PlanError> filledRemarks(String text, int width) {
    List<PlanError> errors = new ArrayList<>();
    int number = 0;
    for (String line : LINE_BREAK.split(text, -1)) {
      number++;
      if (line.matches("#\\S.*") && filledCells(line) >= Math.min(width, FILLED_CELLS)) {
        errors.add(
            PlanError.ofRow(
                number,
                "a row that begins with # is a remark, and this one is filled in like a magnet;"
                    + " put its name in quote marks, or a blank after the # if it is a remark"));
      }
    }
    return errors;
  }

  private static long filledCells(String line) {
    return Arrays.stream(line.split(",", -1)).filter(cell -> !cell.isBlank()).count();
  }

  private static int lineBreaksIn(List<String> cells) {
    return cells.stream()
        .mapToInt(cell -> Math.toIntExact(LINE_BREAK.matcher(cell).results().count()))
        .sum();
  }

  private static PlanError broken(int line) {
    return PlanError.ofRow(
        line,
        "a cell in quote marks does not end as it should, here or further down;"
            + " close it right before the comma, and write a quote mark inside it twice");
  }
}
