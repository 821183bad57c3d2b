package lodestep.bench;

import java.util.Locale;
import java.util.Optional;
import lodestep.dial.Drop;
import lodestep.dial.Percent;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;
import lodestep.dial.Tolerance;
import lodestep.quantity.FluxDensity;

/** Reads what a row asks for: pole, target and tolerance, which lean on each other. */
final class TaskReader {

  private TaskReader() {}

  /** A pole and a task that agree. */
  record Asked(PoleUp poleUp, Task task) {}

  /** Empty if something was wrong, which the cells have then noted. */
  static Optional<Asked> read(RowCells cells) {
    Optional<Wanted> wanted = cells.read(PlanColumn.TARGET, Wanted::read);
    if (wanted.isPresent() && wanted.get() instanceof Wanted.Full) {
      return full(cells);
    }
    boolean nothing = wanted.isPresent() && wanted.get() instanceof Wanted.Nothing;
    // What has no flux has no pole: the column may stay empty there.
    Optional<PoleUp> pole =
        nothing
            ? cells.readOr(PlanColumn.POLE_UP, PoleUp.NORTH, TaskReader::pole)
            : cells.read(PlanColumn.POLE_UP, TaskReader::pole);
    Optional<Tolerance> tolerance =
        nothing
            ? cells.readOr(
                PlanColumn.TOLERANCE,
                new Tolerance.Fixed(Task.Demagnetise.UNCHARGED),
                TaskReader::tolerance)
            : cells.read(PlanColumn.TOLERANCE, TaskReader::tolerance);
    if (wanted.isEmpty() || pole.isEmpty() || tolerance.isEmpty()) {
      return Optional.empty();
    }
    return task(wanted.get(), pole.get(), tolerance.get(), cells)
        .map(task -> new Asked(pole.get(), task));
  }

  private static Optional<Asked> full(RowCells cells) {
    Optional<PoleUp> pole = cells.read(PlanColumn.POLE_UP, TaskReader::pole);
    if (!cells.text(PlanColumn.TOLERANCE).isEmpty()) {
      cells.refuse(
          PlanColumn.TOLERANCE,
          "a full charge has no tolerance: it is what the magnet takes; leave it empty");
      return Optional.empty();
    }
    return pole.map(up -> new Asked(up, new Task.FullCharge()));
  }

  private static Optional<Task> task(
      Wanted wanted, PoleUp pole, Tolerance tolerance, RowCells cells) {
    if (wanted instanceof Wanted.Level level) {
      return level(level, pole, tolerance, cells);
    }
    if (wanted instanceof Wanted.Down down) {
      return down(down.drop(), tolerance, cells);
    }
    return tolerance.match(
        fixed -> Optional.of(new Task.Demagnetise(fixed.halfWidth())),
        part -> {
          cells.refuse(
              PlanColumn.TOLERANCE,
              "a part of nothing is nothing; give the largest reading that counts as uncharged,"
                  + " like 5 G, or leave it empty");
          return Optional.empty();
        });
  }

  private static Optional<Task> level(
      Wanted.Level level, PoleUp pole, Tolerance tolerance, RowCells cells) {
    FluxDensity target = pole.signed(level.value());
    if (level.signWritten() && target.tesla() != level.value().tesla()) {
      cells.refuse(
          PlanColumn.TARGET,
          String.format(
              Locale.ROOT,
              "%s has the sign of the other pole, and %s is up; north reads positive, south"
                  + " negative, and without a sign the pole decides",
              level.value().inGauss(),
              pole.word()));
      return Optional.empty();
    }
    FluxDensity halfWidth = tolerance.halfWidthAt(target);
    if (halfWidth.compareTo(target.magnitude()) >= 0) {
      cells.refuse(
          PlanColumn.TOLERANCE,
          "the tolerance " + halfWidth.inGauss() + " is as large as the target itself");
      return Optional.empty();
    }
    return Optional.of(new Task.ToLevel(target, halfWidth));
  }

  private static Optional<Task> down(Drop drop, Tolerance tolerance, RowCells cells) {
    boolean drowned =
        drop instanceof Drop.By by
            && tolerance instanceof Tolerance.Fixed fixed
            && fixed.halfWidth().compareTo(by.amount()) >= 0;
    if (drowned) {
      cells.refuse(
          PlanColumn.TOLERANCE,
          "the tolerance " + tolerance.words() + " is as large as the way " + drop.words());
      return Optional.empty();
    }
    return Optional.of(new Task.DownBy(drop, tolerance));
  }

  private static PoleUp pole(String text) {
    String plain = text.toLowerCase(Locale.ROOT);
    if (plain.equals("north") || plain.equals("n")) {
      return PoleUp.NORTH;
    }
    if (plain.equals("south") || plain.equals("s")) {
      return PoleUp.SOUTH;
    }
    throw new IllegalArgumentException("'" + text + "' is no pole; write north or south");
  }

  private static Tolerance tolerance(String text) {
    String plain = text.replaceFirst("^(?:\u00b1|\\+/-|\\+-)\\s*", "");
    Optional<Double> fraction = Percent.fraction(plain);
    return fraction.isPresent()
        ? new Tolerance.OfTarget(fraction.get())
        : new Tolerance.Fixed(FluxDensity.parse(plain));
  }
}
