package lodestep.bench;

import java.util.HashMap;
import java.util.Locale;
import java.util.Map;

/**
 * The names of a plan's magnets so far, and the line each was given on; capitals do not make a name
 * another. One reading, one thread.
 */
final class NamesTaken {

  private final Map<String, Integer> lines = new HashMap<>();

  /** Takes the names of a row's magnets; notes in its cells the first that is taken already. */
  void take(String rowName, int count, RowCells cells) {
    for (int ordinal = 1; ordinal <= count; ordinal++) {
      String name = PlanRow.nameOf(rowName, ordinal, count);
      Integer line = lines.putIfAbsent(name.toLowerCase(Locale.ROOT), cells.line());
      if (line != null) {
        cells.refuse(
            PlanColumn.NAME,
            "the name '" + name + "' is taken by line " + line + "; every magnet needs its own");
        return;
      }
    }
  }
}
