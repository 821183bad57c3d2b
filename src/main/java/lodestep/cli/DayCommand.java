package lodestep.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SortedMap;
import java.util.stream.Collectors;
import lodestep.ledger.DaySummary;
import lodestep.ledger.EventCodec;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent.LedgerCreated;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Sums a day up. */
@Command(
    name = "day",
    description = "Sums up a day: batches, magnets, verdicts, trips, pulses.",
    footer = {
      "",
      "Days are those of Greenwich, or of your zone with --zone. They go by the wall",
      "clock's times on record; a clock that was set shifts entries to another day.",
      "",
      "Examples: lodestep day",
      "          lodestep day 2026-05-04 --zone Pacific/Auckland"
    })
final class DayCommand extends Asked {

  private static final int COLUMNS = 96;

  private final Desk desk;

  @Parameters(
      arity = "0..1",
      paramLabel = "DATE",
      description = "year-month-day; the newest day on record if left out")
  private @Nullable String date;

  @Option(
      names = "--zone",
      paramLabel = "ZONE",
      description = "whose days, for example Europe/Madrid; UTC if left out")
  private @Nullable String zone;

  @Option(names = "--ledger", paramLabel = "FILE", description = RecordCommands.LEDGER)
  private @Nullable Path ledger;

  @Option(names = "--rig", paramLabel = "RIG", description = RecordCommands.RIG)
  private @Nullable Path rig;

  @Option(names = "--json", description = "as JSON")
  private boolean json;

  DayCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    ZoneId of = zone(zone == null ? "UTC" : zone);
    try (LedgerArchive archive = desk.program().archive(desk.ledger(ledger, rig))) {
      LocalDate day = date == null ? newest(archive, of) : date(date);
      DaySummary summary =
          DaySummary.of(
              archive,
              day.atStartOfDay(of).toInstant().toEpochMilli(),
              day.plusDays(1).atStartOfDay(of).toInstant().toEpochMilli());
      boolean virtual = virtual(archive);
      if (json) {
        desk.print(document(day, of, virtual, summary));
      } else {
        desk.print(words(day, of, virtual, summary));
      }
      return Desk.DONE;
    } catch (IllegalArgumentException unreadable) {
      throw new Refusal(
          "an event of that day cannot be read ("
              + unreadable.getMessage()
              + "); prove the ledger");
    }
  }

  private static ZoneId zone(String text) {
    try {
      return ZoneId.of(text);
    } catch (DateTimeException unknown) {
      throw new Refusal("--zone: there is no zone '" + text + "'; write it like Europe/Madrid");
    }
  }

  private static LocalDate date(String text) {
    try {
      return LocalDate.parse(text);
    } catch (DateTimeException unreadable) {
      throw new Refusal("'" + text + "' is no date; write year-month-day, like 2026-05-04");
    }
  }

  private static LocalDate newest(LedgerArchive archive, ZoneId zone) {
    long[] wall = {0};
    long number = archive.newest().number();
    archive.forEach(number, number, event -> wall[0] = event.index().wallEpochMs());
    return Instant.ofEpochMilli(wall[0]).atZone(zone).toLocalDate();
  }

  private static boolean virtual(LedgerArchive archive) {
    boolean[] virtual = {true};
    archive.forEach(
        1,
        1,
        event ->
            virtual[0] =
                EventCodec.decode(event).event() instanceof LedgerCreated created
                    && !created.rigKind().equals("real"));
    return virtual[0];
  }

  private static List<String> words(LocalDate day, ZoneId zone, boolean virtual, DaySummary sum) {
    List<String> lines = new ArrayList<>();
    lines.add(
        String.format(
            Locale.ROOT,
            "%s (%s)%s: %,d entries",
            day,
            zone,
            virtual ? ", VIRTUAL" : "",
            sum.events()));
    if (sum.events() == 0) {
      lines.add("Nothing is on record of that day.");
      return lines;
    }
    done(lines, sum);
    say(
        lines,
        "gauge",
        sum.zeros()
            + " zeros, "
            + sum.checks()
            + " checks, "
            + sum.outOfControl()
            + " out of control");
    say(lines, "trips", counted(sum.trips(), "none"));
    say(lines, "program", "started " + sum.programs() + " times");
    return lines;
  }

  private static void done(List<String> lines, DaySummary sum) {
    String batches =
        sum.begun().isEmpty() ? "none begun" : sum.begun().size() + " begun: " + all(sum.begun());
    say(lines, "batches", batches + ", " + sum.goneOn() + " gone on, " + sum.ended() + " ended");
    say(
        lines,
        "magnets",
        sum.magnets()
            + " started in "
            + sum.attempts()
            + " attempts, "
            + sum.open()
            + " left open");
    say(lines, "verdicts", counted(sum.verdicts(), "none"));
    say(lines, "pulses", counted(sum.acts(), "none"));
    say(lines, "came to", counted(sum.outcomes(), "none"));
    if (sum.byHand() > 0) {
      say(lines, "by hand", sum.byHand() + " acts");
    }
  }

  private static String all(List<String> names) {
    return String.join(", ", names);
  }

  private static void say(List<String> lines, String what, String text) {
    lines.addAll(Wrapped.lines(String.format("  %-9s ", what), text, COLUMNS));
  }

  private static String counted(SortedMap<String, Long> counts, String none) {
    return counts.isEmpty()
        ? none
        : counts.entrySet().stream()
            .map(each -> each.getValue() + " " + each.getKey())
            .collect(Collectors.joining(", "));
  }

  private static ObjectNode document(LocalDate day, ZoneId zone, boolean virtual, DaySummary sum) {
    ObjectNode node = Json.object();
    node.put("day", day.toString());
    node.put("zone", zone.toString());
    node.put("rigKind", virtual ? "virtual" : "real");
    node.setAll((ObjectNode) Json.ofRecord(sum));
    return node;
  }
}
