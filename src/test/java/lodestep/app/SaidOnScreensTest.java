package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;
import lodestep.magnet.AlloyBook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: whatever the screens of magnets, pickups, voice and rig show of the program's own sentences
 * can be put into another language: each has its form in the page's bundle, parts of forms and all.
 */
class SaidOnScreensTest extends PageAtRig {

  private static final String TWO = "0.25 E4; 0.33 B3";

  /** What persons have named here, and notes, which are the same in any language. */
  private static final Set<String> GIVEN =
      Set.of(
          "dunlin-1",
          "dunlin-2",
          "dunlin-1, dunlin-2",
          "Dunlin 3",
          "house rod",
          "house bar",
          "rod nest",
          "bar nest",
          "rod coil",
          "slot coil",
          "reference rig",
          "pickup seat",
          "chipped",
          "old gauge",
          "VIRTUAL-HEAD",
          "1.0-virtual");

  private final SaidForms forms = SaidForms.ofTheBundle();
  private final Set<String> untold = new TreeSet<>();

  SaidOnScreensTest(@TempDir Path folder) {
    super(folder, "said.ledger");
  }

  @Override
  void putOnRecord() throws IOException {
    ServedRig.record(ledger, folder);
    for (String[] command :
        new String[][] {
          {"gauge", "check"},
          {"pickup", "return", "Dunlin 3"},
          {"reread", "dunlin-1"},
          {"gauge", "typed", "dunlin-1", "470 G north by old gauge"},
          {"scrap", "dunlin-2", "--why", "chipped"},
        }) {
      CommandRun.Ended ended = CommandRun.on(ledger, command);
      assertThat(ended.code()).as(ended.toString()).isZero();
    }
  }

  private static boolean isGiven(String text) {
    return GIVEN.contains(text)
        || AlloyBook.standard().names().contains(text)
        || text.matches("/dev/.*|pin .*|.*\\.toml");
  }

  private void told(Set<String> said) {
    assertThat(said).isNotEmpty();
    for (String text : said) {
      forms.untold(text, SaidOnScreensTest::isGiven).stream()
          .map(piece -> piece + "   in: " + text)
          .forEach(untold::add);
    }
  }

  private static String query(String... pairs) {
    StringBuilder query = new StringBuilder();
    for (int at = 0; at < pairs.length; at += 2) {
      query.append(at == 0 ? "?" : "&").append(pairs[at]).append('=');
      query.append(URLEncoder.encode(pairs[at + 1], StandardCharsets.UTF_8));
    }
    return query.toString();
  }

  private void voice(String about, String... asked) throws IOException {
    told(SaidOnScreens.ofVoice(get("/voice/" + about + query(asked))));
  }

  @Test
  void hasAFormForWhatStandsOnRecordForTheFactsOfTheRigAndForEachAnswerOnVoice()
      throws IOException {
    JsonNode things = get("/things?find=");
    for (JsonNode each : things.path("magnets")) {
      told(SaidOnScreens.ofMagnet(get("/magnets/" + each.path("magnet").asText())));
    }
    JsonNode pickup = get("/pickups/" + things.path("pickups").get(0).path("pickup").asText());
    told(SaidOnScreens.ofReturn(get("/returns/" + pickup.at("/judged/0/entry").asText())));
    told(SaidOnScreens.ofRig(get("/rig")));
    answersOnVoice();
    assertThat(untold).isEmpty();
  }

  private void answersOnVoice() throws IOException {
    String[] rod = {"alloy", "alnico 3", "size", "4.6 x 15.5 mm", "strings", TWO};
    voice("strings", rod);
    voice("strings", CommandRun.with(rod, "level", "351 G; 366 G"));
    voice("strings", CommandRun.with(rod, "inductance", "3.1 H", "load", "210 kohm"));
    voice("sustain", CommandRun.with(rod, "level", "390 G"));
    voice("sustain", rod);
    voice("instead", CommandRun.with(rod, "level", "390 G", "by", "alnico 5"));
    voice("reached", "name", "dunlin", "strings", TWO);
    String[] bar = {
      "alloy", "alnico 5", "shape", "bar", "size", "58 x 11.5 x 3.4 mm", "strings", TWO
    };
    voice("strings", bar);
    String[] poles = {"poles", "4.9 x 15 mm", "keeper", "60 x 6.4 x 3.2 mm"};
    voice("strings", CommandRun.with(bar, poles));
    String[] coil = {"resistance", "6.9 kohm", "load", "210 kohm"};
    voice("coil", CommandRun.with(coil, "inductance", "3.4 H", "capacitance", "640 pF"));
    voice("coil", CommandRun.with(coil, "inductance", "3.4 H"));
    voice("coil", CommandRun.with(coil, "capacitance", "640 pF"));
    voice("coil", "inductance", "3.4 H", "capacitance", "640 pF");
  }
}
