package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** The cells of one row by column; gathers what is wrong with them. One reading, one thread. */
final class RowCells {

  private final PlanHeading heading;
  private final PlanSheet.Row row;
  private final List<PlanError> errors = new ArrayList<>();

  RowCells(PlanHeading heading, PlanSheet.Row row) {
    this.heading = heading;
    this.row = row;
  }

  int line() {
    return row.line();
  }

  /** What was wrong so far, in the order found. */
  List<PlanError> errors() {
    return List.copyOf(errors);
  }

  /** The cell's text in one spelling; empty when blank or when the plan has no such column. */
  String text(PlanColumn column) {
    Integer place = heading.places().get(column);
    return place == null || place >= row.cells().size() ? "" : Cell.plain(row.cells().get(place));
  }

  /** Notes what is wrong with a cell. */
  void refuse(PlanColumn column, String sentence) {
    int place = heading.places().getOrDefault(column, -1);
    errors.add(new PlanError(row.line(), place + 1, place < 0 ? "" : column.heading(), sentence));
  }

  /**
   * What the cell says; noted and empty if it cannot be, or is blank. A column that the plan has
   * not is the heading's error, and is not noted again here.
   *
   * @param reader throws {@link IllegalArgumentException} with the sentence to note
   */
  <T> Optional<T> read(PlanColumn column, Function<String, T> reader) {
    String text = text(column);
    if (!text.isEmpty()) {
      return tried(column, text, reader);
    }
    if (heading.places().containsKey(column)) {
      refuse(column, "the " + column.heading() + " is left empty");
    }
    return Optional.empty();
  }

  /** As {@link #read}, but a blank cell, or no such column, means this instead. */
  <T> Optional<T> readOr(PlanColumn column, T blank, Function<String, T> reader) {
    String text = text(column);
    return text.isEmpty() ? Optional.of(blank) : tried(column, text, reader);
  }

  private <T> Optional<T> tried(PlanColumn column, String text, Function<String, T> reader) {
    try {
      return Optional.of(reader.apply(text));
    } catch (IllegalArgumentException refusal) {
      refuse(column, String.valueOf(refusal.getMessage()));
      return Optional.empty();
    }
  }
}
