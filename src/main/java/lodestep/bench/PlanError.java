package lodestep.bench;

import java.util.Locale;

/**
 * One thing wrong with a plan, and where.
 *
 * @param line line of the plan's text on which the row begins, from 1
 * @param column column of the cell, from 1; 0 when the whole row or the whole plan is meant
 * @param columnName the column's heading; empty when {@code column} is 0
 * @param sentence what is wrong and what to do
 */
public record PlanError(int line, int column, String columnName, String sentence) {

  /** About a whole row, or the whole plan. */
  static PlanError ofRow(int line, String sentence) {
    return new PlanError(line, 0, "", sentence);
  }

  /** With the place first: {@code line 5, column 3 (alloy): ...}. */
  public String written() {
    return column == 0
        ? String.format(Locale.ROOT, "line %d: %s", line, sentence)
        : String.format(
            Locale.ROOT, "line %d, column %d (%s): %s", line, column, columnName, sentence);
  }
}
