package lodestep.cli;

import java.io.PrintWriter;
import java.util.List;

/** The usual cautions, shown where people act. */
final class Cautions {

  private static final List<String> LINES =
      List.of(
          "CAUTION  Strong magnets crush and shatter: eye protection, gloves, one at a time.",
          "         Keep away from pacemakers and other implants, cards, watches, drives; and from",
          "         children. A filled bank and a hot coil hurt: wait until the lamp says ready.",
          "         Mains only by a ready-made certified supply. Local codes come first.");

  private Cautions() {}

  static void show(PrintWriter out) {
    LINES.forEach(out::println);
    out.println();
    out.flush();
  }
}
