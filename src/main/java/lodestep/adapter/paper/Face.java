package lodestep.adapter.paper;

import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.pdmodel.font.PDType0Font;

/**
 * The one face that is printed with, embedded into its document. It comes with the PDF library;
 * built-in faces of PDF viewers lack the signs that figures need.
 */
final class Face {

  private static final String RESOURCE =
      "/org/apache/pdfbox/resources/ttf/LiberationSans-Regular.ttf";

  private static final float UNITS = 1000;

  private final PDFont font;

  private Face(PDFont font) {
    this.font = font;
  }

  static Face in(PDDocument document) throws IOException {
    try (InputStream stream = PDDocument.class.getResourceAsStream(RESOURCE)) {
      if (stream == null) {
        throw new IllegalStateException("the PDF library comes without " + RESOURCE);
      }
      return new Face(PDType0Font.load(document, stream, true));
    }
  }

  PDFont font() {
    return font;
  }

  /** What can be printed of it; a sign that the face lacks becomes a question mark. */
  String printable(String words) throws IOException {
    StringBuilder kept = new StringBuilder();
    for (int sign : words.codePoints().toArray()) {
      String one = Character.toString(sign);
      kept.append(Character.isISOControl(sign) ? " " : has(one) ? one : "?");
    }
    return kept.toString();
  }

  private boolean has(String one) throws IOException {
    try {
      font.encode(one);
      return true;
    } catch (IllegalArgumentException lacking) {
      return false;
    }
  }

  /** Width in points at this size. */
  float width(String words, float size) throws IOException {
    return font.getStringWidth(printable(words)) / UNITS * size;
  }

  /** Broken between words, and a word that is too long by itself within it. */
  List<String> wrapped(String words, float size, float wide) throws IOException {
    List<String> lines = new ArrayList<>();
    StringBuilder line = new StringBuilder();
    for (String word : words.strip().split(" +", -1)) {
      String longer = line.isEmpty() ? word : line + " " + word;
      if (width(longer, size) > wide && !line.isEmpty()) {
        lines.add(line.toString());
        line.setLength(0);
        longer = word;
      }
      while (width(longer, size) > wide && longer.length() > 1) {
        int fits = fitting(longer, size, wide);
        lines.add(longer.substring(0, fits));
        longer = longer.substring(fits);
      }
      line.setLength(0);
      line.append(longer);
    }
    lines.add(line.toString());
    return lines;
  }

  private int fitting(String word, float size, float wide) throws IOException {
    int fits = 1;
    while (fits < word.length() && width(word.substring(0, fits + 1), size) <= wide) {
      fits++;
    }
    // Never in the middle of a sign of two halves.
    return Character.isHighSurrogate(word.charAt(fits - 1)) ? fits + 1 : fits;
  }
}
