package lodestep.voice;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lodestep.quantity.FluxDensity;

/**
 * A choice of levels as rows of a plan, a row a position, the lowest string first. Any thread,
 * immutable.
 *
 * @param set what it is called
 */
public record LevelPlan(String set, List<Row> rows) {

  /** As many as any pickup has, twice over; common practice, no source. */
  private static final int POSITIONS_MAX = 24;

  public LevelPlan {
    rows = List.copyOf(rows);
  }

  /** One row, each cell as a plan has it. */
  public record Row(
      String name,
      String set,
      String alloy,
      String shape,
      String size,
      String poleUp,
      String target,
      String tolerance) {}

  /**
   * What is asked.
   *
   * @param set what the set is called
   * @param levels of each position, with semicolons between; one level for one bar
   * @param tolerance as a plan has it
   * @param reverse a second set of the same levels with its poles the other way; empty for none
   */
  public record Asked(String set, String levels, String tolerance, Optional<String> reverse) {}

  /**
   * The rows; what a plan's reader thinks of them is its own.
   *
   * @param words the magnet, and the poles it shows the strings
   * @throws IllegalArgumentException with one sentence that names the field
   */
  public static LevelPlan of(PickupAsked asked, PickupWords words, Asked choice) {
    String sign = asked.sign();
    List<FluxDensity> wanted =
        Arrays.stream(choice.levels().split(";", -1))
            .map(
                each ->
                    PickupAsked.said(sign + "levels", () -> FluxDensity.parse(each).magnitude()))
            .toList();
    if (wanted.size() > POSITIONS_MAX) {
      throw new IllegalArgumentException(
          sign + "levels: a set has up to " + POSITIONS_MAX + " positions");
    }
    if (choice.tolerance().isBlank()) {
      throw new IllegalArgumentException(
          sign + "tolerance: say how far off a level may be, like 9 G or 2 %");
    }
    List<Boolean> north = asked.north(words.get(Said.POLES_UP), wanted.size());
    String set = choice.set().strip();
    List<Row> rows = new ArrayList<>(rows(words, set, choice.tolerance(), wanted, north));
    choice
        .reverse()
        .map(String::strip)
        .filter(name -> !name.isEmpty())
        .ifPresent(
            name -> {
              if (name.equalsIgnoreCase(set)) {
                throw new IllegalArgumentException(
                    sign + "reverse: the partner has a name of its own, not '" + name + "'");
              }
              List<Boolean> turned = north.stream().map(each -> !each).toList();
              rows.addAll(rows(words, name, choice.tolerance(), wanted, turned));
            });
    return new LevelPlan(set, rows);
  }

  private static List<Row> rows(
      PickupWords words,
      String set,
      String tolerance,
      List<FluxDensity> wanted,
      List<Boolean> north) {
    if (set.isEmpty()) {
      throw new IllegalArgumentException("a set has a name");
    }
    List<Row> rows = new ArrayList<>();
    for (int at = 0; at < wanted.size(); at++) {
      rows.add(
          new Row(
              wanted.size() == 1 ? set : set + "-" + (at + 1),
              set,
              words.get(Said.ALLOY),
              words.get(Said.SHAPE),
              words.get(Said.SIZE),
              north.get(at) ? "north" : "south",
              wanted.get(at).inGauss(),
              tolerance.strip()));
    }
    return rows;
  }
}
