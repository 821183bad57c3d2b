package lodestep.app;

import static lodestep.app.CommandRun.ONE;
import static lodestep.app.CommandRun.run;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lodestep.app.CommandRun.Ended;
import lodestep.ledger.Chain;
import lodestep.ledger.EventCodec;
import lodestep.port.Bytes;
import lodestep.port.Hash;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: what the document of the record shows is so, and the nightly command is one. */
class RecordDocumentTest {

  private static final Path BOARD =
      Path.of(System.getProperty("lodestep.repository", "")).resolve("firmware-host/board");

  private static final Pattern EVENT =
      Pattern.compile("\\{\"hash\":\"([0-9a-f]{64})\",\"event\":(\\{.*\\})\\}");

  /** The indented lines of the example, those indented further joined to the line before. */
  private static List<String> example() throws IOException {
    List<String> joined = new ArrayList<>();
    for (String line : Files.readAllLines(BOARD.resolve("record.md"))) {
      if (line.startsWith("    {\"hash\"")) {
        joined.add(line.strip());
      } else if (line.startsWith("      ") && !joined.isEmpty()) {
        int last = joined.size() - 1;
        joined.set(last, joined.get(last) + line.strip());
      }
    }
    return joined;
  }

  @Test
  void showsEventsWhoseHashesFollow() throws IOException {
    Hash last = Hash.ZERO;
    List<String> lines = example();
    assertThat(lines).hasSize(2);
    for (String line : lines) {
      Matcher parts = EVENT.matcher(line);
      assertThat(parts.matches()).as(line).isTrue();
      Bytes payload = Bytes.ofUtf8(parts.group(2));

      assertThat(EventCodec.decode(payload).number()).isEqualTo(lines.indexOf(line) + 1L);
      assertThat(Chain.next(last, payload)).isEqualTo(Hash.ofHex(parts.group(1)));
      last = Hash.ofHex(parts.group(1));
    }
    assertThat(Files.readString(BOARD.resolve("record.md"))).contains(last + "  -");
  }

  /** The unit's own words, with the paths of a board exchanged for the test's. */
  @Test
  void runsTheNightlyCommandOfTheUnit(@TempDir Path folder) throws IOException {
    Path ledger = folder.resolve("rig.ledger");
    CommandRun.on(ledger, ONE);
    Files.createDirectories(folder.resolve("stick"));
    String unit = Files.readString(BOARD.resolve("lodestep-backup.service"));
    String command =
        unit.lines()
            .filter(line -> line.startsWith("ExecStart=/opt/lodestep/lodestep "))
            .findFirst()
            .orElseThrow();
    List<String> words = new ArrayList<>();
    Matcher word = Pattern.compile("\"([^\"]*)\"|(\\S+)").matcher(command);
    while (word.find()) {
      String said = word.group(1) == null ? word.group(2) : word.group(1);
      // After the words are told apart: the test's own folder may have a blank in its name.
      words.add(
          said.replace("/var/lib/lodestep/rig.ledger", ledger.toString())
              .replace("/var/lib/lodestep/backups", folder + "/backups")
              .replace("/media/lodestep/backups", folder + "/stick"));
    }

    Ended ended = run(words.subList(1, words.size()).toArray(String[]::new));

    // Both copies are made; that they are on one disk here is what it complains of.
    assertThat(ended.code()).isEqualTo(1);
    assertThat(ended.out().lines().filter(line -> line.startsWith("Backed up to "))).hasSize(2);
    assertThat(ended.err()).contains("is no second copy").hasLineCount(1);
  }
}
