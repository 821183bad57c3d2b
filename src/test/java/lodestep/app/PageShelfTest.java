package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import lodestep.adapter.paper.OutsideReader;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: what is put on record from the page stands there as if by command, beside a rig that runs,
 * and what is handed over on paper says what the record says. The paper is read by another program.
 */
class PageShelfTest extends PageAtRig {

  PageShelfTest(@TempDir Path folder) {
    super(folder, "shelf.ledger");
  }

  @Override
  void putOnRecord() throws IOException {
    ServedRig.record(ledger, folder);
  }

  private void await(String phase) {
    await("the phase " + phase, now -> now.path("phase").asText().equals(phase));
  }

  private long pickup() throws IOException {
    return get("/things?find=dunlin%203").path("pickups").get(0).path("pickup").asLong();
  }

  private String text(HttpResponse<byte[]> paper) throws IOException, InterruptedException {
    assertThat(paper.statusCode()).isEqualTo(200);
    assertThat(paper.headers().firstValue("Content-Type")).contains("application/pdf");
    Path file = Files.write(folder.resolve("paper.pdf"), paper.body());
    return OutsideReader.text(file);
  }

  /** As a person does it: away, zero, and each pole top over the gauge. */
  private void readPoles() throws IOException {
    await("guided");
    act("/commands", object().put("what", "continue"));
    for (int pole = 1; pole <= 2; pole++) {
      String asked = "the top of pole " + pole + " of 2";
      await(asked, now -> now.path("sentence").asText().contains(asked));
      assertThat(now().path("sentence").asText()).doesNotContain("Enter");
      if (pole > 1) {
        seated("take-out", false);
      }
      seated("put-in", true);
      act("/commands", object().put("what", "continue"));
    }
    await("done");
  }

  private JsonNode judged(ObjectNode order) throws IOException {
    long pickup = pickup();
    JsonNode begun = act("/readings", order.put("pickup", pickup).put("as", "returned"));
    assertThat(begun.path("done").asBoolean()).as(begun.toString()).isTrue();
    readPoles();
    JsonNode said = act("/returns", object().put("pickup", pickup));
    assertThat(said.path("done").asBoolean()).as(said.toString()).isTrue();
    return get("/returns/" + said.path("entry").asLong());
  }

  @Test
  void findsAnUnchangedPickupUnchangedAndPrintsTheReport()
      throws IOException, InterruptedException {
    JsonNode same = judged(object());

    assertThat(same.path("verdict").asText()).isEqualTo("unchanged");
    assertThat(same.path("against").asText()).isEqualTo("tops");
    assertThat(same.path("probability").asDouble()).isGreaterThan(0.95);
    assertThat(same.path("poles")).hasSize(2);
    String paper =
        text(page.file("/api/v1/returns/" + same.path("entry").asLong() + "/pdf"))
            .replaceAll("\\s+", " ");
    assertThat(paper).contains("VIRTUAL", "Return check of Dunlin 3", "as strong today");
    assertThat(CommandRun.on(ledger, "pickup", "show", "Dunlin 3").out())
        .contains("Return check of", "Unchanged, odds");
  }

  @Test
  void tellsThatAStrayFieldHasTakenPartOfIt() throws IOException {
    JsonNode weak = judged(object().put("virtualField", "33 kA/m"));

    assertThat(weak.path("verdict").asText()).isEqualTo("lost");
    assertThat(weak.path("mean").path("change").asDouble()).isNegative();
    assertThat(weak.path("taken").asText()).contains("against its magnets");
    assertThat(weak.path("customer").asText().split("(?<=\\.) ")).hasSize(2);
  }

  @Test
  void makesOutACertificateThatIsOnRecordAndSaysVirtualAcross()
      throws IOException, InterruptedException {
    JsonNode said = act("/certificates", object().put("of", "dunlin"));
    long entry = said.path("entry").asLong();
    HttpResponse<byte[]> paper = page.file("/api/v1/certificates/" + entry + "/pdf");

    assertThat(paper.headers().firstValue("Content-Disposition").orElse(""))
        .startsWith("attachment; filename=\"certificate-dunlin.pdf\"");
    assertThat(text(paper))
        .contains("VIRTUAL", "Certificate of set dunlin", "entry " + entry)
        .doesNotContain("printed again");
    Path again = folder.resolve("again.pdf");
    CommandRun.on(
        ledger, "certificate", "--again", Long.toString(entry), "--pdf", again.toString());
    assertThat(OutsideReader.text(again)).contains("word for word as it was made out");
    assertThat(get("/sets?name=dunlin").path("certificates").get(0).path("entry").asLong())
        .isEqualTo(entry);
    assertThat(text(page.file("/api/v1/labels/pdf?of=Dunlin%203"))).contains("VIRTUAL", "Hollis 7");
    assertThat(page.get("/api/v1/certificates/1/pdf").status()).isEqualTo(404);
    PageDevice looks = PageDevice.paired(served.port(), served.access().lookCode());
    assertThat(text(looks.file("/api/v1/certificates/" + entry + "/pdf"))).contains("VIRTUAL");
  }

