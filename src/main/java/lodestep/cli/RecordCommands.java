package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import java.nio.file.Path;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.bench.Safekeeping;
import lodestep.config.RigConfig;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetNames;
import lodestep.port.LedgerArchive;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Commands that read the record. */
final class RecordCommands {

  static final String LEDGER = "the ledger's file; the virtual rig's if left out";
  static final String RIG = "rig.toml of the rig whose ledger is meant";

  private static final int COLUMNS = 96;

  private static final DateTimeFormatter MINUTE =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm", Locale.ROOT).withZone(ZoneOffset.UTC);

  private RecordCommands() {}

  @Command(
      name = "history",
      description = "Shows all that is on record of one magnet.",
      footer = {"", "Example: lodestep history split-3"})
  static final class History extends Asked {

    private final Desk desk;

    @Parameters(paramLabel = "MAGNET", description = "its number or its name")
    private String magnet = "";

    @Option(names = "--ledger", paramLabel = "FILE", description = LEDGER)
    @Nullable
    private Path ledger;

    @Option(names = "--rig", paramLabel = "RIG", description = RIG)
    @Nullable
    private Path rig;

    @Option(names = "--json", description = "as JSON")
    private boolean json;

    History(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      Path file = desk.ledger(ledger, rig);
      if (json) {
        ArrayNode all = Json.array();
        histories(desk, file, magnet).forEach(history -> all.add(Json.ofHistory(history)));
        desk.print(all);
      } else {
        show(desk, desk.program().rig(Optional.ofNullable(rig)), file, magnet);
      }
      return Desk.DONE;
    }
  }

  /** Shows the magnet of this number, or all of this name. */
  static void show(Desk desk, RigConfig rig, Path ledger, String magnet) {
    boolean first = true;
    for (MagnetHistory history : histories(desk, ledger, magnet)) {
      if (!first) {
        desk.out().println();
      }
      first = false;
      desk.out().println(heading(history));
      desk.out().println(AskedWords.of(history.identity()));
      desk.print(HistoryTable.of(history).lines());
      desk.print(kept(history, rig));
    }
  }

  /** What it keeps and where to put it; nothing of a magnet that was not accepted. */
  static List<String> kept(MagnetHistory history, RigConfig rig) {
    List<String> lines = new ArrayList<>();
    try {
      Safekeeping.of(history, rig)
          .map(keeping -> keeping.sentences(history.toBeReadAgain()))
          .orElse(List.of())
          .forEach(
              sentence -> {
                lines.add("");
                lines.addAll(Wrapped.lines("", sentence, COLUMNS));
              });
    } catch (IllegalArgumentException otherRig) {
      lines.add("");
      lines.addAll(
          Wrapped.lines("", "What it keeps is not told: " + otherRig.getMessage(), COLUMNS));
    }
    return lines;
  }

  /** The date is that of Greenwich, so that it reads the same on every machine. */
  private static String heading(MagnetHistory history) {
    return String.format(
        Locale.ROOT,
        "History of magnet %d, %s, begun on %s UTC",
        history.magnet(),
        history.identity().name(),
        MINUTE.format(history.namedWall()));
  }

  static List<MagnetHistory> histories(Desk desk, Path ledger, String magnet) {
    try (LedgerArchive archive = desk.program().archive(ledger)) {
      List<MagnetHistory> histories = new ArrayList<>();
      for (long number : found(MagnetNames.find(archive, magnet), magnet)) {
        MagnetHistory.of(archive, number).ifPresent(histories::add);
      }
      return histories;
    }
  }

  private static List<Long> found(MagnetNames.Search search, String asked) {
    if (search instanceof MagnetNames.Search.Found found) {
      return found.magnets();
    }
    List<String> nearest = ((MagnetNames.Search.Unknown) search).nearest();
    throw new Refusal(
        nearest.isEmpty()
            ? "no magnet is on record yet"
            : "no magnet '"
                + asked
                + "' is on record; the nearest names are "
                + String.join(", ", nearest));
  }
}
