package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: what the page tells of a voice is what the commands tell, and leads to the same entries.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class PageVoiceTest {

  @SuppressWarnings("NullAway.Init")
  private Path ledger;

  @SuppressWarnings("NullAway.Init")
  private Served served;

  @SuppressWarnings("NullAway.Init")
  private PageDevice page;

  @BeforeAll
  void serve(@TempDir Path folder) throws IOException {
    ledger = folder.resolve("voice.ledger");
    ServedRig.record(ledger, folder);
    served = ServedRig.at(ledger, 1);
    page = PageDevice.paired(served.port(), served.access().prepareCode());
  }

  @AfterAll
  void close() {
    served.close();
    assertThat(CommandRun.on(ledger, "prove").code()).as("the record is whole").isZero();
  }

  private JsonNode get(String path) throws IOException {
    return page.get("/api/v1" + path).json();
  }

  private JsonNode act(String path, ObjectNode body) throws IOException {
    return page.act("/api/v1" + path, body);
  }

  private static String query(String... pairs) {
    StringBuilder query = new StringBuilder();
    for (int at = 0; at < pairs.length; at += 2) {
      query.append(at == 0 ? "?" : "&").append(pairs[at]).append('=');
      query.append(URLEncoder.encode(pairs[at + 1], StandardCharsets.UTF_8));
    }
    return query.toString();
  }

  /** What the page shows is what the command prints, line breaks aside. */
  private void saidAlike(JsonNode answer, String... command) {
    String printed = CommandRun.on(ledger, command).out().replaceAll("\\s+", " ");
    assertThat(answer.path("passages")).isNotEmpty();
    for (JsonNode passage : answer.path("passages")) {
      String words = passage.path("text").asText();
      assertThat(printed)
          .contains(words.isEmpty() ? passage.path("rows").get(0).get(1).asText() : words);
    }
  }

  @Test
  void tellsOfVoiceInTheWordsOfTheCommands() throws IOException {
    String two = "0.25 E4; 0.33 B3";
    String[] rod = {"alloy", "alnico 3", "size", "4.6 x 15.5 mm", "strings", two};
    String[] options = {"--alloy", "alnico 3", "--size", "4.6 x 15.5 mm", "--strings", two};
    String[] strings = {"voice", "strings"};
    JsonNode answer = get("/voice/strings" + query(rod));
    saidAlike(answer, CommandRun.with(strings, options));
    assertThat(answer.path("plots").size()).isEqualTo(7);
    assertThat(answer.path("levels").get(2).asText()).isEqualTo("366.1 G");
    JsonNode taken = get("/voice/strings" + query(CommandRun.with(rod, "level", "351 G; 366 G")));
    saidAlike(taken, CommandRun.with(CommandRun.with(strings, options), "--level", "351 G; 366 G"));
    assertThat(taken.path("levels").get(0).asText()).isEqualTo("351.0 G; 366.0 G");
    String[] coil = {
      "resistance", "6.9 kohm", "load", "210 kohm", "inductance", "3.4 H", "capacitance", "640 pF"
    };
    saidAlike(
        get("/voice/coil" + query(coil)),
        "voice",
        "coil",
        "--resistance",
        "6.9 kohm",
        "--load",
        "210 kohm",
        "--inductance",
        "3.4 H",
        "--capacitance",
        "640 pF");
    saidAlike(
        get("/voice/reached" + query("name", "dunlin", "strings", two)),
        "voice",
        "reached",
        "dunlin",
        "--strings",
        two);
    saysWhatToTryInTheWordsOfTheCommands(rod, options);
  }

  private void saysWhatToTryInTheWordsOfTheCommands(String[] rod, String[] options)
      throws IOException {
    for (String about : List.of("sustain", "instead")) {
      String[] asked = CommandRun.with(rod, "level", "390 G", "by", "alnico 5");
      saidAlike(
          get("/voice/" + about + query(asked)),
          CommandRun.with(
              CommandRun.with(new String[] {"voice", about, "--level", "390 G"}, options),
              about.equals("instead") ? new String[] {"--by", "alnico 5"} : new String[0]));
    }
  }

  @Test
  void notesWhatWasMadeWithItsPickupAndListsTheNewestFirst() throws IOException {
    ObjectNode note = PageDevice.object().put("name", "Siskin 2").put("day", "2026-05-04");
    note.put("alloy", "alnico 3").put("size", "4.6 x 15.5 mm").put("levels", "366 G; 371 G");
    note.put("distance", "2.4 mm").put("strings", "0.25 E4; 0.33 B3").put("set", "dunlin");
    JsonNode kept = act("/build-notes", note);
    assertThat(kept.path("done").asBoolean()).as(kept.toString()).isTrue();
    assertThat(kept.path("sentence").asText()).contains("Siskin 2 is noted, entry");

    assertThat(CommandRun.on(ledger, "voice", "notes").out().replaceAll("\\s+", " "))
        .contains("Siskin 2", "strings 2.4 mm above");
    assertThat(get("/voice/notes").findValuesAsText("distance")).contains("2.4 mm");
    // Another of the same name: the newest stands first, and its day tells it from the other.
    act("/build-notes", note.deepCopy().put("day", "2026-05-09").put("pickup", "Dunlin 3"));
    JsonNode notes = get("/voice/notes");
    assertThat(notes)
        .extracting(each -> each.path("day").asText())
        .containsSubsequence("2026-05-09", "2026-05-04");
    assertThat(notes.findValuesAsText("words")).anyMatch(words -> words.contains("pickup "));
    // The note belongs to the set, so that nothing has to be said of its strings again.
    assertThat(get("/voice/reached" + query("name", "dunlin")).path("by").asText())
        .isEqualTo("Siskin 2");
    assertThat(page.get("/api/v1/voice/notes/csv").body()).contains("distance", "2.4 mm");
    assertThat(
            act("/build-notes", note.deepCopy().put("certificate", "1")).path("sentence").asText())
        .isEqualTo("certificate: entry 1 is no certificate");
    assertThat(act("/build-notes", note.deepCopy().put("day", "2099-05-04")).path("sentence"))
        .asString()
        .contains("day: 2099-05-04 is not yet");
    assertThat(act("/build-notes", note.put("distance", "near")).path("sentence").asText())
        .startsWith("distance: ");
  }

  /** By the page as by the command: whole or not at all, and nothing twice. */
  @Test
  void takesAFileOfNotesInOneCommit() throws IOException {
    String heading = "day,name,alloy,shape,size,levels,distance,set\n";
    String good =
        """
        2026-05-06,Redpoll 1,alnico 3,rod,4.6 x 15.5 mm,366 G,2.4 mm,nowhere
        2026-05-06,Redpoll 2,alnico 3,rod,4.6 x 15.5 mm,371 G,,
        """;
    ObjectNode wrong = PageDevice.object().put("name", "made.csv");
    wrong.put("csv", heading + good + "2099-05-06,Redpoll 3,alnico 3,rod,4.6 x 15.5 mm,366 G,,\n");
    assertThat(act("/build-notes/file", wrong).path("sentence").asText())
        .isEqualTo("row 4, day: 2099-05-06 is not yet; say the day on which it was made");
    assertThat(get("/voice/notes").toString()).doesNotContain("Redpoll");

    ObjectNode file = PageDevice.object().put("name", "made.csv").put("csv", heading + good);
    JsonNode taken = act("/build-notes/file", file.deepCopy());

    assertThat(taken.path("sentence").asText())
        .startsWith("2 new notes from made.csv. Redpoll 1: not found here")
        .endsWith("set nowhere");
    assertThat(get("/voice/notes").toString()).contains("Redpoll 1", "Redpoll 2");
    assertThat(act("/build-notes/file", file.deepCopy()).path("sentence").asText())
        .isEqualTo("0 new notes from made.csv");
    StringBuilder many = new StringBuilder("day,name,alloy,shape,size,levels\n");
    for (int row = 0; row < 601; row++) {
      many.append("2026-05-07,Siskin ").append(row).append(",alnico 3,rod,4.6 x 15.5 mm,366 G\n");
    }
    assertThat(act("/build-notes/file", file.put("csv", many.toString())).path("sentence"))
        .asString()
        .contains("lodestep voice notes --from");
  }

  @Test
  void plansWhatWasChosenWithItsReverseWoundPartner() throws IOException {
    JsonNode plan =
        get(
            "/voice/plan"
                + query(
                    "alloy",
                    "alnico 3",
                    "size",
                    "4.6 x 15.5 mm",
                    "set",
                    "siskin",
                    "levels",
                    "366 G; 371 G",
                    "tolerance",
                    "9 G",
                    "reverse",
                    "siskin-rw"));
    assertThat(plan.path("rows").size()).isEqualTo(4);
    assertThat(plan.path("rows").get(2).path("poleUp").asText()).isEqualTo("south");
    JsonNode checked = page.post("/api/v1/plans/check", (ObjectNode) plan).json();
    assertThat(checked.path("errors")).as(checked.toString()).isEmpty();
  }

  @Test
  void refusesAVoiceThatNobodyCanReadByItsField() throws IOException {
    for (String[] wrong :
        List.of(
            new String[] {"alloy", "alnico 3"},
            new String[] {"alloy", "alnico 3", "size", "thick"},
            new String[] {"alloy", "tin", "size", "4.6 x 15.5 mm"},
            new String[] {"alloy", "alnico 3", "size", "4.6 x 15.5 mm", "distance", "0.05 mm"},
            new String[] {"alloy", "alnico 3", "size", "4.6 x 15.5 mm", "keeper", "57 x 6 x 4 mm"},
            new String[] {"alloy", "alnico 3", "size", "4.6 x 15.5 mm", "strings", "x".repeat(201)},
            new String[] {"alloy", "alnico 3", "size", "4.6 x 15.5 mm", "level", "9000 G"})) {
      PageDevice.Said said = page.get("/api/v1/voice/strings" + query(wrong));
      assertThat(said.status()).as(said.body()).isEqualTo(400);
      assertThat(said.refused()).isEqualTo("not understood");
    }
    assertThat(page.get("/api/v1/voice/reached?name=nobody").status()).isEqualTo(400);
  }
}
