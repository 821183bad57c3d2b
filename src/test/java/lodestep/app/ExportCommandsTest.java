package lodestep.app;

import static lodestep.app.CommandRun.ONE;
import static lodestep.app.CommandRun.run;
import static lodestep.app.CommandRun.with;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.stream.Stream;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.app.CommandRun.Ended;
import lodestep.port.StoredEvent;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: what leaves the ledger can be read, checked and brought back without a doubt. */
class ExportCommandsTest {

  private final Path folder;
  private final Path ledger;

  ExportCommandsTest(@TempDir Path folder) {
    this.folder = folder;
    this.ledger = folder.resolve("bench.ledger");
  }

  @BeforeEach
  void dialTwo() {
    CommandRun.on(ledger, with(ONE, "--name", "plover-1"));
    CommandRun.on(ledger, with(ONE, "--name", "plover-2"));
  }

  private Path exported(String name, String... more) {
    Path file = folder.resolve(name);
    Ended ended =
        CommandRun.on(ledger, with(new String[] {"export", "--to", file.toString()}, more));
    assertThat(ended.code()).as(ended.err()).isZero();
    assertThat(ended.out()).startsWith("Exported to ").contains("VIRTUAL");
    return file;
  }

  private static List<StoredEvent> events(Path ledger) {
    List<StoredEvent> all = new ArrayList<>();
    try (SqliteArchive archive = SqliteArchive.open(ledger)) {
      archive.forEach(1, Long.MAX_VALUE, all::add);
    }
    return all;
  }

  @Test
  void makesTheSameBytesAndHashesOfAWholeExport() throws IOException {
    Path file = exported("whole.jsonl");
    Path again = folder.resolve("again.ledger");

    Ended made = run("import", file.toString(), "--ledger", again.toString());

    assertThat(made.code()).as(made.err()).isZero();
    assertThat(events(again)).isEqualTo(events(ledger)).hasSizeGreaterThan(20);
    assertThat(CommandRun.on(again, "prove", "--against", file.toString()).out())
        .contains("nothing is cut off");
    // It is a ledger like any other: work goes on in it.
    assertThat(CommandRun.on(again, ONE).code()).isZero();
    Ended onto = run("import", file.toString(), "--ledger", again.toString());
    assertThat(onto.code()).isEqualTo(2);
    assertThat(onto.err()).contains("already; name a new one").hasLineCount(1);
  }

  /**
   * Against the world: sha256sum of GNU coreutils, which knows nothing of us, reckons the hash of
   * each event of an export from the bytes that stand in it.
   */
  @Test
  void givesHashesThatAnotherToolReckonsToo() throws IOException, InterruptedException {
    Path file = exported("part.jsonl", "plover-2");
    List<String> lines = Files.readAllLines(file);
    String last = "00".repeat(32);
    int reckoned = 0;

    for (String line : lines.subList(1, lines.size() - 1)) {
      JsonNode event = JsonMapper.builder().build().readTree(line);
      String before = event.has("before") ? event.get("before").asText() : last;
      String payload = line.substring(line.indexOf("\"event\":") + 8, line.length() - 1);
      ByteArrayOutputStream bytes = new ByteArrayOutputStream();
      bytes.writeBytes(HexFormat.of().parseHex(before));
      bytes.writeBytes(payload.getBytes(StandardCharsets.UTF_8));
      last = event.get("hash").asText();
      if (reckoned < 5) {
        assertThat(sha256sum(bytes.toByteArray())).isEqualTo(last);
        reckoned++;
      }
    }

    String whole = Files.readString(file);
    String before = whole.substring(0, whole.lastIndexOf("{\"events\":"));
    assertThat(lines.get(lines.size() - 1))
        .isEqualTo(
            "{\"events\":%d,\"sha256\":\"%s\"}"
                .formatted(lines.size() - 2, sha256sum(before.getBytes(StandardCharsets.UTF_8))));
    assertThat(reckoned).isEqualTo(5);
  }

  private static String sha256sum(byte[] bytes) throws IOException, InterruptedException {
    Process process = new ProcessBuilder("sha256sum", "--binary").start();
    try (var in = process.getOutputStream()) {
      in.write(bytes);
    }
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertThat(process.waitFor()).isZero();
    return said.substring(0, 64);
  }

