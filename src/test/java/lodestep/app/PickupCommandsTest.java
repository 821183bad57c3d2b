package lodestep.app;

import static lodestep.app.CommandRun.ONE;
import static lodestep.app.CommandRun.with;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import lodestep.adapter.paper.OutsideReader;
import lodestep.app.CommandRun.Ended;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: a pickup that comes back is told from what was read of it, and only from that. */
class PickupCommandsTest {

  private static final String[] TWO = {"--seat", "oak block", "--spacer", "2.6 mm"};

  private final Path folder;
  private final Path ledger;

  PickupCommandsTest(@TempDir Path folder) {
    this.folder = folder;
    this.ledger = folder.resolve("test.ledger");
  }

  private Ended on(String... arguments) {
    return CommandRun.on(ledger, arguments);
  }

  private void built() {
    assertThat(on(with(ONE, "--name", "wren-1")).code()).isZero();
    assertThat(on(with(ONE, "--name", "wren-2", "--seed", "2")).code()).isZero();
    Ended build =
        on(
            "pickup",
            "build",
            "Dunlin 3",
            "--magnet",
            "wren-1",
            "--magnet",
            "wren-2",
            "--order",
            "Hollis 7");
    assertThat(build.code()).as(build.err()).isZero();
  }

  @Test
  void tellsAnUnchangedPickupFromAWeakenedOne() throws IOException, InterruptedException {
    built();
    assertThat(on(with(TWO, "pickup", "read", "Dunlin 3")).code()).isEqualTo(2);
    Ended read = on(with(new String[] {"pickup", "read", "Dunlin 3"}, TWO));
    assertThat(read.out()).contains("VIRTUAL", "pole 2 of 2", "All pole tops are read");

    JsonNode same = on("pickup", "return", "Dunlin 3", "--seed", "7", "--json").json();
    Path pdf = folder.resolve("return.pdf");
    Ended weak =
        on(
            "pickup",
            "return",
            "Dunlin 3",
            "--seed",
            "8",
            "--virtual-field",
            "33 kA/m",
            "--pdf",
            pdf.toString());

    assertThat(same.get("verdict").asText()).isEqualTo("unchanged");
    assertThat(same.get("heldAgainst").asText()).isEqualTo("pole tops");
    assertThat(same.get("probability").asDouble()).isGreaterThan(0.95);
    assertThat(weak.code()).isEqualTo(1);
    // What the model says would do it is the field that did it.
    assertThat(weak.out()).contains("Lost more than ageing explains", "For the customer:");
    assertThat(weak.out()).containsPattern("field of 3[1-5]\\s+kA/m against its\\s+magnets");
    assertThat(OutsideReader.text(pdf))
        .contains("Return check of Dunlin 3", "VIRTUAL", "Lost more than ageing explains");
    assertThat(OutsideReader.pages(pdf)).isEqualTo(1);
    assertThat(on("pickup", "show", "Dunlin 3").out())
        .contains("as built", "as returned", "Unchanged, odds", "Lost more");
  }

  /** Loose readings bear a large loss, and not whether a small one is real. */
  @Test
  void widensTheDoubtWhereOnlyLooseMagnetsWereRead() throws IOException {
    built();

    JsonNode same = on("pickup", "return", "Dunlin 3", "--json").json();
    JsonNode weak =
        on("pickup", "return", "Dunlin 3", "--virtual-field", "60 kA/m", "--json").json();

    assertThat(same.get("heldAgainst").asText()).isEqualTo("loose magnets");
    assertThat(same.get("verdict").asText()).isEqualTo("cannot tell");
    assertThat(same.get("mean").get("u").asDouble()).isGreaterThan(0.04);
    assertThat(weak.get("verdict").asText()).isEqualTo("lost");
  }

  @Test
  void readsAPickupWithNoRecordAsFoundAndHoldsTheNextReadingAgainstIt() throws IOException {
    Ended refused = on("pickup", "return", "old Finch");
    Ended read = on("pickup", "read", "old Finch", "--as-found", "--poles", "2");
    Ended later = on("pickup", "return", "old Finch", "--seed", "3", "--json");

    assertThat(refused.code()).isEqualTo(2);
    assertThat(read.code()).as(read.err()).isZero();
    assertThat(later.json().get("verdict").asText()).isEqualTo("unchanged");
    assertThat(on("pickup", "return", "old Fink").err()).contains("old Finch").hasLineCount(1);
  }

  @Test
  void makesOutACertificateThatTheRecordBears() throws IOException, InterruptedException {
    built();
    on(with(new String[] {"pickup", "read", "Dunlin 3"}, TWO));
    Path pdf = folder.resolve("certificate.pdf");

    JsonNode made = on("certificate", "Dunlin 3", "--pdf", pdf.toString(), "--json").json();

    String number = made.get("certificate").asText();
    String hash = made.get("hash").asText();
    String text = OutsideReader.text(pdf);
    assertThat(text)
        .contains("Certificate of pickup Dunlin 3", "Hollis 7", "wren-1", "430.0 ± 8.0", "south")
        .contains("oak block", "2.60 mm", "k = 2", "nominal, not calibrated", "VIRTUAL")
        .contains("no reference magnet was read")
        .contains(hash.substring(0, 32), hash.substring(32));
    assertThat(OutsideReader.pages(pdf)).isEqualTo(1);
    assertThat(OutsideReader.codes(pdf))
        .containsExactly("lodestep certificate " + number + " of Dunlin 3 sha256 " + hash);
    assertThat(on("prove", "--noted", number + ":" + hash).code()).isZero();
  }

