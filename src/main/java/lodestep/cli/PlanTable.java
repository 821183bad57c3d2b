package lodestep.cli;

import java.util.ArrayList;
import java.util.List;
import lodestep.bench.Plan;
import lodestep.bench.PlanRow;
import lodestep.dial.Percent;
import lodestep.dial.Task;

/** A plan as it was understood, for people to check before anything is charged. Pure. */
public final class PlanTable {

  private static final List<Table.Column> COLUMNS =
      List.of(
          Table.Column.ofNumbers("line"),
          Table.Column.ofWords("name"),
          Table.Column.ofNumbers("count"),
          Table.Column.ofWords("set"),
          Table.Column.ofWords("alloy"),
          Table.Column.ofWords("shape and size"),
          Table.Column.ofWords("nest"),
          Table.Column.ofWords("pole up"),
          Table.Column.ofNumbers("target"),
          Table.Column.ofNumbers("tolerance"));

  /** Only where a hand gauge tells one of the targets. */
  private static final Table.Column TOLD = Table.Column.ofWords("told as");

  /** Only where a set is matched by one. */
  private static final Table.Column SPREAD = Table.Column.ofNumbers("spread");

  private PlanTable() {}

  /**
   * One row for each row of the plan, in its order; what magnets are to keep beside their target
   * has a column only where a row asks for it.
   */
  public static Table of(Plan plan) {
    boolean told = plan.rows().stream().anyMatch(row -> row.told().isPresent());
    boolean spread = plan.rows().stream().anyMatch(row -> row.spread().isPresent());
    boolean kept = plan.rows().stream().anyMatch(row -> row.keep().isAsked());
    List<Table.Column> columns = new ArrayList<>(COLUMNS);
    if (told) {
      columns.add(TOLD);
    }
    if (spread) {
      columns.add(SPREAD);
    }
    if (kept) {
      columns.add(Table.Column.ofWords("to keep"));
    }
    return new Table(
        columns, plan.rows().stream().map(row -> wider(row, told, spread, kept)).toList());
  }

  private static List<String> wider(PlanRow row, boolean told, boolean spread, boolean kept) {
    List<String> cells = new ArrayList<>(cells(row));
    if (told) {
      cells.add(told(row));
    }
    if (spread) {
      cells.add(row.spread().map(Percent::words).orElse(""));
    }
    if (kept) {
      cells.add(KeepingWords.of(row.keep()));
    }
    return cells;
  }

  private static List<String> cells(PlanRow row) {
    String pole = row.task() instanceof Task.Demagnetise ? "-" : row.poleUp().word();
    return List.of(
        String.valueOf(row.line()),
        row.name(),
        String.valueOf(row.count()),
        row.set().orElse(""),
        row.alloy().name(),
        row.shape().words()
            + row.winding().map(wound -> ", in a winding").orElse("")
            + row.readAt().map(at -> ", read at " + at.words()).orElse(""),
        row.nest().name(),
        pole,
        row.task().targetWords(),
        "\u00b1 " + row.task().toleranceWords());
  }

  private static String told(PlanRow row) {
    return row.told().map(PlanRow.Told::words).orElse("");
  }
}
