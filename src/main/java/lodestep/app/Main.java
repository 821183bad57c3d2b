package lodestep.app;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import lodestep.cli.Commands;

/** Entry point of the program. */
public final class Main {

  private Main() {}

  /** Runs one command and exits with its code: 0 done, 1 not accepted, 2 bad input, 3 tripped. */
  public static void main(String[] arguments) {
    PrintWriter out = new PrintWriter(System.out, false, StandardCharsets.UTF_8);
    PrintWriter err = new PrintWriter(System.err, true, StandardCharsets.UTF_8);
    try {
      Diagnostics.writeTo(Diagnostics.usualFolder(System.getenv()));
    } catch (IOException unwritable) {
      err.println(
          "lodestep: no diagnostics are kept, as their folder cannot be made: "
              + unwritable.getMessage());
    }
    int code =
        Commands.run(new Wiring(Outside.usual(System.in, atTerminal())), out, err, arguments);
    out.flush();
    System.exit(code);
  }

  /** Whether a person sits there: Java 17, for which this is built, has a console only then. */
  @SuppressWarnings("SystemConsoleNull")
  private static boolean atTerminal() {
    return System.console() != null;
  }

  /** The version in the jar's manifest, or "unpacked" when run from class files. */
  static String version() {
    return Optional.ofNullable(Main.class.getPackage().getImplementationVersion())
        .orElse("unpacked");
  }
}
