package lodestep.app;

import static lodestep.app.CommandRun.ONE;
import static lodestep.app.CommandRun.with;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import lodestep.app.CommandRun.Ended;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: lots are counted, mistakes are mended in one act each, and the old entry is still seen. */
class StockCommandsTest {

  private final Path folder;
  private final Path ledger;

  StockCommandsTest(@TempDir Path folder) {
    this.folder = folder;
    this.ledger = folder.resolve("test.ledger");
    on(with(ONE, "--name", "wren-1"));
    on(with(ONE, "--name", "wren-2", "--seed", "2"));
  }

  private Ended on(String... arguments) {
    return CommandRun.on(ledger, arguments);
  }

  @Test
  void readsTwoExchangedMagnetsUnderEachOthersNames() throws IOException {
    String first = number("wren-1");
    String second = number("wren-2");

    Ended corrected = on("correct", "wren-1", "--exchanged-with", "wren-2", "--why", "wrong tray");

    assertThat(corrected.code()).isZero();
    assertThat(number("wren-1")).isEqualTo(second);
    assertThat(number("wren-2")).isEqualTo(first);
    assertThat(on("history", "wren-1").out()).contains("magnets exchanged", "wrong tray");
    assertThat(on("history", "wren-2").out()).contains("magnets exchanged");
    assertThat(on("prove").code()).isZero();
  }

  private String number(String name) throws IOException {
    return on("history", name, "--json").json().get(0).get("magnet").asText();
  }

  @Test
  void correctsAnAlloyAndKeepsWhatWasWritten() {
    Ended corrected = on("correct", "wren-1", "--alloy", "alnico 3", "--why", "wrong box");

    assertThat(corrected.code()).as(corrected.err()).isZero();
    assertThat(on("history", "wren-1").out())
        .contains("alnico 3 rod", "field alloy, was alnico 2, becomes alnico 3, why wrong box");
    for (Ended refused :
        List.of(
            on("correct", "wren-1", "--alloy", "alnico 3", "--why", "again"),
            on("correct", "wren-1", "--alloy", "alnicko 4", "--why", "typo"),
            on("correct", "wren-1", "--name", "wren-2", "--why", "taken"),
            on("correct", "wren-1", "--why", "nothing"),
            on("correct", "wren-1", "--exchanged-with", "wren-1", "--why", "itself"))) {
      assertThat(refused.code()).isEqualTo(2);
      assertThat(refused.err()).startsWith("lodestep: ").hasLineCount(1);
    }
  }

  @Test
  void tellsALotsPlacesAndWhichAlloyReadsSo() throws IOException {
    assertThat(
            on(
                    "lot",
                    "in",
                    "K-31",
                    "--quantity",
                    "40",
                    "--alloy",
                    "alnico 2",
                    "--supplier",
                    "Orford Castings")
                .code())
        .isZero();
    for (String magnet : List.of("wren-1", "wren-2")) {
      on("correct", magnet, "--lot", "K-31", "--why", "left out");
    }
    on("pickup", "build", "Dunlin", "--magnet", "wren-2");
    on("scrap", "wren-1", "--why", "chipped");

    JsonNode lot = on("lot", "show", "K-31", "--json").json();

    JsonNode counts = lot.get("counts");
    assertThat(counts.get("came").asLong()).isEqualTo(40);
    assertThat(counts.get("untouched").asLong()).isEqualTo(38);
    assertThat(counts.get("assembled").asLong()).isEqualTo(1);
    assertThat(counts.get("scrapped").asLong()).isEqualTo(1);
    assertThat(lot.get("charged").get(0).get("magnets").asLong()).isEqualTo(2);
    assertThat(lot.get("charged").get(0).get("readsLike").toString()).contains("alnico 2");
    assertThat(on("lot", "show", "K-31").out())
        .contains("40 magnets came in from Orford Castings as alnico 2", "Said to be alnico 2");
    assertThat(on("lot", "show", "K-32").err()).contains("K-31").hasLineCount(1);
    assertThat(on("pickup", "build", "Knot", "--magnet", "wren-1").code()).isZero();
  }

  /** A batch of its own: charged, proven full, read; the rest of the lot is still untouched. */
  @Test
  void samplesALotByChargingSomeOfItInFull() throws IOException {
    on("lot", "in", "K-33", "--quantity", "60", "--alloy", "alnico 3");

    Ended sampled =
        on("lot", "sample", "k-33", "--count", "3", "--size", "4.6 x 15.5 mm", "--seed", "4");

    assertThat(sampled.code()).as(sampled.err()).isZero();
    assertThat(sampled.out())
        .contains("full charge", "3 accepted", "Not yet worked on 57", "3 of rod 4.60 x 15.50 mm")
        .contains("Said to be alnico 3");
    assertThat(on("history", "K-33 sample.1").out()).contains("full charge", "charged");
    JsonNode lot = on("lot", "show", "K-33", "--json").json();
    assertThat(lot.get("counts").get("charged").asLong()).isEqualTo(3);
    assertThat(lot.get("charged").get(0).get("magnets").asLong()).isEqualTo(3);

    Ended again = on("lot", "sample", "K-33", "--count", "1", "--size", "4.6 x 15.5 mm");

    assertThat(again.out()).contains("K-33 sample-2");
    assertThat(
            on("certificate", "K-33 sample-2", "--pdf", folder.resolve("c.pdf").toString()).code())
        .isZero();
    assertThat(on("lot", "sample", "K-34", "--size", "4.6 x 15.5 mm").err())
        .contains("nothing says that a lot 'K-34' came in", "K-33", "lot in")
        .hasLineCount(1);
  }

  /** RFC 4180: lines end in CRLF, every record has as many fields, quotes are doubled. */
  @Test
  void writesAHistoryAsCsvAfterRfc4180() throws IOException {
    Path csv = folder.resolve("wren.csv");

    Ended written = on("history", "wren-1", "--csv", csv.toString());

    String text = Files.readString(csv);
    assertThat(written.code()).isZero();
    assertThat(text)
        .startsWith("entry,time (UTC),magnet,name,attempt,what,reading (G)")
        .endsWith("\r\n");
    List<String> lines = List.of(text.split("\r\n"));
    assertThat(lines).hasSizeGreaterThan(5);
    assertThat(lines)
        .allMatch(line -> line.replaceAll("\"([^\"]|\"\")*\"", "q").split(",", -1).length == 12);
    assertThat(text.replace("\r\n", "")).doesNotContain("\n", "\r");
  }

  @Test
  void keepsToTheDaysAndWordsThatWereAsked() {
    String all = on("history", "wren-1").out();
    String readings = on("history", "wren-1", "--what", "reading").out();

    assertThat(all).contains("pulse, charge");
    assertThat(readings).contains("reading, charged").doesNotContain("pulse, charge");
    assertThat(on("history", "wren-1", "--to", "2001-01-01").out()).doesNotContain("reading,");
    assertThat(on("history", "rig", "--what", "batch").out())
        .contains("batch ended")
        .doesNotContain("head seen");
    assertThat(on("history", "gauge").out()).contains("calibration set");
    assertThat(on("history", "wren-1", "--from", "May").err())
        .contains("--from: a day is written like")
        .hasLineCount(1);
  }
}
