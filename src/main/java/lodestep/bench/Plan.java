package lodestep.bench;

import java.util.List;
import java.util.stream.IntStream;

/**
 * The plan of one batch, understood and possible on this rig. Any thread, immutable.
 *
 * @param name what the batch is called, for example the file's name
 * @param text the plan as it was read, byte for byte when written as UTF-8
 * @param sha256 of those bytes, lower-case hexadecimal
 * @param rows at least one, in the plan's order
 */
public record Plan(String name, String text, String sha256, List<PlanRow> rows)
    implements PlanReading {

  public Plan {
    rows = List.copyOf(rows);
  }

  /** Every magnet in the order of work: row by row, the magnets of a row by number. */
  public List<PlannedMagnet> magnets() {
    return rows.stream()
        .flatMap(
            row ->
                IntStream.rangeClosed(1, row.count())
                    .mapToObj(ordinal -> new PlannedMagnet(row, ordinal)))
        .toList();
  }
}
