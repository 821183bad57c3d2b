package lodestep.app;

import java.util.Optional;
import lodestep.cli.Commands;

/** Entry point of the program. */
public final class Main {

  private Main() {}

  /** Runs one command and exits with its code: 0 done, 1 not accepted, 2 bad input, 3 tripped. */
  public static void main(String[] arguments) {
    System.exit(Commands.run(new Wiring(), arguments));
  }

  /** The version in the jar's manifest, or "unpacked" when run from class files. */
  static String version() {
    return Optional.ofNullable(Main.class.getPackage().getImplementationVersion())
        .orElse("unpacked");
  }
}
