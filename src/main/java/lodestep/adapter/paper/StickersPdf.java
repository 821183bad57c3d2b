package lodestep.adapter.paper;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.List;
import lodestep.port.Stickers;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.apache.pdfbox.pdmodel.common.PDRectangle;

/** Labels as PDF, A4, three across and eight down, each in a thin frame to cut along. */
public final class StickersPdf {

  private static final int ACROSS = 3;
  private static final int DOWN = 8;
  private static final float MARGIN = 28;
  private static final float WIDE = (PDRectangle.A4.getWidth() - 2 * MARGIN) / ACROSS;
  private static final float HIGH = (PDRectangle.A4.getHeight() - 2 * MARGIN) / DOWN;
  private static final float PAD = 6;
  private static final float NAME = 12;
  private static final float SIZE = 7.5f;
  private static final float CODE = 66;

  private StickersPdf() {}

  /** The labels as the bytes of a PDF file; the same labels give the same bytes. */
  public static byte[] of(Stickers stickers) {
    try (PDDocument document = new PDDocument();
        ByteArrayOutputStream bytes = new ByteArrayOutputStream()) {
      document.setDocumentId((long) stickers.hashCode());
      document.getDocumentInformation().setTitle("labels");
      Face face = Face.in(document);
      List<Stickers.Sticker> all = stickers.all();
      for (int first = 0; first < all.size(); first += ACROSS * DOWN) {
        PDPage page = new PDPage(PDRectangle.A4);
        document.addPage(page);
        try (PDPageContentStream stream = new PDPageContentStream(document, page)) {
          Pen pen = new Pen(stream, face);
          for (int at = first; at < Math.min(all.size(), first + ACROSS * DOWN); at++) {
            draw(pen, stickers, all.get(at), at - first);
          }
        }
      }
      document.save(bytes);
      return bytes.toByteArray();
    } catch (IOException impossible) {
      throw new IllegalStateException("a document in memory cannot be written", impossible);
    }
  }

  private static void draw(Pen pen, Stickers stickers, Stickers.Sticker sticker, int place)
      throws IOException {
    int column = place % ACROSS;
    int row = place / ACROSS;
    float x = MARGIN + column * WIDE;
    float top = PDRectangle.A4.getHeight() - MARGIN - row * HIGH;
    pen.box(x, top - HIGH, WIDE, HIGH);
    pen.code(SquareCode.of(sticker.code()), x + WIDE - CODE, top - (HIGH - CODE) / 2, CODE);
    float room = WIDE - CODE - PAD;
    float y = top - PAD;
    for (String line : pen.face().wrapped(sticker.name(), NAME, room)) {
      y -= NAME;
      pen.bold(line, x + PAD, y, NAME);
    }
    y -= 3;
    for (String words : sticker.lines()) {
      for (String line : pen.face().wrapped(words, SIZE, room)) {
        y -= SIZE + 2;
        pen.words(line, x + PAD, y, SIZE);
      }
    }
    if (stickers.across().isPresent()) {
      pen.words(stickers.across().get(), x + PAD, top - HIGH + PAD, SIZE + 2);
    }
  }
}
