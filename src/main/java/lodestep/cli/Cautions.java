package lodestep.cli;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.Stream;
import lodestep.config.ChargeBy;
import lodestep.config.RigConfig;

/** The usual cautions, shown where people act: the text to which the safety folder links. */
public final class Cautions {

  private static final String TEXT = "/lodestep/cautions.txt";
  private static final String BY_HAND = "/lodestep/cautions-by-hand.txt";
  private static final String BANK = "/lodestep/cautions-bank.txt";
  private static final String COIL = "/lodestep/cautions-coil.txt";
  private static final String JIG = "/lodestep/cautions-jig.txt";

  private Cautions() {}

  static void show(PrintWriter out) {
    show(TEXT, out);
  }

  /** The heads of it in one line, for a command that is used many times a day. */
  static void showShort(PrintWriter out) {
    out.println(
        "Caution: charged magnets crush and shatter. Eye protection, one at a time; away from");
    out.println("implants, cards, watches, drives and children. All of it: lodestep demo");
    out.flush();
  }

  /** What is added where hands, not a rig, move the magnets. */
  static void showByHand(PrintWriter out) {
    show(BY_HAND, out);
  }

  /** The same in paragraphs, for whoever shows them elsewhere. */
  public static List<String> byHand() {
    StringWriter words = new StringWriter();
    showByHand(new PrintWriter(words));
    return Stream.of(words.toString().strip().split("\\n\\s*\\n", -1))
        .skip(1)
        .map(paragraph -> paragraph.replaceAll("\\s+", " ").strip())
        .toList();
  }

  /** What every rig needs, and what is added for each part that this one has. */
  static void showFor(RigConfig rig, PrintWriter out) {
    show(out);
    if (rig.hasBank()) {
      show(BANK, out);
    }
    if (!rig.coils().isEmpty()) {
      show(COIL, out);
    }
    if (rig.jig().isPresent()) {
      show(JIG, out);
    }
    if (rig.sources().charge() == ChargeBy.HAND) {
      showByHand(out);
    }
  }

  /** The same in one text, for whoever shows it elsewhere. */
  public static String of(RigConfig rig) {
    StringWriter words = new StringWriter();
    showFor(rig, new PrintWriter(words));
    return words.toString();
  }

  private static void show(String text, PrintWriter out) {
    try (InputStream stream = Cautions.class.getResourceAsStream(text)) {
      if (stream == null) {
        throw new IllegalStateException("the program's own file " + text + " is missing");
      }
      out.println(new String(stream.readAllBytes(), StandardCharsets.UTF_8));
      out.flush();
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    }
  }
}
