package lodestep.bench;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import lodestep.config.NestConfig;
import lodestep.dial.Keep;
import lodestep.dial.Task;
import lodestep.magnet.Alloy;
import lodestep.magnet.FaceModels;
import lodestep.magnet.Shape;
import lodestep.magnet.UnknownAlloy;
import lodestep.quantity.Nearest;

/** Reads the rows of one plan; what is wrong with a row is noted in its cells. One thread. */
final class RowReader {

  private final PlanRules rules;
  private final NamesTaken names;
  private final SpreadsTaken spreads;
  private final FaceModels kinds;

  RowReader(PlanRules rules, NamesTaken names) {
    this.rules = rules;
    this.names = names;
    this.spreads = new SpreadsTaken();
    this.kinds = new FaceModels(Lots.element(rules.rig()));
  }

  /** What a magnet is, and where it is worked. */
  private record Kind(Alloy alloy, Shape shape, NestConfig nest) {}

  /** Empty if something was wrong, which the cells have then noted. */
  Optional<PlanRow> read(RowCells cells) {
    Optional<String> name = cells.read(PlanColumn.NAME, text -> Cell.label("name", text));
    Optional<Optional<String>> set = label(PlanColumn.SET, cells);
    Optional<Kind> kind = kind(cells);
    Optional<TaskReader.Asked> asked = TaskReader.read(cells);
    Optional<Optional<String>> lot = label(PlanColumn.LOT, cells);
    Optional<Optional<WoundPickup>> winding = winding(cells);
    Optional<PointsAsked> readAt = PointsAsked.of(cells);
    Optional<Keep> keep = KeepReader.read(cells);
    Optional<Integer> count = cells.readOr(PlanColumn.COUNT, 1, RowReader::count);
    name.ifPresent(given -> names.take(given, count.orElse(1), cells));
    Optional<Double> spread = spreads.take(set.orElse(Optional.empty()), cells);
    Optional<Told> told =
        cells.errors().isEmpty() && kind.isPresent() && asked.isPresent()
            ? told(cells, asked.get().task(), kind.get())
            : Optional.empty();
    if (Stream.of(told, name, set, count, lot, keep, winding).anyMatch(Optional::isEmpty)) {
      return Optional.empty();
    }
    PlanRow row =
        new PlanRow(
            cells.line(),
            name.get(),
            set.get(),
            kinds.of(kind.get().alloy(), kind.get().shape()),
            kind.get().nest(),
            asked.get().poleUp(),
            told.get().task(),
            count.get(),
            lot.get(),
            keep.get(),
            winding.get(),
            readAt,
            told.get().told(),
            spread);
    return had(row, cells);
  }

  private Optional<Kind> kind(RowCells cells) {
    Optional<Alloy> alloy = cells.read(PlanColumn.ALLOY, this::alloy);
    Optional<ShapeWords> words = cells.read(PlanColumn.SHAPE, ShapeWords::read);
    Optional<Shape> shape = shape(cells, words);
    Optional<NestConfig> nest = words.flatMap(kind -> nest(cells, kind));
    return alloy.isPresent() && shape.isPresent() && nest.isPresent()
        ? Optional.of(new Kind(alloy.get(), shape.get(), nest.get()))
        : Optional.empty();
  }

  /** The row, if it can be had. */
  private Optional<PlanRow> had(PlanRow row, RowCells cells) {
    new RowLimits(rules, row)
        .refusals()
        .forEach(refusal -> cells.refuse(refusal.column(), refusal.sentence()));
    return cells.errors().isEmpty() ? Optional.of(row) : Optional.empty();
  }

  /** A task as the nest reads it, and as a hand gauge tells it, if one does. */
  private record Told(Task task, Optional<PlanRow.Told> told) {}

  /** The task as the nest reads it, by whichever gauge it is told. */
  private Optional<Told> told(RowCells cells, Task task, Kind kind) {
    return label(PlanColumn.TOLD_BY, cells)
        .flatMap(
            by ->
                by.isEmpty()
                    ? Optional.of(new Told(task, Optional.empty()))
                    : inNest(cells, by.get(), kind, task));
  }

