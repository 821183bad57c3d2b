package lodestep.cli;

import java.util.ArrayList;
import java.util.List;
import lodestep.bench.Plan;
import lodestep.bench.PlanRow;

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

  private PlanTable() {}

  /**
   * One row for each row of the plan, in its order; what magnets are to keep beside their target
   * has a column only where a row asks for it.
   */
  public static Table of(Plan plan) {
    if (plan.rows().stream().noneMatch(row -> row.keep().isAsked())) {
      return new Table(COLUMNS, plan.rows().stream().map(PlanTable::cells).toList());
    }
    List<Table.Column> columns = new ArrayList<>(COLUMNS);
    columns.add(Table.Column.ofWords("to keep"));
    return new Table(columns, plan.rows().stream().map(PlanTable::keeping).toList());
  }

  private static List<String> keeping(PlanRow row) {
    List<String> cells = new ArrayList<>(cells(row));
    cells.add(KeepingWords.of(row.keep()));
    return cells;
  }

  private static List<String> cells(PlanRow row) {
    String pole =
        row.task().match(level -> true, down -> true, none -> false) ? row.poleUp().word() : "-";
    return List.of(
        String.valueOf(row.line()),
        row.name(),
        String.valueOf(row.count()),
        row.set().orElse(""),
        row.alloy().name(),
        row.shape().words() + row.winding().map(wound -> ", in a winding").orElse(""),
        row.nest().name(),
        pole,
        row.task().targetWords(),
        "\u00b1 " + row.task().toleranceWords());
  }
}
