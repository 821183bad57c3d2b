package lodestep.cli;

import java.util.List;
import java.util.stream.Stream;
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

  /** Only where a hand gauge tells one of the targets. */
  private static final Table.Column TOLD = Table.Column.ofWords("told as");

  private PlanTable() {}

  /** One row for each row of the plan, in its order. */
  public static Table of(Plan plan) {
    boolean told = plan.rows().stream().anyMatch(row -> row.told().isPresent());
    return told
        ? new Table(
            Stream.concat(COLUMNS.stream(), Stream.of(TOLD)).toList(),
            plan.rows().stream()
                .map(row -> Stream.concat(cells(row).stream(), Stream.of(told(row))).toList())
                .toList())
        : new Table(COLUMNS, plan.rows().stream().map(PlanTable::cells).toList());
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
