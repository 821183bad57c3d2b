package lodestep.cli;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;

/** The usual cautions, shown where people act: the text to which the safety folder links. */
final class Cautions {

  private static final String TEXT = "/lodestep/cautions.txt";

  private Cautions() {}

  static void show(PrintWriter out) {
    try (InputStream stream = Cautions.class.getResourceAsStream(TEXT)) {
      if (stream == null) {
        throw new IllegalStateException("the program's own file " + TEXT + " is missing");
      }
      out.println(new String(stream.readAllBytes(), StandardCharsets.UTF_8));
      out.flush();
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    }
  }
}