  @Test
  void takesStockAndOrdersAndRefusesWhatTheCommandsRefuse() throws IOException {
    ObjectNode lot = object().put("lot", "M-7").put("quantity", "40").put("alloy", "alnico 5");
    assertThat(act("/lots", lot).path("done").asBoolean()).isTrue();
    JsonNode stock = get("/lots?name=M-7");
    assertThat(stock.path("counts").path("assembled").asInt()).isEqualTo(2);
    assertThat(stock.path("counts").path("untouched").asInt()).isEqualTo(38);
    assertThat(CommandRun.on(ledger, "lot", "show", "M-7").out()).contains("40 magnets came in");

    assertThat(act("/lots", lot.put("alloy", "alnicko 5")).path("sentence").asText())
        .startsWith("alloy: no alloy 'alnicko 5'");
    assertThat(act("/lots", lot.put("quantity", "many")).path("done").asBoolean()).isFalse();
    ObjectNode order = object().put("name", "Hollis 8").put("wanted", "one pickup");
    assertThat(act("/orders", order.put("due", "May")).path("sentence").asText())
        .startsWith("due: a day is written like");
    assertThat(act("/orders", order.put("due", "2031-05-01")).path("done").asBoolean()).isTrue();
    assertThat(act("/handovers", object().put("name", "Hollis 8")).path("sentence").asText())
        .contains("nothing was built for order");
    assertThat(act("/handovers", object().put("name", "Hollis 7")).path("done").asBoolean())
        .isTrue();
    assertThat(get("/orders?name=Hollis%207").path("state").asText()).isEqualTo("handed over");
  }

  private ObjectNode sample(String lot, String size) {
    ObjectNode sample = object().put("lot", lot).put("count", "1").put("size", size);
    return sample.put("shape", "rod").put("poleUp", "north");
  }

  @Test
  void samplesALotAndTellsWhatItReadsBesideWhatTheSupplierSays() throws IOException {
    act("/lots", object().put("lot", "Q-4").put("quantity", "12").put("alloy", "alnico 3"));
    assertThat(act("/lots/samples", sample("Q-5", "4.6 x 15.5 mm")).path("sentence").asText())
        .isEqualTo(
            "nothing says that a lot 'Q-5' came in; put it on record first: stock in; did you mean"
                + " 'Q-4'?");
    assertThat(act("/lots/samples", sample("Q-4", "thick")).path("sentence").asText())
        .startsWith("size: ");

    int planned = get("/plans").size();
    JsonNode begun = act("/lots/samples", sample("q-4", "4.6 x 15.5 mm"));

    assertThat(begun.path("done").asBoolean()).as(begun.toString()).isTrue();
    workWhatLies();
    assertThat(get("/bench").path("batch").path("sampled").asText()).isEqualTo("Q-4");
    assertThat(get("/bench").path("batch").path("name").asText()).isEqualTo("Q-4 sample");
    JsonNode lot = get("/lots?name=Q-4");
    assertThat(lot.path("counts").path("charged").asInt()).isEqualTo(1);
    assertThat(lot.path("counts").path("refused").asInt()).isZero();
    JsonNode charged = lot.path("charged").get(0);
    assertThat(charged.path("magnets").asInt()).isEqualTo(1);
    assertThat(charged.path("meanTesla").asDouble()).isPositive();
    assertThat(charged.path("claimed").path("alloy").asText()).isEqualTo("alnico 3");
    JsonNode plans = get("/plans");
    assertThat(plans).hasSize(planned + 1);
    assertThat(plans.get(planned).path("sample").asBoolean()).as("after all plans").isTrue();
    assertThat(CommandRun.on(ledger, "history", "Q-4 sample").out())
        .contains("full charge", "charged");
  }

  private void workWhatLies() throws IOException {
    await("load");
    seated("put-in", true);
    act("/hands", object().put("act", "close-lid"));
    act("/hands", object().put("act", "key-on"));
    act("/hands", object().put("act", "pedal"));
    await("verdict");
  }

  /** One magnet of a set of its own, in the nest and at work. */
  private void workAWren() throws IOException {
    ObjectNode row = object();
    row.put("name", "wren").put("alloy", "alnico 5").put("shape", "rod");
    row.put("size", "4.7 x 17.2 mm").put("poleUp", "north").put("target", "520 G");
    row.put("tolerance", "12 G").put("count", "1").put("set", "wrens");
    ObjectNode plan = object().put("name", "wren");
    plan.putArray("rows").add(row);
    assertThat(act("/batches", plan).path("done").asBoolean()).isTrue();
    await("load");
    seated("put-in", true);
    act("/hands", object().put("act", "close-lid"));
    act("/hands", object().put("act", "key-on"));
    act("/hands", object().put("act", "pedal"));
    await("work");
  }

