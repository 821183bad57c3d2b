package lodestep.cli;

import java.util.ArrayList;
import java.util.List;

/** A text in lines of a width, hanging under its label. Pure. */
final class Wrapped {

  private Wrapped() {}

  /** Lines that begin with the label, then with as many blanks; a longer word stands alone. */
  static List<String> lines(String label, String text, int columns) {
    List<String> lines = new ArrayList<>();
    StringBuilder line = new StringBuilder(label);
    boolean empty = true;
    for (String word : text.split(" ", -1)) {
      if (!empty && Columns.of(line.toString()) + 1 + Columns.of(word) > columns) {
        lines.add(line.toString());
        line = new StringBuilder(" ".repeat(label.length()));
        empty = true;
      }
      line.append(empty ? "" : " ").append(word);
      empty = false;
    }
    lines.add(line.toString());
    return List.copyOf(lines);
  }
}
