package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import lodestep.bench.Lots;
import lodestep.ledger.ClockMarks.Mark;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetHistory.Happening;
import lodestep.ledger.MagnetHistory.What;
import lodestep.paper.LotReport;
import lodestep.paper.Ordered;
import lodestep.paper.Papers;
import lodestep.paper.Things;
import lodestep.paper.Things.Thing;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** All that is on record of a thing. */
@Command(
    name = "history",
    description = "Shows all that is on record of a magnet, set, pickup, order, lot, rig or gauge.",
    footer = {
      "",
      "The words rig and gauge alone mean the rig and its gauge.",
      "",
      "Examples: lodestep history split-3",
      "          lodestep history split-3 --what reading --plot split-3.svg",
      "          lodestep history rig --from 2026-05-01 --csv rig.csv"
    })
final class HistoryCommand extends Asked {

  private static final Set<String> OF_GAUGE =
      Set.of(
          "calibration-set",
          "zero-taken",
          "zero-refused",
          "reference-read",
          "gauge-judged",
          "hand-gauge-related");

  private static final Set<String> OF_RIG =
      Set.of(
          "ledger-created",
          "program-started",
          "program-stopped",
          "rig-described",
          "head-seen",
          "batch-started",
          "batch-continued",
          "batch-ended",
          "gap-curve-measured",
          "tripped",
          "trip-reset",
          "person-asked",
          "lot-received",
          "order-taken",
          "order-handed-over",
          "pickup-built",
          "certificate-issued");

  private final Desk desk;

  @Parameters(paramLabel = "NAME", description = "what: its name, or its number")
  private String name = "";

  @Mixin private RecordOf record = new RecordOf();

  @Option(names = "--from", paramLabel = "DAY", description = "from this day (UTC): 2026-05-01")
  private @Nullable String from;

  @Option(names = "--to", paramLabel = "DAY", description = "up to and with this day (UTC)")
  private @Nullable String to;

  @Option(
      names = "--what",
      paramLabel = "WORD",
      description = "only what has this word in it: reading, pulse, verdict, trip")
  private @Nullable String what;

  @Option(names = "--csv", paramLabel = "FILE", description = "as CSV (RFC 4180) into this file")
  private @Nullable Path csv;

  @Option(names = "--plot", paramLabel = "FILE", description = "draws its life: .svg or .png")
  private @Nullable Path plot;

  @Option(names = "--json", description = "as JSON")
  private boolean json;

  HistoryCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    String asked = name.strip().toLowerCase(Locale.ROOT);
    if (asked.equals("rig") || asked.equals("gauge")) {
      events(asked.equals("rig"));
      return Desk.DONE;
    }
    List<MagnetHistory> named = record.read(desk, things -> things.histories(name));
    if (named.isEmpty()) {
      ofThing();
    } else {
      ofMagnets(named, false);
    }
    return Desk.DONE;
  }

  private void ofThing() {
    LotReport lot = record.read(desk, things -> things.lot(name));
    Optional<Ordered> order = record.read(desk, this::orderAlone);
    if (order.isPresent()) {
      ofOrder(order.get());
      return;
    }
    Thing thing =
        record.read(
            desk,
            things ->
                things
                    .find(name)
                    .orElseGet(
                        () -> {
                          if (!lot.isKnown()) {
                            throw Papers.unknown(things, name);
                          }
                          return new Thing.OfSet(lot.lot(), lot.magnets());
                        }));
    List<Long> numbers =
        thing instanceof Thing.OfPickup of
            ? of.pickup().built().magnets()
            : ((Thing.OfSet) thing).magnets();
    List<MagnetHistory> histories =
        record.read(
            desk,
            things -> numbers.stream().flatMap(number -> things.history(number).stream()).toList());
    if (!json && csv == null && thing instanceof Thing.OfPickup of) {
      List<String> lines =
          record.read(
              desk,
              things -> PickupTable.of(of.pickup(), PickupCommands.levels(things, of.pickup())));
      desk.print(lines);
    } else if (!json && csv == null && lot.isKnown()) {
      desk.print(StockCommands.Show.words(lot, Lots.of(record.rig(desk))));
    }
    ofMagnets(histories, true);
  }

  /** The order of this name, if nothing that is made is called so. */
  private Optional<Ordered> orderAlone(Things things) {
    return things.find(name).isPresent() ? Optional.empty() : things.order(name);
  }

  private void ofOrder(Ordered order) {
    List<MagnetHistory> histories =
        record.read(
            desk,
            things ->
                order.pickups().stream()
                    .flatMap(pickup -> pickup.built().magnets().stream())
                    .flatMap(number -> things.history(number).stream())
                    .toList());
    if (!json && csv == null) {
      desk.print(OrderCommands.words(order));
      desk.print(List.of(""));
    }
    ofMagnets(histories, true);
  }

  private void ofMagnets(List<MagnetHistory> all, boolean several) {
    List<MagnetHistory> histories = all.stream().map(this::filtered).toList();
    if (plot != null) {
      desk.program().draw(LifePlot.ofMagnets(histories), plot);
    }
    SortedMap<Long, Mark> clock = record.read(desk, things -> things.clockOf(histories));
    if (csv != null) {
      desk.program().write(HistoryCsv.of(histories, clock), csv);
      desk.print(List.of(csv + ": " + rows(histories) + " rows"));
    } else if (json) {
      ArrayNode node = Json.array();
      histories.forEach(history -> node.add(Json.ofHistory(history, clock)));
      desk.print(node);
    } else if (several) {
      desk.print(HistoryTable.inShort(histories).lines());
    } else {
      RecordCommands.show(desk, record.rig(desk), histories, clock);
    }
  }

  private static int rows(List<MagnetHistory> histories) {
    return histories.stream().mapToInt(history -> history.happenings().size()).sum();
  }

  private MagnetHistory filtered(MagnetHistory history) {
    Instant first = day("--from", from, 0, Instant.MIN);
    Instant last = day("--to", to, 1, Instant.MAX);
    List<List<String>> rows = HistoryTable.rows(history);
    List<Happening> kept = new ArrayList<>();
    for (int at = 0; at < rows.size(); at++) {
      Happening happening = history.happenings().get(at);
      boolean inTime = !happening.wall().isBefore(first) && happening.wall().isBefore(last);
      if (inTime && meant(happening, rows.get(at))) {
        kept.add(happening);
      }
    }
    return new MagnetHistory(history.magnet(), history.identity(), history.namedWall(), kept);
  }

  private boolean meant(Happening happening, List<String> row) {
    if (what == null) {
      return true;
    }
    String word = what.toLowerCase(Locale.ROOT);
    boolean verdict = word.equals("verdict") && happening.what() instanceof What.Verdict;
    return verdict || String.join(" ", row).toLowerCase(Locale.ROOT).contains(word);
  }

  /** The start of this day, or so many days after. */
  private static Instant day(
      String option, @Nullable String text, int daysAfter, Instant otherwise) {
    if (text == null) {
      return otherwise;
    }
    try {
      return LocalDate.parse(text.strip())
          .plusDays(daysAfter)
          .atStartOfDay(ZoneOffset.UTC)
          .toInstant();
    } catch (DateTimeParseException wrong) {
      throw new Refusal(option + ": a day is written like 2026-05-01, not '" + text + "'");
    }
  }

  private void events(boolean ofRig) {
    List<LedgerEntry> all = record.read(desk, things -> things.entries(ofRig ? OF_RIG : OF_GAUGE));
    Instant first = day("--from", from, 0, Instant.MIN);
    Instant last = day("--to", to, 1, Instant.MAX);
    String word = what == null ? "" : what.toLowerCase(Locale.ROOT);
    if (plot != null) {
      List<LedgerEntry> drawn =
          ofRig ? record.read(desk, things -> things.entries(LifePlot.OF_RIG)) : all;
      List<LedgerEntry> days = inTime(drawn, first, last);
      desk.program().draw(ofRig ? LifePlot.ofRig(days) : LifePlot.ofGauge(days), plot);
    }
    List<LedgerEntry> entries =
        inTime(all, first, last).stream()
            .filter(
                entry ->
                    (EventWords.kind(entry.event()) + " " + EventWords.fields(entry.event()))
                        .toLowerCase(Locale.ROOT)
                        .contains(word))
            .toList();
    List<Long> numbers = entries.stream().map(LedgerEntry::number).toList();
    SortedMap<Long, Mark> clock = record.read(desk, things -> things.clock(numbers));
    if (csv != null) {
      desk.program().write(HistoryCsv.ofEvents(entries, clock), csv);
      desk.print(List.of(csv + ": " + entries.size() + " rows"));
    } else if (json) {
      desk.print(document(entries, clock));
    } else {
      for (LedgerEntry entry : entries) {
        desk.print(
            Wrapped.lines(
                MagnetCommands.said(
                    "%6d  %s  ",
                    entry.number(), entry.wall().toString().substring(0, 16).replace('T', ' ')),
                EventWords.kind(entry.event()) + ": " + EventWords.fields(entry.event()),
                100));
      }
      desk.print(ClockWords.lines(clock));
    }
  }

  private static List<LedgerEntry> inTime(List<LedgerEntry> all, Instant first, Instant last) {
    return all.stream()
        .filter(entry -> !entry.wall().isBefore(first) && entry.wall().isBefore(last))
        .toList();
  }

  private static ArrayNode document(List<LedgerEntry> entries, SortedMap<Long, Mark> clock) {
    ArrayNode node = Json.array();
    for (LedgerEntry entry : entries) {
      ObjectNode each = node.addObject();
      each.put("entry", entry.number());
      each.put("wall", entry.wall().toString());
      each.put("timeDoubt", ClockWords.doubt(clock, entry.number()));
      each.put("kind", EventWords.kind(entry.event()));
      each.set("event", Json.ofRecord((Record) entry.event()));
    }
    return node;
  }
}