  /** What a hand gauge tells, as the nest reads it; empty if that cannot be known. */
  private Optional<Told> inNest(RowCells cells, String gauge, Kind kind, Task task) {
    try {
      HandGauges known = rules.handGauges();
      Task.ToLevel level = HandGauges.level(task);
      Task nest = known.inNest(gauge, kind.nest(), kind.shape(), level);
      return Optional.of(
          new Told(
              nest,
              Optional.of(
                  new PlanRow.Told(
                      gauge, level, known.relation(gauge, kind.nest(), kind.shape())))));
    } catch (IllegalArgumentException unknown) {
      cells.refuse(PlanColumn.TOLD_BY, String.valueOf(unknown.getMessage()));
      return Optional.empty();
    }
  }

  /** Empty only if it cannot be one. */
  private static Optional<Optional<WoundPickup>> winding(RowCells cells) {
    return cells.readOr(
        PlanColumn.WINDING, Optional.empty(), text -> Optional.of(WoundPickup.read(text)));
  }

  /** A label that may be left out; empty only if it cannot be one. */
  private static Optional<Optional<String>> label(PlanColumn column, RowCells cells) {
    return cells.readOr(
        column, Optional.empty(), text -> Optional.of(Cell.label(column.heading(), text)));
  }

  private Alloy alloy(String text) {
    return UnknownAlloy.isWritten(text)
        ? UnknownAlloy.alloy()
        : MagnetAsked.alloy(rules.alloys(), text);
  }

  /** Without a shape a size cannot be read, but an empty one is missed all the same. */
  private static Optional<Shape> shape(RowCells cells, Optional<ShapeWords> words) {
    if (words.isPresent()) {
      return cells.read(PlanColumn.SIZE, text -> words.get().sized(text));
    }
    cells.read(PlanColumn.SIZE, text -> text);
    return Optional.empty();
  }

  private Optional<NestConfig> nest(RowCells cells, ShapeWords shape) {
    String wanted = cells.text(PlanColumn.NEST);
    List<NestConfig> fitting =
        rules.rig().nests().stream()
            .filter(nest -> nest.shape().equals(shape.nestShape()))
            .toList();
    List<String> names = fitting.stream().map(NestConfig::name).toList();
    if (fitting.isEmpty()) {
      cells.refuse(
          PlanColumn.SHAPE, "this rig has no nest for a " + shape.nestShape() + "; fit one");
      return Optional.empty();
    }
    if (wanted.isEmpty() && fitting.size() == 1) {
      return Optional.of(fitting.get(0));
    }
    Optional<NestConfig> named =
        fitting.stream().filter(nest -> nest.name().equalsIgnoreCase(wanted)).findFirst();
    if (named.isEmpty()) {
      String list = String.join(", ", names);
      refuseNest(cells, wanted, "a " + shape.nestShape() + " goes into one of: " + list);
    }
    return named;
  }

  private void refuseNest(RowCells cells, String wanted, String instead) {
    List<String> all = rules.rig().nests().stream().map(NestConfig::name).toList();
    String why =
        wanted.isEmpty()
            ? "the nest is left empty and this rig has several that fit"
            : all.stream().anyMatch(wanted::equalsIgnoreCase)
                ? "the nest '" + wanted + "' is for another shape"
                : "this rig has no nest '" + wanted + "'" + Nearest.hint(wanted, all);
    cells.refuse(PlanColumn.NEST, why + "; " + instead);
  }

  private static int count(String text) {
    boolean whole = text.matches("\\d{1,9}");
    int count = whole ? Integer.parseInt(text) : 0;
    if (count < 1 || count > PlanRow.COUNT_MAX) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "'%s' is no count; write a whole number from 1 to %d",
              text,
              PlanRow.COUNT_MAX));
    }
    return count;
  }
}
