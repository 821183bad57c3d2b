package lodestep.bench;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Function;
import lodestep.measure.CrossedStudy;
import lodestep.measure.PairedReadings;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Nearest;

/**
 * Readings that a person or another program wrote down, as CSV with a heading. Any thread; reads no
 * file.
 *
 * <p>A reading stands in a column headed {@code reading} with its unit in each cell ({@code 431.2
 * G}), or in one headed {@code reading G} or {@code reading mT} as plain numbers. Lines that begin
 * with {@code #} are remarks.
 *
 * <ul>
 *   <li>Crossed study: {@code magnet}, {@code person}, {@code reading}; a row a reading.
 *   <li>Placement study: {@code magnet}, {@code reading}; a row a seating, in the order taken.
 *   <li>Pairs: {@code magnet}, {@code nest}, {@code hand}; a row a magnet read by both.
 * </ul>
 */
public final class ReadingSheet {

  private static final String MAGNET = "magnet";
  private static final String PERSON = "person";
  private static final String READING = "reading";
  private static final String NEST = "nest";
  private static final String HAND = "hand";

  private static final Map<String, Function<String, FluxDensity>> UNITS =
      Map.of(
          "", FluxDensity::parse,
          " g", text -> FluxDensity.parse(text + " G"),
          " mt", text -> FluxDensity.parse(text + " mT"));

  private final Map<String, Integer> places = new LinkedHashMap<>();
  private final List<PlanSheet.Row> body;

  private ReadingSheet(String text, List<String> known) {
    PlanSheet sheet = PlanSheet.of(text);
    sheet
        .broken()
        .ifPresent(
            error -> {
              throw new IllegalArgumentException(error.written());
            });
    if (sheet.rows().size() < 2) {
      throw new IllegalArgumentException(
          "there is no heading with rows below it; the heading is: " + String.join(",", known));
    }
    PlanSheet.Row heading = sheet.rows().get(0);
    for (int at = 0; at < heading.cells().size(); at++) {
      String cell = Cell.plain(heading.cells().get(at)).toLowerCase(Locale.ROOT);
      String word = cell.replaceFirst(" (g|mt)$", "");
      if (!known.contains(word) || places.putIfAbsent(cell, at) != null) {
        throw new IllegalArgumentException(
            "line "
                + heading.line()
                + ": '"
                + cell
                + "' is no column here, or is there twice"
                + Nearest.hint(word, known)
                + "; the columns are: "
                + String.join(", ", known));
      }
    }
    body = sheet.rows().subList(1, sheet.rows().size());
  }

  /** A study's readings, and whether several persons took them. */
  public record Study(boolean crossed, List<CrossedStudy.Measured> readings) {
    public Study {
      readings = List.copyOf(readings);
    }
  }

  /**
   * Readings of a study, in tesla; crossed if there is a column {@code person}.
   *
   * @throws IllegalArgumentException with one sentence that says what is wrong and where
   */
  public static Study study(String text) {
    ReadingSheet sheet = new ReadingSheet(text, List.of(MAGNET, PERSON, READING));
    boolean crossed = sheet.places.containsKey(PERSON);
    List<CrossedStudy.Measured> readings = new ArrayList<>();
    for (PlanSheet.Row row : sheet.body) {
      readings.add(
          new CrossedStudy.Measured(
              sheet.name(row, MAGNET),
              crossed ? sheet.name(row, PERSON) : "",
              sheet.reading(row, READING).tesla()));
    }
    return new Study(crossed, readings);
  }

  /**
   * Magnets read in the nest and with a hand gauge.
   *
   * @throws IllegalArgumentException with one sentence that says what is wrong and where
   */
  public static PairedReadings pairs(String text) {
    ReadingSheet sheet = new ReadingSheet(text, List.of(MAGNET, NEST, HAND));
    List<PairedReadings.Pair> pairs = new ArrayList<>();
    for (PlanSheet.Row row : sheet.body) {
      pairs.add(
          new PairedReadings.Pair(
              sheet.name(row, MAGNET), sheet.reading(row, NEST), sheet.reading(row, HAND)));
    }
    return new PairedReadings(pairs);
  }

  private String name(PlanSheet.Row row, String column) {
    String name = cell(row, place(column), column);
    return Cell.label(column, name);
  }

  private FluxDensity reading(PlanSheet.Row row, String column) {
    for (Map.Entry<String, Function<String, FluxDensity>> unit : UNITS.entrySet()) {
      Integer place = places.get(column + unit.getKey());
      if (place != null) {
        return parsed(row, cell(row, place, column), unit.getValue());
      }
    }
    throw missing(column);
  }

  private static FluxDensity parsed(
      PlanSheet.Row row, String text, Function<String, FluxDensity> unit) {
    try {
      return unit.apply(text);
    } catch (IllegalArgumentException unreadable) {
      throw new IllegalArgumentException(
          "line " + row.line() + ": " + unreadable.getMessage(), unreadable);
    }
  }

  private int place(String column) {
    Integer place = places.get(column);
    if (place == null) {
      throw missing(column);
    }
    return place;
  }

  private static IllegalArgumentException missing(String column) {
    return new IllegalArgumentException("the column '" + column + "' is missing");
  }

  private static String cell(PlanSheet.Row row, int place, String column) {
    String text = place < row.cells().size() ? Cell.plain(row.cells().get(place)) : "";
    if (text.isEmpty()) {
      throw new IllegalArgumentException(
          "line " + row.line() + ": the " + column + " is left empty");
    }
    return text;
  }
}
