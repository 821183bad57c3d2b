package lodestep.panel;

import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lodestep.paper.LotSample;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/**
 * A plan as it is put together on the page: each field is written as a plan's cell is written, so
 * that one reader judges both. Any thread, immutable.
 *
 * @param name the plan's name
 * @param rows a magnet each, or several alike
 */
public record PlanForm(String name, List<Row> rows) {

  /** More rows than a person touches together; longer plans come as files. */
  public static final int ROWS_MAX = 24;

  private static final List<String> HEADINGS =
      List.of(
          "name",
          "set",
          "spread",
          "alloy",
          "shape",
          "size",
          "nest",
          "pole up",
          "target",
          "tolerance",
          "count",
          "lot");

  /** The rows are kept as they are. */
  public PlanForm {
    rows = List.copyOf(rows);
  }

  /** One row, by a plan's columns. */
  public record Row(
      String name,
      String set,
      String spread,
      String alloy,
      String shape,
      String size,
      String nest,
      String poleUp,
      String target,
      String tolerance,
      String count,
      String lot) {

    /** The same for a magnet of this name. */
    public Row named(String other) {
      return new Row(
          other, set, spread, alloy, shape, size, nest, poleUp, target, tolerance, count, lot);
    }

    /** The same, only charged: matched to nothing. */
    public Row charged() {
      return new Row(
          name, set, "", alloy, shape, size, nest, poleUp, LotSample.TARGET, "", count, lot);
    }

    private List<String> cells() {
      return List.of(
          name, set, spread, alloy, shape, size, nest, poleUp, target, tolerance, count, lot);
    }
  }

  /** Whether it is the sample of a lot: each magnet of the one lot is only charged and read. */
  public boolean isSample() {
    boolean charged =
        rows.stream().allMatch(row -> row.target().strip().equalsIgnoreCase(LotSample.TARGET));
    List<String> lots = rows.stream().map(row -> row.lot().strip()).distinct().toList();
    return charged && lots.size() == 1 && !lots.get(0).isEmpty();
  }

  /** The plan's text, as a file would hold it. */
  public String text() {
    StringBuilder text = new StringBuilder();
    try {
      CSVFormat.RFC4180.printRecord(text, HEADINGS.toArray());
      for (Row row : rows) {
        CSVFormat.RFC4180.printRecord(text, row.cells().toArray());
      }
    } catch (IOException impossible) {
      throw new UncheckedIOException(impossible);
    }
    return text.toString();
  }

  /**
   * A plan's text as a form. Columns that no form has are left out, since a batch of such a plan is
   * none to be begun by touch; an unreadable text is no form.
   */
  public static List<PlanForm> of(String name, String text) {
    CSVFormat format =
        CSVFormat.RFC4180
            .builder()
            .setHeader()
            .setSkipHeaderRecord(true)
            .setIgnoreHeaderCase(true)
            .setIgnoreSurroundingSpaces(true)
            .setCommentMarker('#')
            .get();
    try (CSVParser parser = CSVParser.parse(new StringReader(text), format)) {
      if (!HEADINGS.containsAll(parser.getHeaderNames().stream().map(PlanForm::plain).toList())) {
        return List.of();
      }
      List<Row> rows = new ArrayList<>();
      for (CSVRecord record : parser) {
        List<String> cells = HEADINGS.stream().map(heading -> cell(record, heading)).toList();
        rows.add(row(cells));
      }
      return rows.isEmpty() || rows.size() > ROWS_MAX
          ? List.of()
          : List.of(new PlanForm(name, rows));
    } catch (IOException | UncheckedIOException | IllegalArgumentException unreadable) {
      return List.of();
    }
  }

  private static String plain(String heading) {
    return heading.toLowerCase(Locale.ROOT).replace('_', ' ').replace('-', ' ');
  }

  private static String cell(CSVRecord record, String heading) {
    return record.toMap().entrySet().stream()
        .filter(entry -> plain(entry.getKey()).equals(heading))
        .map(entry -> entry.getValue() == null ? "" : entry.getValue())
        .findFirst()
        .orElse("");
  }

  private static Row row(List<String> cells) {
    return new Row(
        cells.get(0),
        cells.get(1),
        cells.get(2),
        cells.get(3),
        cells.get(4).toLowerCase(Locale.ROOT),
        cells.get(5),
        cells.get(6),
        cells.get(7).toLowerCase(Locale.ROOT),
        cells.get(8),
        cells.get(9),
        cells.get(10),
        cells.get(11));
  }
}
