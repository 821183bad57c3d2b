package lodestep.adapter.paper;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lodestep.port.Sheet;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.apache.pdfbox.pdmodel.common.PDRectangle;

/** A sheet as PDF, A4, black on white; what does not fit goes on to another page. */
public final class SheetPdf {

  private static final float WIDE = PDRectangle.A4.getWidth();
  private static final float HIGH = PDRectangle.A4.getHeight();
  private static final float MARGIN = 48;
  private static final float FOOT = 34;
  private static final float CODE = 92;
  private static final float TITLE = 16;
  private static final float SIZE = 9;
  private static final float LINE = 12;
  private static final float GAP = 7;
  private static final float FACT_VALUES = 132;
  private static final float CURVES = 142;
  private static final float CELL = 6;

  private final PDDocument document;
  private final Face face;
  private final Sheet sheet;
  private final List<PDPageContentStream> streams = new ArrayList<>();
  private Optional<Pen> page = Optional.empty();
  private float y;
  private float codeEnds;

  private SheetPdf(PDDocument document, Sheet sheet) throws IOException {
    this.document = document;
    this.sheet = sheet;
    this.face = Face.in(document);
  }

  /**
   * The sheet as the bytes of a PDF file; the same sheet gives the same bytes.
   *
   * @throws IllegalArgumentException if its code holds too much
   */
  public static byte[] of(Sheet sheet) {
    try (PDDocument document = new PDDocument();
        ByteArrayOutputStream bytes = new ByteArrayOutputStream()) {
      // Else it is drawn from the time of day.
      document.setDocumentId((long) sheet.hashCode());
      document.getDocumentInformation().setTitle(sheet.title());
      new SheetPdf(document, sheet).draw();
      document.save(bytes);
      return bytes.toByteArray();
    } catch (IOException impossible) {
      throw new IllegalStateException("a document in memory cannot be written", impossible);
    }
  }

  private void draw() throws IOException {
    turn();
    head();
    for (Sheet.Part part : sheet.parts()) {
      part(part);
    }
    for (int at = 0; at < streams.size(); at++) {
      Pen pen = new Pen(streams.get(at), face);
      pen.line(MARGIN, FOOT + LINE, WIDE - MARGIN, FOOT + LINE, 0.4f);
      pen.words(sheet.foot(), MARGIN, FOOT, SIZE - 1.5f);
      if (streams.size() > 1) {
        String number = "page " + (at + 1) + " of " + streams.size();
        pen.wordsUpTo(number, WIDE - MARGIN, FOOT, SIZE - 1.5f);
      }
      streams.get(at).close();
    }
  }

  private void turn() throws IOException {
    PDPage added = new PDPage(PDRectangle.A4);
    document.addPage(added);
    PDPageContentStream stream = new PDPageContentStream(document, added);
    streams.add(stream);
    Pen pen = new Pen(stream, face);
    page = Optional.of(pen);
    y = HIGH - MARGIN;
    if (sheet.across().isPresent()) {
      pen.across(sheet.across().get(), WIDE, HIGH);
    }
  }

  private Pen pen() {
    return page.orElseThrow();
  }

  private void head() throws IOException {
    float wide = WIDE - 2 * MARGIN - (sheet.code().isPresent() ? CODE : 0);
    if (sheet.code().isPresent()) {
      SquareCode code = SquareCode.of(sheet.code().get());
      pen().code(code, WIDE - MARGIN - CODE + 10, HIGH - MARGIN + 18, CODE);
      codeEnds = HIGH - MARGIN + 18 - CODE;
    }
    for (String line : face.wrapped(sheet.title(), TITLE, wide)) {
      y -= TITLE;
      pen().bold(line, MARGIN, y, TITLE);
      y -= 4;
    }
    y -= GAP;
  }

  /** Beside the square code lines are shorter. */
  private float wide() {
    boolean beside = streams.size() == 1 && sheet.code().isPresent() && y > codeEnds;
    return WIDE - 2 * MARGIN - (beside ? CODE : 0);
  }

  private void room(float high) throws IOException {
    if (y - high < FOOT + 2 * LINE) {
      turn();
    }
  }

