package lodestep.app;

import static lodestep.app.CommandRun.ONE;
import static lodestep.app.CommandRun.run;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.app.CommandRun.Ended;
import lodestep.ledger.Chain;
import lodestep.ledger.DaySummary;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MemoryStore;
import lodestep.ledger.Proof;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent.LedgerCreated;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: the record's figures are of what they say, and its invented events like real ones. */
class RecordFiguresTest {

  /** What a real event may be longer or shorter than an invented one of its kind. */
  private static final double LENGTHS_DIFFER = 0.15;

  private static Map<String, List<Integer>> lengths(LedgerArchive archive) {
    Map<String, List<Integer>> all = new HashMap<>();
    archive.forEach(
        1,
        Long.MAX_VALUE,
        event ->
            all.computeIfAbsent(event.index().kind(), kind -> new ArrayList<>())
                .add(event.payload().size()));
    return all;
  }

  private static double mean(Map<String, List<Integer>> lengths, String kind) {
    return lengths.getOrDefault(kind, List.of()).stream()
        .mapToInt(Integer::intValue)
        .average()
        .orElseThrow();
  }

  private static MemoryStore twoDays() {
    MemoryStore store = new MemoryStore();
    LedgerCreated created = new LedgerCreated("synthetic bench", "virtual", 3);
    List<EventDraft> drafts = new ArrayList<>();
    SyntheticRecord record = new SyntheticRecord(1, 1);
    List<EventDraft> first = record.nextDay();
    drafts.add(new EventDraft(created, 0, first.get(0).wall()));
    drafts.addAll(first);
    drafts.addAll(record.nextDay());
    store.commit(Chain.link(ChainEnd.EMPTY, drafts));
    return store;
  }

  @Test
  void inventsEventsAsLongAsThoseOfARun(@TempDir Path folder) {
    Path ledger = folder.resolve("run.ledger");
    CommandRun.on(ledger, ONE);
    Map<String, List<Integer>> invented = lengths(twoDays());

    try (SqliteArchive archive = SqliteArchive.open(ledger)) {
      Map<String, List<Integer>> real = lengths(archive);
      for (String kind :
          List.of(
              "reading-taken",
              "pulse-intended",
              "pulse-ended",
              "verdict-given",
              "bank-proven",
              "curve-point",
              "magnet-started",
              "zero-taken",
              "magnet-named")) {
        double ratio = mean(real, kind) / mean(invented, kind);
        assertThat(ratio).as(kind).isBetween(1 - LENGTHS_DIFFER, 1 + LENGTHS_DIFFER);
      }
    }
  }

  @Test
  void inventsARecordThatHangsTogether() {
    MemoryStore store = twoDays();
    long[] magnet = {0};
    store.forEachOfKind("magnet-named", event -> magnet[0] = event.number());

    assertThat(Proof.of(store, List.of())).isInstanceOf(Proof.Result.Whole.class);
    MagnetHistory history = MagnetHistory.of(store, magnet[0]).orElseThrow();
    assertThat(history.standingVerdict()).isPresent();
    assertThat(history.acts()).hasSize(3).allSatisfy(act -> assertThat(act.end()).isPresent());
    DaySummary sum = DaySummary.of(store, 0, Long.MAX_VALUE);
    assertThat(sum.magnets()).isEqualTo(2L * SyntheticRecord.MAGNETS);
    assertThat(sum.open()).isZero();
  }

  /** At the smallest size; no figure is held to any limit here. */
  @Test
  void measuresEachFigureOnce() throws IOException {
    Ended ended = run("figures", "--record", "--largest", "10000", "--json");

    assertThat(ended.code()).as(ended.err()).isZero();
    List<String> what = new ArrayList<>();
    for (JsonNode figure : ended.json()) {
      what.add(figure.get("what").asText());
    }
    assertThat(what)
        .containsExactly(
            "history of one magnet at 10,000 events",
            "summary of a day at 10,000 events",
            "proof of the whole at 10,000 events",
            "durable commits a second at 10,000 events",
            "bytes on disk a pulse at 10,000 events");
    assertThat(run("figures", "--record", "--largest", "5").code()).isEqualTo(2);
    assertThat(run("figures", "--record", "--real-time").code()).isEqualTo(2);
  }
}
