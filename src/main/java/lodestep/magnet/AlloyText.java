package lodestep.magnet;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;

/**
 * Reads tables of alloys: first a line for each source, which indented lines go on with; then
 * blocks with an alloy in each column and a figure in each row. Confined to one reading.
 */
final class AlloyText {

  private static final String UNKNOWN = "-";
  private static final String SOURCE = "source ";

  private final Map<String, FigureSource> sources = new HashMap<>();
  private final List<Alloy> alloys = new ArrayList<>();

  /**
   * The alloys of a text, in its order.
   *
   * @throws IllegalArgumentException saying what is wrong with it
   */
  static List<Alloy> read(String text) {
    AlloyText reading = new AlloyText();
    for (String block : text.strip().split("\\n\\n", -1)) {
      if (block.startsWith(SOURCE)) {
        reading.sources(block);
      } else {
        reading.alloys(block);
      }
    }
    return reading.alloys;
  }

  private void sources(String block) {
    for (String line : block.replaceAll("\\n +", " ").split("\\n", -1)) {
      List<String> cells = cells(line);
      String mark = cells.get(0).substring(SOURCE.length());
      FigureSource.Kind kind =
          named(FigureSource.Kind.values(), FigureSource.Kind::words, cells.get(1));
      sources.put(mark, new FigureSource(kind, cells.get(2)));
    }
  }

  private void alloys(String block) {
    Map<String, List<String>> rows = new HashMap<>();
    block.lines().map(AlloyText::cells).forEach(row -> rows.put(row.get(0), row));
    List<String> names = row(rows, "name");
    for (int column = 1; column < names.size(); column++) {
      alloys.add(alloy(rows, column));
    }
  }

  private Alloy alloy(Map<String, List<String>> rows, int column) {
    Map<Figure, Alloy.Known> figures = new EnumMap<>(Figure.class);
    for (Figure figure : Figure.values()) {
      String cell = row(rows, figure.heading()).get(column);
      if (!cell.equals(UNKNOWN)) {
        figures.put(figure, figure(figure, cell));
      }
    }
    Alloy.Family family =
        named(Alloy.Family.values(), Alloy.Family::words, row(rows, "family").get(column));
    return new Alloy(row(rows, "name").get(column), family, row(rows, "form").get(column), figures);
  }

  private Alloy.Known figure(Figure figure, String cell) {
    int blank = cell.indexOf(' ');
    FigureSource source = sources.get(cell.substring(blank + 1));
    if (blank < 0 || source == null) {
      throw new IllegalArgumentException("'" + cell + "' bears no mark of a source");
    }
    return new Alloy.Known(figure.read(Double.parseDouble(cell.substring(0, blank))), source);
  }

  private static List<String> row(Map<String, List<String>> rows, String heading) {
    List<String> row = rows.get(heading);
    if (row == null) {
      throw new IllegalArgumentException("a table of alloys has no row '" + heading + "'");
    }
    return row;
  }

  private static List<String> cells(String line) {
    return Arrays.stream(line.split("\\|", -1)).map(String::strip).toList();
  }

  private static <E> E named(E[] all, Function<E, String> words, String text) {
    return Arrays.stream(all)
        .filter(one -> words.apply(one).equals(text))
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException("'" + text + "' is not known here"));
  }
}
