package lodestep.bench;

import java.util.Optional;
import lodestep.dial.Keep;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.TimeSpan;

/** Reads what a row's magnets are to keep beside their target. */
final class KeepReader {

  private KeepReader() {}

  /** Empty if something was wrong, which the cells have then noted. */
  static Optional<Keep> read(RowCells cells) {
    Optional<Optional<TimeSpan>> readAfter =
        cells.readOr(PlanColumn.READ_AFTER, Optional.empty(), text -> Optional.of(readAfter(text)));
    Optional<Optional<FieldStrength>> survives =
        cells.readOr(PlanColumn.SURVIVES, Optional.empty(), text -> Optional.of(survives(text)));
    return readAfter.isPresent() && survives.isPresent()
        ? Optional.of(new Keep(readAfter.get(), survives.get()))
        : Optional.empty();
  }

  private static TimeSpan readAfter(String text) {
    TimeSpan span = TimeSpan.parse(text);
    if (span.seconds() < 1 || span.compareTo(Keep.READ_AFTER_MAX) > 0) {
      throw new IllegalArgumentException(
          "a magnet waits in its nest for 1 s to "
              + Keep.READ_AFTER_MAX.written()
              + ", not "
              + text
              + ", as the gauge's zero grows old meanwhile; for longer, read it again another day"
              + " with: lodestep reread");
    }
    return span;
  }

  private static FieldStrength survives(String text) {
    FieldStrength field = FieldStrength.parse(text);
    if (!(field.amperesPerMetre() > 0)) {
      throw new IllegalArgumentException(
          "the field that a magnet is to survive is written without a sign and above zero, like 8"
              + " kA/m");
    }
    return field;
  }
}
