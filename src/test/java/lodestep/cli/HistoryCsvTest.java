package lodestep.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.SortedMap;
import java.util.TreeMap;
import lodestep.ledger.ClockMarks.Mark;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MemoryStore;
import lodestep.ledger.SampleEvents;
import lodestep.port.ChainEnd;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;

/**
 * Goal: who reads a history with a program is told as well which of its times cannot be believed.
 * Method: each mark in turn at the entries of a short record; CSV read back after RFC 4180 by the
 * library, which doubles quotes and quotes commas itself.
 */
class HistoryCsvTest {

  private static final int MAGNET = 3;

  private final MemoryStore store = new MemoryStore();

  private MagnetHistory history() {
    store.commit(SampleEvents.chained(ChainEnd.EMPTY, SampleEvents.twoMagnets()));
    return MagnetHistory.of(store, MAGNET).orElseThrow();
  }

  private static SortedMap<Long, Mark> marked(List<Long> numbers) {
    SortedMap<Long, Mark> marks = new TreeMap<>();
    for (long number : numbers) {
      marks.put(number, Mark.values()[marks.size() % Mark.values().length]);
    }
    return marks;
  }

  private static List<String> doubts(String csv) throws IOException {
    List<String> found = new ArrayList<>();
    CSVFormat format = CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get();
    for (CSVRecord row : format.parse(new StringReader(csv))) {
      found.add(row.get("entry") + " " + row.get("doubt of the time"));
    }
    return found;
  }

  @Test
  void saysBesideEachTimeInCsvAndJsonWhatSpeaksAgainstIt() throws IOException {
    MagnetHistory history = history();
    List<Long> numbers =
        history.happenings().stream().map(MagnetHistory.Happening::number).toList();
    SortedMap<Long, Mark> clock = marked(numbers);
    List<String> wanted =
        numbers.stream()
            .map(number -> number + " " + Objects.requireNonNull(clock.get(number)).words())
            .toList();

    List<String> inJson = new ArrayList<>();
    for (JsonNode each : Json.ofHistory(history, clock).path("happenings")) {
      inJson.add(each.path("entry").asText() + " " + each.path("timeDoubt").asText());
    }

    assertThat(doubts(HistoryCsv.of(List.of(history), clock))).isEqualTo(wanted);
    assertThat(inJson).isEqualTo(wanted);
    assertThat(wanted).anyMatch(line -> line.endsWith("set forward, or the machine slept"));
    assertThat(wanted).anyMatch(line -> line.endsWith(" "));
  }

  @Test
  void saysItOfOtherEventsToo() throws IOException {
    history();
    List<LedgerEntry> entries = new ArrayList<>();
    store.forEach(1, 4, stored -> entries.add(EventCodec.decode(stored)));
    SortedMap<Long, Mark> clock = marked(List.of(1L, 2L, 3L));

    assertThat(doubts(HistoryCsv.ofEvents(entries, clock)))
        .containsExactly(
            "1 ", "2 clock not synchronised", "3 clock set forward, or the machine slept", "4 ");
  }
}
