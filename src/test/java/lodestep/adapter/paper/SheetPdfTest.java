package lodestep.adapter.paper;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.port.Plot;
import lodestep.port.Sheet;
import lodestep.port.Stickers;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: what stands on a sheet is what was put on it, as an independent reader sees it. */
class SheetPdfTest {

  private final Path pdf;

  SheetPdfTest(@TempDir Path folder) {
    this.pdf = folder.resolve("sheet.pdf");
  }

  private static Sheet sheet(List<Sheet.Part> parts) {
    return new Sheet(
        "Certificate of set birds",
        Optional.of("VIRTUAL"),
        parts,
        Optional.of("lodestep certificate 77 of birds"),
        "rig attic");
  }

  @Test
  void isReadBackByPopplerAndItsCodeByZbar() throws IOException, InterruptedException {
    Plot plot =
        new Plot(
            "down",
            "field/(kA/m)",
            "reads/G",
            List.of(
                new Plot.Curve("Wren 1", List.of(0.0, 12.5, 20.0), List.of(700.0, 600.0, 410.0)),
                new Plot.Curve("Wren 2", List.of(0.0, 14.0), List.of(710.0, 500.0))));
    Files.write(
        pdf,
        SheetPdf.of(
            sheet(
                List.of(
                    new Sheet.Heading("Magnets"),
                    new Sheet.Facts(List.of(new Sheet.Fact("order", "Hollis 7"))),
                    new Sheet.Grid(
                        List.of("magnet", "reads/G"),
                        List.of(false, true),
                        List.of(List.of("Wren 1", "410.2 ± 0.9"), List.of("Wren µ₀", "−12.5"))),
                    new Sheet.Curves(plot),
                    new Sheet.Words("Keep them apart.")))));

    String text = OutsideReader.text(pdf);

    assertThat(text)
        .contains("Certificate of set birds", "Hollis 7", "410.2 ± 0.9", "−12.5", "rig attic")
        .containsPattern("Wren µ(₀|\\?)")
        .contains("field/(kA/m)", "800", "Keep them apart.");
    assertThat(OutsideReader.pages(pdf)).isEqualTo(1);
    assertThat(OutsideReader.codes(pdf)).containsExactly("lodestep certificate 77 of birds");
  }

  @Test
  void goesOnToAnotherPageAndLosesNoRow() throws IOException, InterruptedException {
    List<List<String>> rows = new ArrayList<>();
    for (int row = 1; row <= 120; row++) {
      rows.add(List.of("magnet " + row, "a very long remark ".repeat(row % 7 == 0 ? 12 : 1)));
    }
    Files.write(
        pdf,
        SheetPdf.of(
            sheet(
                List.of(new Sheet.Grid(List.of("name", "remark"), List.of(false, false), rows)))));

    String text = OutsideReader.text(pdf);

    assertThat(OutsideReader.pages(pdf)).isGreaterThan(2);
    assertThat(text).contains("page 1 of ", "page 3 of ");
    for (int row = 1; row <= 120; row++) {
      assertThat(text).containsPattern("magnet " + row + "\\s");
    }
  }

  @Test
  void printsASignThatTheFaceLacksAsAQuestionMark() throws IOException, InterruptedException {
    Files.write(
        pdf, SheetPdf.of(sheet(List.of(new Sheet.Words("a \uD83C\uDFB8 and\ta tab, 磁石 too")))));

    assertThat(OutsideReader.text(pdf)).contains("a ? and a tab, ?? too");
  }

  @Test
  void givesTheSameBytesForTheSameSheet() {
    Sheet one = sheet(List.of(new Sheet.Words("once")));

    assertThat(SheetPdf.of(one)).isEqualTo(SheetPdf.of(one));
  }

  @Test
  void printsLabelsEachWithItsCode() throws IOException, InterruptedException {
    List<Stickers.Sticker> all = new ArrayList<>();
    for (int label = 1; label <= 25; label++) {
      all.add(
          new Stickers.Sticker("Wren " + label, List.of("alnico 4"), "lodestep magnet " + label));
    }
    Files.write(pdf, StickersPdf.of(new Stickers(Optional.of("VIRTUAL"), all)));

    assertThat(OutsideReader.pages(pdf)).isEqualTo(2);
    assertThat(OutsideReader.text(pdf)).contains("Wren 1", "Wren 25", "VIRTUAL");
    assertThat(OutsideReader.codes(pdf))
        .hasSize(24)
        .contains("lodestep magnet 1", "lodestep magnet 24");
  }
}
