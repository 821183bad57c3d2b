package lodestep.voice;

import java.util.List;
import lodestep.port.Plot;

/**
 * An answer in words, tables and curves, as a command prints it and the page shows it: there is one
 * source of each sentence. Any thread, immutable.
 *
 * @param passages in their order
 * @param plots what can be drawn of it
 */
public record Told(List<Passage> passages, List<Plot> plots) {

  /** Before whatever only custom says. */
  public static final String CUSTOM =
      "Custom (common practice, no source; nothing of it is reckoned): ";

  public Told {
    passages = List.copyOf(passages);
    plots = List.copyOf(plots);
  }

  /** A piece of it. */
  public sealed interface Passage {

    /** Above all: what it is of. */
    record Heading(String text) implements Passage {}

    /** What was reckoned, or how far it holds. */
    record Sentence(String text) implements Passage {}

    /** What only custom says; its text says so too. */
    record Custom(String text) implements Passage {
      /** The same, marked. */
      public static Custom of(String text) {
        return new Custom(CUSTOM + text + ".");
      }
    }

    /**
     * A table.
     *
     * @param name what it is of, in words
     * @param shown whether the name is shown above it
     * @param columns headings; one that ends in nothing is a column without
     * @param words how many columns from the left hold words, the others figures
     * @param rows each with as many cells as columns
     */
    record Rows(
        String name, boolean shown, List<String> columns, int words, List<List<String>> rows)
        implements Passage {
      public Rows {
        columns = List.copyOf(columns);
        rows = rows.stream().<List<String>>map(List::copyOf).toList();
      }
    }
  }
}