  @Test
  void printsACertificateAgainAsItWasWhateverCameAfter() throws IOException, InterruptedException {
    built();
    Path first = folder.resolve("first.pdf");
    JsonNode made = on("certificate", "wren-1", "--pdf", first.toString(), "--json").json();
    String number = made.get("certificate").asText();
    on("correct", "wren-1", "--alloy", "alnico 3", "--why", "wrong box");
    Path second = folder.resolve("second.pdf");

    JsonNode again =
        on("certificate", "--again", number, "--pdf", second.toString(), "--json").json();

    assertThat(again.get("alike").asBoolean()).isTrue();
    assertThat(again.get("hash")).isEqualTo(made.get("hash"));
    String text = OutsideReader.text(second);
    assertThat(text).contains("word for word", "alnico 2 rod").doesNotContain("alnico 3");
    assertThat(OutsideReader.codes(second)).isEqualTo(OutsideReader.codes(first));
    assertThat(OutsideReader.pages(second)).isEqualTo(1);
    // Nothing is put on record by it, so that its number stays the only one.
    assertThat(on("history", "rig", "--what", "certificate issued", "--json").json()).hasSize(1);
    assertThat(on("certificate", "--again", "1").err()).contains("entry 1 is no certificate");
    assertThat(on("certificate").err())
        .contains("name a pickup, a set or a magnet")
        .hasLineCount(1);
    assertThat(on("certificate", "wren-1", "--again", number).code()).isEqualTo(2);
  }

  @Test
  void followsAnOrderFromTheFirstWordToTheHandingOver() throws IOException {
    Ended empty = on("order", "out", "Hollis 7");
    on("order", "in", "Hollis 7", "--wanted", "a neck pickup", "--due", "2026-12-01");
    assertThat(on("order", "show").out()).contains("Hollis 7", "open", "2026-12-01");
    assertThat(on("order", "out", "hollis 7").err()).contains("nothing was built for order");
    built();
    on("certificate", "Dunlin 3", "--pdf", folder.resolve("c.pdf").toString());
    Ended out = on("order", "out", "Hollis 7", "--said", "fetched");

    assertThat(empty.code()).isEqualTo(2);
    assertThat(out.out()).contains("handed over, entry");
    assertThat(on("order", "show", "Hollis 7").out())
        .contains("a neck pickup", "due 2026-12-01", "Dunlin 3", "Certificates: ", "fetched");
    assertThat(on("history", "Hollis 7").out()).contains("handed over", "wren-1", "wren-2");
    assertThat(on("history", "Hollis 7", "--json").json()).hasSize(2);
    assertThat(on("order", "show", "Holis 7").err()).contains("did you mean 'Hollis 7'");
    assertThat(on("order", "in", "Hollis 7", "--wanted", "x", "--due", "soon").err())
        .contains("--due");
    on("order", "in", "Hollis 7", "--wanted", "another one");
    assertThat(on("order", "show", "Hollis 7", "--json").json().get(0).get("state").asText())
        .as("ordered once more")
        .isEqualTo("built");
  }

  @Test
  void makesNoCertificateOfWhatWasNotAccepted() {
    built();
    Ended refusedDial = on(with(ONE, "--name", "wren-3", "--seed", "9", "--tolerance", "0.01 G"));
    assertThat(refusedDial.code()).isEqualTo(2);

    Ended unknown = on("certificate", "wren-9");
    Ended taken = on("pickup", "build", "Knot", "--magnet", "wren-1");
    Ended twice = on("pickup", "build", "Dunlin 3", "--magnet", "wren-1");

    assertThat(unknown.err()).contains("no pickup, set or magnet 'wren-9'").hasLineCount(1);
    assertThat(taken.err()).contains("is in the pickup Dunlin 3 already").hasLineCount(1);
    assertThat(twice.err()).contains("on record already").hasLineCount(1);
    assertThat(List.of(unknown.code(), taken.code(), twice.code())).containsOnly(2);
  }

  @Test
  void leavesNoHalfFileWhereOneCannotBeWritten() throws IOException {
    built();
    Path nowhere = folder.resolve("no such folder").resolve("labels.pdf");

    Ended ended = on("labels", "Dunlin 3", "wren-1", "--pdf", nowhere.toString());
    Path good = folder.resolve("labels.pdf");
    Ended labels = on("labels", "Dunlin 3", "wren-1", "--pdf", good.toString());

    assertThat(ended.code()).isEqualTo(2);
    assertThat(ended.err()).contains("cannot write").hasLineCount(1);
    assertThat(labels.out()).contains("2 labels");
    try (Stream<Path> files = Files.list(folder)) {
      assertThat(files.map(Path::getFileName).map(Path::toString))
          .noneMatch(name -> name.endsWith(".part"));
    }
  }
}