  @Test
  void takesAnEntryWhileABatchIsAtWorkAndReadsNothingBesideIt() throws IOException {
    workAWren();

    ObjectNode lot = object().put("lot", "N-2").put("quantity", "10").put("alloy", "alnico 2");
    JsonNode kept = act("/lots", lot);
    JsonNode refused = act("/readings", object().put("pickup", pickup()).put("as", "returned"));

    assertThat(kept.path("entry").asLong()).isPositive();
    assertThat(refused.path("sentence").asText()).contains("other work is under way");
    await("verdict");
    JsonNode bench = get("/bench").path("batch");
    assertThat(bench.path("accepted").asInt()).isEqualTo(1);
    JsonNode match = get("/batches/" + bench.path("number").asLong() + "/match");
    assertThat(match.path("complete").asBoolean()).isTrue();
    assertThat(match.path("sets").get(0).path("places").get(0).path("name").asText())
        .startsWith("wren");
    scrapped(bench.path("magnets").get(0).path("magnet").asLong());
  }

  @Test
  void buildsAPickupOfASetOnceAndReadsItBeforeItLeaves() throws IOException {
    workAWren();
    await("verdict");
    act("/hands", object().put("act", "open-lid"));
    await("the lid", now -> now.path("inputs").path("lidOpen").asBoolean());
    seated("take-out", false);
    await("done");
    ObjectNode asked = object().put("name", "Wren bar").put("of", "wrens").put("poles", "2");

    long pickup = act("/pickups", asked).path("entry").asLong();

    assertThat(act("/pickups", asked).path("sentence").asText()).contains("on record already");
    assertThat(act("/pickups", asked.put("name", "another")).path("sentence").asText())
        .contains("is in the pickup Wren bar already");
    assertThat(get("/pickups/" + pickup).path("against").asText()).isEqualTo("loose");
    act("/readings", object().put("pickup", pickup).put("as", "built").put("spacer", "2.6 mm"));
    readPoles();
    JsonNode read = get("/pickups/" + pickup);
    assertThat(read.path("against").asText()).isEqualTo("tops");
    assertThat(read.path("rounds").get(0).path("stage").asText()).isEqualTo("as built");
    assertThat(read.path("spacer").asText()).isEqualTo("2.60 mm");
    assertThat(act("/returns", object().put("pickup", pickup)).path("sentence").asText())
        .contains("are to be read first");
  }

  private void scrapped(long magnet) throws IOException {
    assertThat(act("/scraps", object().put("magnet", magnet)).path("sentence").asText())
        .startsWith("why: ");
    assertThat(
            act("/scraps", object().put("magnet", magnet).put("why", "chipped"))
                .path("done")
                .asBoolean())
        .isTrue();
    assertThat(get("/magnets/" + magnet).toString()).contains("scrapped: chipped");
  }

  @Test
  void notesWhatBefellAMagnetAndCorrectsWhatWasWrittenWrongly() throws IOException {
    long magnet = get("/things?find=dunlin-1").path("magnets").get(0).path("magnet").asLong();
    ObjectNode note = object().put("magnet", magnet).put("what", "storm");
    assertThat(act("/notes", note).path("sentence").asText()).contains("heat, drop or knock");
    assertThat(act("/notes", note.put("what", "drop").put("said", "on its end")).toString())
        .contains("counts as to be read again");

    ObjectNode wrong = object().put("magnet", magnet).put("field", "lot").put("why", "wrong box");
    assertThat(act("/corrections", wrong.put("value", "M-7")).path("sentence").asText())
        .isEqualTo("its lot is 'M-7' on record already");
    assertThat(act("/corrections", wrong.put("value", "M-8")).path("done").asBoolean()).isTrue();
    assertThat(
            act("/corrections", wrong.put("field", "alloy").put("value", "wood"))
                .path("sentence")
                .asText())
        .contains("no alloy 'wood'");
    assertThat(
            act("/corrections", wrong.put("field", "name").put("value", "dunlin-2"))
                .path("sentence")
                .asText())
        .contains("on record already");
    assertThat(
            act("/corrections", wrong.put("field", "place").put("value", "dunlin-2"))
                .path("done")
                .asBoolean())
        .isTrue();

    String history = CommandRun.on(ledger, "history", String.valueOf(magnet)).out();
    assertThat(history).contains("dunlin-2", "drop", "on its end", "wrong box");
  }

  @Test
  void hidesNothingAndInventsNothingInAHistoryAsCsv() throws IOException, InterruptedException {
    JsonNode magnet = get("/things?find=dunlin-1").path("magnets").get(0);
    HttpResponse<byte[]> csv =
        page.file("/api/v1/magnets/" + magnet.path("magnet").asLong() + "/csv");

    Path file = folder.resolve("history.csv");
    CommandRun.on(ledger, "history", "dunlin-1", "--csv", file.toString());
    assertThat(new String(csv.body(), StandardCharsets.UTF_8)).isEqualTo(Files.readString(file));
    assertThat(csv.headers().firstValue("Content-Disposition").orElse(""))
        .contains("history-dunlin-1.csv");
  }
}
