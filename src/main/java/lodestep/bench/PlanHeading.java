package lodestep.bench;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import lodestep.quantity.Nearest;

/**
 * A plan's first row: which column stands where.
 *
 * @param places column from 0 of each heading found
 * @param width cells of the row, without empty ones at its end
 * @param errors what is wrong with it
 */
record PlanHeading(Map<PlanColumn, Integer> places, int width, List<PlanError> errors) {

  PlanHeading {
    places = Map.copyOf(places);
    errors = List.copyOf(errors);
  }

  static PlanHeading of(PlanSheet.Row row) {
    List<String> cells = row.cells().stream().map(Cell::plain).toList();
    int width = Cell.widthOf(cells);
    boolean otherDivider = row.cells().get(0).contains(";") || row.cells().get(0).contains("\t");
    if (width == 1 && otherDivider) {
      return new PlanHeading(Map.of(), width, List.of(notCommas(row.line())));
    }
    Map<PlanColumn, Integer> places = new EnumMap<>(PlanColumn.class);
    List<PlanError> errors = new ArrayList<>();
    for (int at = 0; at < width; at++) {
      Optional<PlanColumn> column = PlanColumn.of(cells.get(at));
      if (column.isEmpty()) {
        errors.add(new PlanError(row.line(), at + 1, cells.get(at), unknown(cells.get(at))));
      } else if (places.putIfAbsent(column.get(), at) != null) {
        String heading = column.get().heading();
        errors.add(
            new PlanError(
                row.line(), at + 1, heading, "the column '" + heading + "' is there twice"));
      }
    }
    for (PlanColumn column : PlanColumn.values()) {
      if (column.required() && !places.containsKey(column)) {
        errors.add(PlanError.ofRow(row.line(), missing(column)));
      }
    }
    return new PlanHeading(places, width, errors);
  }

  private static PlanError notCommas(int line) {
    return PlanError.ofRow(
        line,
        "the columns are not divided by commas; save the sheet as CSV with commas, and write"
            + " decimal points as points");
  }

  private static String unknown(String heading) {
    return heading.isEmpty()
        ? "a column without a heading; give it one or take it out"
        : "'"
            + heading
            + "' is no column of a plan"
            + Nearest.hint(heading.toLowerCase(Locale.ROOT), PlanColumn.headings())
            + "; the columns are: "
            + String.join(", ", PlanColumn.headings());
  }

  private static String missing(PlanColumn column) {
    return "the column '"
        + column.heading()
        + "' is missing; the first row of a plan holds the headings";
  }
}
