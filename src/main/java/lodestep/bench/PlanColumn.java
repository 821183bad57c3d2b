package lodestep.bench;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** The columns of a plan; their order in a file is free. */
enum PlanColumn {
  NAME(true),
  SET(false),
  SPREAD(false),
  ALLOY(true),
  SHAPE(true),
  SIZE(true),
  NEST(false),
  POLE_UP(true),
  TARGET(true),
  TOLERANCE(true),
  TOLD_BY(false),
  COUNT(false),
  LOT(false),
  READ_AFTER(false),
  SURVIVES(false),
  WINDING(false),
  READ_AT(false),
  COUNTS(false);

  private final boolean required;

  PlanColumn(boolean required) {
    this.required = required;
  }

  /** Whether a plan must have the column. */
  boolean required() {
    return required;
  }

  /** As it stands in the first row: "pole up". */
  String heading() {
    return name().toLowerCase(Locale.ROOT).replace('_', ' ');
  }

  /** The column with this heading; capitals, hyphens and underscores do not count. */
  static Optional<PlanColumn> of(String heading) {
    String plain = heading.toLowerCase(Locale.ROOT).replace('_', ' ').replace('-', ' ');
    return Arrays.stream(values()).filter(column -> column.heading().equals(plain)).findFirst();
  }

  static List<String> headings() {
    return Arrays.stream(values()).map(PlanColumn::heading).toList();
  }
}
