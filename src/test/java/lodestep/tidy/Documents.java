package lodestep.tidy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** What must hold of every Markdown file: one title, and every path it names is there. */
final class Documents {

  private static final Pattern LINK = Pattern.compile("\\]\\(([^)\\s]+)\\)");

  /** A path in code style from the repository's root: its first folder is one of ours. */
  private static final Pattern PATH =
      Pattern.compile("`((?:src|firmware-host|hardware-notes|safety)/[\\w./-]*)`");

  private Documents() {}

  /** Findings in one file, as {@code file:line: what}. */
  static List<String> findings(Path root, Path file, String text) {
    List<String> found = new ArrayList<>();
    String name = root.relativize(file).toString();
    int titles = 0;
    boolean fenced = false;
    List<String> lines = text.lines().toList();
    for (int index = 0; index < lines.size(); index++) {
      String line = lines.get(index);
      String where = name + ":" + (index + 1) + ": ";
      if (line.startsWith("```")) {
        fenced = !fenced;
      } else if (!fenced) {
        titles += line.startsWith("# ") ? 1 : 0;
        brokenLinks(root, file, line).forEach(link -> found.add(where + "leads nowhere: " + link));
      }
    }
    if (titles != 1) {
      found.add(
          name + ":1: has " + titles + " titles (lines beginning '# '); it needs exactly one");
    }
    return found;
  }

  private static List<String> brokenLinks(Path root, Path file, String line) {
    List<String> broken = new ArrayList<>();
    Matcher link = LINK.matcher(line);
    while (link.find()) {
      String target = link.group(1).replaceAll("#.*", "");
      boolean outside = link.group(1).matches("(?i)[a-z]+:.*");
      if (!outside && !target.isEmpty() && !Files.exists(file.resolveSibling(target))) {
        broken.add(link.group(1));
      }
    }
    Matcher path = PATH.matcher(line);
    while (path.find()) {
      if (!Files.exists(root.resolve(path.group(1)))) {
        broken.add(path.group(1));
      }
    }
    return broken;
  }
}
