package lodestep.bench;

import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import lodestep.dial.Percent;

/**
 * How far the magnets of each set may differ, as a plan's rows have said it so far. One reading,
 * one thread.
 */
final class SpreadsTaken {

  /** Magnets that differ by more are not said to match. Common practice, no source. */
  static final double SPREAD_MAX = 0.2;

  /** A figure of a set, and the line that said it first. */
  private record Said(double fraction, int line) {}

  private final Map<String, Said> sets = new HashMap<>();

  /** What this row says; empty if it says nothing or it cannot be, which its cells then note. */
  Optional<Double> take(Optional<String> set, RowCells cells) {
    Optional<Double> spread =
        cells.text(PlanColumn.SPREAD).isEmpty()
            ? Optional.empty()
            : cells.read(PlanColumn.SPREAD, SpreadsTaken::fraction);
    if (spread.isEmpty()) {
      return spread;
    }
    if (set.isEmpty()) {
      cells.refuse(
          PlanColumn.SPREAD, "magnets of a set are matched, and this row names no set: name one");
      return Optional.empty();
    }
    Said said = new Said(spread.get(), cells.line());
    Said before = sets.putIfAbsent(set.get(), said);
    if (before != null && before.fraction() != said.fraction()) {
      cells.refuse(
          PlanColumn.SPREAD,
          String.format(
              Locale.ROOT,
              "the set '%s' has a spread of %s in line %d and of %s here; say one for the set",
              set.get(),
              Percent.words(before.fraction()),
              before.line(),
              Percent.words(said.fraction())));
      return Optional.empty();
    }
    return spread;
  }

  /**
   * A spread as a person writes it, as a part.
   *
   * @throws IllegalArgumentException with one sentence, if it is none
   */
  static double fraction(String text) {
    double part =
        Percent.fraction(text)
            .orElseThrow(
                () ->
                    new IllegalArgumentException(
                        "'" + text + "' is no spread; write it in per cent, like 1.5 %"));
    if (!(part > 0 && part <= SPREAD_MAX)) {
      throw new IllegalArgumentException(
          "a spread of "
              + text
              + " matches nothing; write more than 0 %, and "
              + Percent.words(SPREAD_MAX)
              + " at most");
    }
    return part;
  }
}
