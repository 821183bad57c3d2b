package lodestep.tidy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/** The repository as files; its place is handed in by the build. */
final class Repository {

  private static final Path ROOT = Path.of(System.getProperty("lodestep.repository"));

  private Repository() {}

  static Path root() {
    return ROOT;
  }

  /**
   * Files under a folder whose names end so, in the order of their names; none if there is none.
   */
  static List<Path> files(String folder, String suffix) throws IOException {
    Path start = ROOT.resolve(folder);
    if (!Files.exists(start)) {
      return List.of();
    }
    try (Stream<Path> walk = Files.walk(start)) {
      return walk.filter(Files::isRegularFile)
          .filter(file -> file.getFileName().toString().endsWith(suffix))
          .filter(file -> !isBuilt(ROOT.relativize(file)))
          .sorted()
          .toList();
    }
  }

  private static boolean isBuilt(Path relative) {
    String first = relative.getName(0).toString();
    return first.equals("target") || first.equals(".git");
  }

  /** The file's name as a person would look for it, from the repository's root. */
  static String name(Path file) {
    return ROOT.relativize(file).toString();
  }
}