  @Test
  void showsAPartAndNeverMixesItIntoALedger() throws IOException {
    Path file = exported("part.jsonl", "plover-2");
    Path made = folder.resolve("made.ledger");

    Ended shown = run("import", file.toString());
    Ended refused = run("import", file.toString(), "--ledger", made.toString());

    assertThat(shown.code()).as(shown.err()).isZero();
    assertThat(shown.out())
        .contains("is as it was made", "VIRTUAL, reference rig: magnet ", ", plover-2, ")
        .contains("cannot be told from it", "accepted")
        .doesNotContain("plover-1");
    assertThat(refused.code()).isEqualTo(2);
    assertThat(refused.err()).contains("of one magnet, which is no ledger").hasLineCount(1);
    try (Stream<Path> files = Files.list(folder)) {
      assertThat(files.map(each -> each.getFileName().toString()))
          .noneMatch(name -> name.startsWith("made"));
    }
    JsonNode json = run("import", file.toString(), "--json").json();
    assertThat(json.get("history").get("identity").get("name").asText()).isEqualTo("plover-2");
    assertThat(json.get("rigKind").asText()).isEqualTo("virtual");
  }

  /** All that a reading means years later is in it: rig, calibration, zero and the batch. */
  @Test
  void takesAlongWhatTheMagnetsEventsReferTo() throws IOException {
    Path file = exported("part.jsonl", "plover-2");

    String text = Files.readString(file);

    for (String kind :
        List.of(
            "ledger-created",
            "program-started",
            "rig-described",
            "calibration-set",
            "head-seen",
            "batch-started",
            "batch-ended",
            "magnet-named",
            "zero-taken",
            "reading-taken",
            "pulse-intended",
            "pulse-ended",
            "verdict-given")) {
      assertThat(text).contains("\"kind\":\"" + kind + "\"");
    }
  }

  @Test
  void holdsALedgerAgainstAPart() throws IOException {
    Path part = exported("part.jsonl", "plover-1");
    Path other = folder.resolve("other.ledger");
    CommandRun.on(other, with(ONE, "--name", "plover-1"));

    assertThat(CommandRun.on(ledger, "prove", "--against", part.toString()).code()).isZero();
    Ended against = CommandRun.on(other, "prove", "--against", part.toString());
    assertThat(against.code()).isEqualTo(1);
    assertThat(against.out()).startsWith("not whole: event 1: ").contains("noted elsewhere");
  }

  @Test
  void refusesAnExportThatWasCutOrChanged() throws IOException {
    Path file = exported("whole.jsonl");
    byte[] whole = Files.readAllBytes(file);
    Path cut =
        Files.write(
            folder.resolve("cut.jsonl"), List.of(Files.readString(file).substring(0, 5_000)));
    byte[] changed = whole.clone();
    changed[changed.length / 2] ^= 1;
    Path spoilt = Files.write(folder.resolve("spoilt.jsonl"), changed);
    Path made = folder.resolve("made.ledger");

    for (Path bad : List.of(cut, spoilt)) {
      Ended ended = run("import", bad.toString(), "--ledger", made.toString());
      assertThat(ended.code()).isEqualTo(2);
      assertThat(ended.err()).contains("is not as it was made: line ").hasLineCount(1);
      assertThat(made).doesNotExist();
    }
    Ended none = run("import", folder.resolve("none.jsonl").toString());
    assertThat(none.err()).contains("there is no such file").hasLineCount(1);
  }

  @Test
  void writesOverNothingAndNamesAMagnetThatIsMeant() throws IOException {
    Path file = exported("whole.jsonl");
    byte[] before = Files.readAllBytes(file);

    Ended over = CommandRun.on(ledger, "export", "--to", file.toString());
    Ended unknown = CommandRun.on(ledger, "export", "plovr-1", "--to", folder + "/x.jsonl");
    Ended broken = CommandRun.on(ledger, "export", "--unbroken", "--to", folder + "/x.jsonl");

    assertThat(over.code()).isEqualTo(2);
    assertThat(over.err()).contains("already; name another").hasLineCount(1);
    assertThat(Files.readAllBytes(file)).isEqualTo(before);
    assertThat(unknown.err()).contains("plover-1");
    assertThat(broken.err()).contains("--unbroken is for one magnet").hasLineCount(1);
    assertThat(folder.resolve("x.jsonl")).doesNotExist();
    Path unbroken = exported("unbroken.jsonl", "plover-1", "--unbroken");
    assertThat(run("import", unbroken.toString()).out()).contains("nothing is left out");
  }
}
