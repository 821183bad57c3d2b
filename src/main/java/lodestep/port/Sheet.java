package lodestep.port;

import java.util.List;
import java.util.Optional;

/**
 * A sheet of paper to be handed over: what stands on it, from top to bottom, and nothing of how it
 * looks. Any thread, immutable.
 *
 * @param title in one line
 * @param across a word printed large across the sheet, such as VIRTUAL
 * @param parts from top to bottom
 * @param code what a square code at the top right holds
 * @param foot last line of the sheet
 */
public record Sheet(
    String title, Optional<String> across, List<Part> parts, Optional<String> code, String foot) {

  public Sheet {
    parts = List.copyOf(parts);
  }

  /** A part of a sheet. */
  public sealed interface Part {}

  /** A line that names what follows. */
  public record Heading(String words) implements Part {}

  /** Running text. */
  public record Words(String words) implements Part {}

  /** Names with what stands for them, one below the other. */
  public record Facts(List<Fact> facts) implements Part {
    public Facts {
      facts = List.copyOf(facts);
    }
  }

  /** A name and what stands for it. */
  public record Fact(String name, String value) {}

  /**
   * A table.
   *
   * @param columns their heads
   * @param numbers whether each column is set to the right
   * @param rows each as long as the heads
   */
  public record Grid(List<String> columns, List<Boolean> numbers, List<List<String>> rows)
      implements Part {

    /**
     * @throws IllegalArgumentException if a row is longer or shorter than the heads
     */
    public Grid {
      columns = List.copyOf(columns);
      numbers = List.copyOf(numbers);
      rows = rows.stream().map(List::copyOf).toList();
      int wide = columns.size();
      if (numbers.size() != wide || rows.stream().anyMatch(row -> row.size() != wide)) {
        throw new IllegalArgumentException("a table's rows are as long as its heads");
      }
    }
  }

  /** Curves. */
  public record Curves(Plot plot) implements Part {}
}