  private void part(Sheet.Part part) throws IOException {
    if (part instanceof Sheet.Heading heading) {
      room(4 * LINE);
      y -= LINE + GAP;
      pen().bold(heading.words(), MARGIN, y, SIZE + 1.5f);
      y -= 3;
    } else if (part instanceof Sheet.Words words) {
      for (String line : face.wrapped(words.words(), SIZE, wide())) {
        line(line);
      }
      y -= GAP / 2;
    } else if (part instanceof Sheet.Facts facts) {
      facts(facts);
    } else if (part instanceof Sheet.Grid grid) {
      below();
      new Table(grid).draw();
      y -= GAP;
    } else if (part instanceof Sheet.Curves curves) {
      below();
      room(CURVES);
      y -= CURVES;
      new CurvesBox(pen(), curves.plot(), MARGIN, y, WIDE - 2 * MARGIN, CURVES).draw();
      y -= GAP;
    }
  }

  private void line(String line) throws IOException {
    room(LINE);
    y -= LINE;
    pen().words(line, MARGIN, y, SIZE);
  }

  private void facts(Sheet.Facts facts) throws IOException {
    for (Sheet.Fact fact : facts.facts()) {
      List<String> lines = face.wrapped(fact.value(), SIZE, wide() - FACT_VALUES);
      room(lines.size() * LINE);
      pen().words(fact.name(), MARGIN, y - LINE, SIZE);
      for (String line : lines) {
        y -= LINE;
        pen().words(line, MARGIN + FACT_VALUES, y, SIZE);
      }
    }
    y -= GAP / 2;
  }

  /** Tables and curves take the whole width, and so begin below the code. */
  private void below() {
    if (streams.size() == 1 && sheet.code().isPresent()) {
      y = Math.min(y, codeEnds);
    }
  }

  /** A table, its columns as wide as they need, the widest narrower where there is no room. */
  private final class Table {

    private final Sheet.Grid grid;
    private final float[] widths;

    Table(Sheet.Grid grid) throws IOException {
      this.grid = grid;
      this.widths = new float[grid.columns().size()];
      for (int at = 0; at < widths.length; at++) {
        widths[at] = face.width(grid.columns().get(at), SIZE);
        for (List<String> row : grid.rows()) {
          widths[at] = Math.max(widths[at], face.width(row.get(at), SIZE));
        }
        widths[at] += 2 * CELL;
      }
      narrow();
    }

    /** What needs less than its share keeps what it needs; the others share the rest. */
    private void narrow() {
      float have = WIDE - 2 * MARGIN;
      float[] needs = widths.clone();
      Arrays.sort(needs);
      for (int at = 0; at < needs.length; at++) {
        float share = have / (needs.length - at);
        if (needs[at] > share) {
          for (int column = 0; column < widths.length; column++) {
            widths[column] = Math.min(widths[column], share);
          }
          return;
        }
        have -= needs[at];
      }
    }

    void draw() throws IOException {
      heads();
      for (List<String> row : grid.rows()) {
        List<List<String>> cells = cells(row);
        float high = high(cells);
        int pages = streams.size();
        room(high);
        if (streams.size() > pages) {
          heads();
        }
        row(cells, high);
      }
      rule(0.8f);
    }

    private void heads() throws IOException {
      List<List<String>> cells = cells(grid.columns());
      float high = high(cells);
      room(high + 3 * LINE);
      y -= 4;
      rule(0.8f);
      row(cells, high);
      rule(0.4f);
    }

    private List<List<String>> cells(List<String> row) throws IOException {
      List<List<String>> cells = new ArrayList<>();
      for (int at = 0; at < widths.length; at++) {
        cells.add(face.wrapped(row.get(at), SIZE, widths[at] - 2 * CELL + 0.1f));
      }
      return cells;
    }

    private float high(List<List<String>> cells) {
      return 3 + LINE * cells.stream().mapToInt(List::size).max().orElse(1);
    }

    private void row(List<List<String>> cells, float high) throws IOException {
      float x = MARGIN;
      for (int at = 0; at < widths.length; at++) {
        float lineY = y;
        for (String line : cells.get(at)) {
          lineY -= LINE;
          if (grid.numbers().get(at)) {
            pen().wordsUpTo(line, x + widths[at] - CELL, lineY, SIZE);
          } else {
            pen().words(line, x + CELL, lineY, SIZE);
          }
        }
        x += widths[at];
      }
      y -= high;
    }

    private void rule(float thick) throws IOException {
      float all = 0;
      for (float each : widths) {
        all += each;
      }
      pen().line(MARGIN, y, MARGIN + all, y, thick);
    }
  }
}
