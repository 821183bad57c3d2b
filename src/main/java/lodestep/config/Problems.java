package lodestep.config;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.tomlj.TomlPosition;

/** Everything found wrong with one file. Confined to one reading of it. */
final class Problems {

  private record Problem(TomlPosition at, String sentence) {}

  private static final Comparator<Problem> IN_FILE_ORDER =
      Comparator.comparingInt((Problem problem) -> problem.at().line())
          .thenComparingInt(problem -> problem.at().column());

  private final String fileName;
  private final List<Problem> found = new ArrayList<>();

  Problems(String fileName) {
    this.fileName = fileName;
  }

  void add(TomlPosition at, String sentence) {
    found.add(new Problem(at, sentence));
  }

  int count() {
    return found.size();
  }

  /** Each as {@code file:line:column: sentence}, in the order of the file. */
  List<String> written() {
    return found.stream()
        .sorted(IN_FILE_ORDER)
        .map(
            problem ->
                fileName
                    + ":"
                    + problem.at().line()
                    + ":"
                    + problem.at().column()
                    + ": "
                    + problem.sentence())
        .toList();
  }
}
