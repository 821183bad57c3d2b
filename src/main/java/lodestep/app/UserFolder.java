package lodestep.app;

import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;

/** Where a user's files go, by the XDG Base Directory Specification 0.8. Pure but for the home. */
final class UserFolder {

  private UserFolder() {}

  /**
   * This program's folder in the one that the variable names. As the specification has it, a
   * variable that is not set, or holds a path that is not absolute, counts for nothing.
   *
   * @param environment of the process
   * @param usual what stands for the variable otherwise, below the user's home
   */
  static Path of(Map<String, String> environment, String variable, String usual) {
    Path base =
        absolute(environment, variable)
            .orElseGet(
                () ->
                    absolute(environment, "HOME")
                        .orElseGet(() -> Path.of(System.getProperty("user.home", ".")))
                        .resolve(usual));
    return base.resolve("lodestep");
  }

  private static Optional<Path> absolute(Map<String, String> environment, String variable) {
    return Optional.of(environment.getOrDefault(variable, ""))
        .filter(text -> !text.isBlank())
        .map(Path::of)
        .filter(Path::isAbsolute);
  }
}
