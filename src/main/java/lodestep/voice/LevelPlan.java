package lodestep.voice;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import lodestep.bench.Matching;
import lodestep.port.StockEvent.BuildNoted;
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

  private static final String NORTH = "north";
  private static final String SOUTH = "south";

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
      String tolerance,
      String spread) {}

  /**
   * What is asked.
   *
   * @param set what the set is called
   * @param levels of each position, the lowest string first, with semicolons between; one level for
   *     one bar
   * @param tolerance as a plan has it
   * @param spread how far the magnets of a set may differ from one another, as a plan has it; empty
   *     for no rule
   * @param reverse a second set of the same levels with its poles the other way; empty for none
   */
  public record Asked(
      String set, String levels, String tolerance, String spread, Optional<String> reverse) {

    private void requireSpread(String sign, int positions) {
      if (spread.isBlank()) {
        return;
      }
      if (positions == 1) {
        throw new IllegalArgumentException(
            sign + "spread: of one magnet there is nothing to match; leave it out");
      }
      PickupAsked.said(sign + "spread", () -> Matching.spread(spread.strip()));
    }
  }

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
    choice.requireSpread(sign, wanted.size());
    String set = choice.set().strip();
    List<Place> places = places(asked, words, wanted);
    List<Row> rows = new ArrayList<>(rows(words, set, choice, places));
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
              List<Place> turned = places.stream().map(Place::turned).toList();
              rows.addAll(rows(words, name, choice, turned));
            });
    return new LevelPlan(set, rows);
  }

  /**
   * A position of the set.
   *
   * @param note of its string; empty where the strings are not those of the set
   */
  private record Place(FluxDensity level, String note, boolean north) {
    Place turned() {
      return new Place(level, note, !north);
    }
  }

  /** The lowest string first, whichever order the strings and their poles are written in. */
  private static List<Place> places(
      PickupAsked asked, PickupWords words, List<FluxDensity> wanted) {
    StringSet strings = asked.stringSet(words);
    List<Integer> order = strings.lowestFirst();
    boolean each = order.size() == wanted.size();
    String poles = words.get(Said.POLES_UP);
    if (!each && poles.contains(";")) {
      throw asManyStrings(asked, wanted.size(), order.size());
    }
    List<Boolean> north = asked.north(poles, wanted.size());
    List<Place> places = new ArrayList<>();
    for (int at = 0; at < wanted.size(); at++) {
      int written = each ? order.get(at) : at;
      String note = each && wanted.size() > 1 ? strings.tuned().get(written).note() : "";
      places.add(new Place(wanted.get(at), note, north.get(written)));
    }
    return places;
  }

  /**
   * The poles that a note's levels show, in the order in which its strings are written: a level
   * below zero is one of south. Nothing where the poles are said.
   *
   * @throws IllegalArgumentException where they change and the strings are not those of the note
   */
  public static PickupWords poles(PickupAsked asked, PickupWords words, BuildNoted note) {
    if (words.says(Said.POLES_UP)) {
      return new PickupWords(Map.of());
    }
    List<Long> levels = note.levelsMicroTesla();
    if (levels.stream().allMatch(level -> level >= 0)) {
      return new PickupWords(Map.of(Said.POLES_UP, NORTH));
    }
    if (levels.stream().allMatch(level -> level < 0)) {
      return new PickupWords(Map.of(Said.POLES_UP, SOUTH));
    }
    List<Integer> order = asked.stringSet(words).lowestFirst();
    if (order.size() != levels.size()) {
      throw asManyStrings(asked, levels.size(), order.size());
    }
    String[] written = new String[order.size()];
    for (int at = 0; at < written.length; at++) {
      written[order.get(at)] = levels.get(at) < 0 ? SOUTH : NORTH;
    }
    return new PickupWords(Map.of(Said.POLES_UP, String.join("; ", written)));
  }

  private static IllegalArgumentException asManyStrings(
      PickupAsked asked, int levels, int strings) {
    return new IllegalArgumentException(
        String.format(
            Locale.ROOT,
            "%1$spoles-up: poles that change are read in the order in which the strings are"
                + " written; there are levels for %2$d, and strings for %3$d: say as many by"
                + " %1$sstrings",
            asked.sign(),
            levels,
            strings));
  }

  private static String name(String set, List<Place> places, int at) {
    if (places.size() == 1) {
      return set;
    }
    String note = places.get(at).note();
    return set + "-" + (at + 1) + (note.isEmpty() ? "" : "-" + note);
  }

  private static List<Row> rows(PickupWords words, String set, Asked choice, List<Place> places) {
    if (set.isEmpty()) {
      throw new IllegalArgumentException("a set has a name");
    }
    List<Row> rows = new ArrayList<>();
    for (int at = 0; at < places.size(); at++) {
      rows.add(
          new Row(
              name(set, places, at),
              set,
              words.get(Said.ALLOY),
              words.get(Said.SHAPE),
              words.get(Said.SIZE),
              places.get(at).north() ? NORTH : SOUTH,
              places.get(at).level().inGauss(),
              choice.tolerance().strip(),
              choice.spread().strip()));
    }
    return rows;
  }
}
