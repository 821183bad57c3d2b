package lodestep.adapter.paper;

import java.io.IOException;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.apache.pdfbox.pdmodel.graphics.state.RenderingMode;
import org.apache.pdfbox.util.Matrix;

/** Draws on one page, in points from its bottom left. Black on white throughout. */
final class Pen {

  private static final float BOLDER = 0.028f;
  private static final float HALF = 0.5f;

  private final PDPageContentStream stream;
  private final Face face;

  Pen(PDPageContentStream stream, Face face) {
    this.stream = stream;
    this.face = face;
  }

  Face face() {
    return face;
  }

  void words(String words, float x, float y, float size) throws IOException {
    stream.beginText();
    stream.setFont(face.font(), size);
    stream.newLineAtOffset(x, y);
    stream.showText(face.printable(words));
    stream.endText();
  }

  /** Its last letter ends at {@code x}. */
  void wordsUpTo(String words, float x, float y, float size) throws IOException {
    words(words, x - face.width(words, size), y, size);
  }

  void wordsAbout(String words, float x, float y, float size) throws IOException {
    words(words, x - HALF * face.width(words, size), y, size);
  }

  /** The same face with its outline drawn: there is no second one to embed. */
  void bold(String words, float x, float y, float size) throws IOException {
    stream.saveGraphicsState();
    stream.setRenderingMode(RenderingMode.FILL_STROKE);
    stream.setLineWidth(size * BOLDER);
    words(words, x, y, size);
    stream.restoreGraphicsState();
  }

  /** Upwards, its middle at this height. */
  void upwards(String words, float x, float y, float size) throws IOException {
    turned(words, x, y - HALF * face.width(words, size), size, Math.PI / 2);
  }

  private void turned(String words, float x, float y, float size, double radians)
      throws IOException {
    stream.beginText();
    stream.setFont(face.font(), size);
    stream.setTextMatrix(Matrix.getRotateInstance(radians, x, y));
    stream.showText(face.printable(words));
    stream.endText();
  }

  /** A word in outline across a rectangle, from its bottom left to its top right. */
  void across(String word, float wide, float high) throws IOException {
    double radians = Math.atan2(high, wide);
    float diagonal = (float) Math.hypot(wide, high);
    float size = 0.72f * diagonal / face.width(word, 1);
    float length = face.width(word, size);
    float along = HALF * (diagonal - length);
    float aside = 0.35f * size;
    double cos = Math.cos(radians);
    double sin = Math.sin(radians);
    stream.saveGraphicsState();
    stream.setRenderingMode(RenderingMode.STROKE);
    stream.setStrokingColor(0.55f);
    stream.setLineWidth(0.6f);
    turned(
        word,
        (float) (along * cos + aside * sin),
        (float) (along * sin - aside * cos),
        size,
        radians);
    stream.restoreGraphicsState();
  }

  void line(float fromX, float fromY, float toX, float toY, float wide) throws IOException {
    stream.setLineWidth(wide);
    stream.moveTo(fromX, fromY);
    stream.lineTo(toX, toY);
    stream.stroke();
  }

  void box(float x, float y, float wide, float high) throws IOException {
    stream.setLineWidth(0.4f);
    stream.addRect(x, y, wide, high);
    stream.stroke();
  }

  /** Points joined by lines, dashed as told; nothing for an empty list of dashes. */
  void joined(float[] x, float[] y, float[] dashes) throws IOException {
    stream.setLineWidth(0.9f);
    stream.setLineDashPattern(dashes, 0);
    stream.moveTo(x[0], y[0]);
    for (int at = 1; at < x.length; at++) {
      stream.lineTo(x[at], y[at]);
    }
    stream.stroke();
    stream.setLineDashPattern(new float[0], 0);
  }

  void dot(float x, float y, float radius) throws IOException {
    stream.addRect(x - radius, y - radius, 2 * radius, 2 * radius);
    stream.fill();
  }

  /** A square code, its top left corner here, its quiet rim within this side. */
  void code(SquareCode code, float x, float top, float side) throws IOException {
    float module = side / (code.side() + 2 * SquareCode.QUIET);
    for (int down = 0; down < code.side(); down++) {
      for (int across = 0; across < code.side(); across++) {
        if (code.dark(across, down)) {
          stream.addRect(
              x + (across + SquareCode.QUIET) * module,
              top - (down + 1 + SquareCode.QUIET) * module,
              module,
              module);
        }
      }
    }
    stream.fill();
  }
}
