package lodestep.app;

import java.util.Optional;

/** Entry point of the program. */
public final class Main {

  private Main() {}

  /** Prints the version; every argument is ignored. */
  public static void main(String[] arguments) {
    System.out.println("lodestep " + version());
  }

  /** The version in the jar's manifest, or "unpacked" when run from class files. */
  static String version() {
    return Optional.ofNullable(Main.class.getPackage().getImplementationVersion())
        .orElse("unpacked");
  }
}
