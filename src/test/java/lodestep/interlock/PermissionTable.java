package lodestep.interlock;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;

/** Reads {@code safety/permission-table.txt}; its head says how it is written. */
final class PermissionTable {

  /** One line: fits a row when the row's bits under {@code mask} equal {@code value}. */
  record Line(String what, boolean yes, int mask, int value, int number) {
    boolean fits(int row) {
      return (row & mask) == value;
    }
  }

  private static final Pattern BLANKS = Pattern.compile("\\s+");

  private PermissionTable() {}

  static List<Line> read() throws IOException {
    Path file =
        Path.of(System.getProperty("lodestep.repository", "."), "safety", "permission-table.txt");
    return parse(Files.readAllLines(file));
  }

  static List<Line> parse(List<String> text) {
    List<Line> lines = new ArrayList<>();
    for (int i = 0; i < text.size(); i++) {
      String content = text.get(i).replaceFirst("#.*", "").strip();
      if (!content.isEmpty()) {
        lines.add(parse(content, i + 1));
      }
    }
    return lines;
  }

  private static Line parse(String content, int number) {
    List<String> words = BLANKS.splitAsStream(content).toList();
    int conditions = Condition.values().length;
    if (words.size() != 2 + conditions || !words.get(1).matches("yes|no")) {
      throw new IllegalArgumentException("line " + number + " is not a verdict: " + content);
    }
    int mask = 0;
    int value = 0;
    for (int i = 0; i < conditions; i++) {
      String sign = words.get(2 + i);
      if (!sign.matches("[-01]")) {
        throw new IllegalArgumentException("line " + number + " has a wrong sign: " + sign);
      }
      mask |= sign.equals("-") ? 0 : 1 << i;
      value |= sign.equals("1") ? 1 << i : 0;
    }
    return new Line(words.get(0), words.get(1).equals("yes"), mask, value, number);
  }
}
