package lodestep.cli;

import java.nio.file.Path;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetNames;
import lodestep.ledger.Proof;
import lodestep.paper.AskedWords;
import lodestep.port.ChainEnd;
import lodestep.port.Hash;
import lodestep.port.LedgerArchive;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Commands that read the record. */
final class RecordCommands {

  static final String LEDGER = "the ledger's file; the virtual rig's if left out";
  static final String RIG = "rig.toml of the rig whose ledger is meant";

  private static final int COLUMNS = 96;

  private static final DateTimeFormatter MINUTE =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm", Locale.ROOT).withZone(ZoneOffset.UTC);

  private RecordCommands() {}

  @Command(
      name = "prove",
      description = "Proves that the ledger is whole, or names the first entry that is not.",
      footer = {
        "",
        "Nothing in the file tells that its newest entries were cut off. Keep the",
        "number and hash that are printed, and have them compared another day.",
        "",
        "Examples: lodestep prove",
        "          lodestep prove --noted 45:9c0d...  (all 64 digits)"
      })
  static final class Prove extends Asked {

    private final Desk desk;

    @Option(names = "--ledger", paramLabel = "FILE", description = LEDGER)
    @Nullable
    private Path ledger;

    @Option(names = "--rig", paramLabel = "RIG", description = RIG)
    @Nullable
    private Path rig;

    @Option(
        names = "--noted",
        paramLabel = "NUMBER:HASH",
        description = "an entry as it was noted elsewhere; must be there and the same")
    private List<String> noted = new ArrayList<>();

    @Option(names = "--json", description = "as JSON")
    private boolean json;

    Prove(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      List<ChainEnd> anchors = noted.stream().map(Prove::anchor).toList();
      try (LedgerArchive archive = desk.program().archive(desk.ledger(ledger, rig))) {
        Proof.Result result = Proof.of(archive, anchors);
        if (json) {
          desk.print(Json.ofProof(result, anchors));
        } else {
          List<String> lines = new ArrayList<>(List.of(result.words()));
          lines.addAll(result.match(whole -> unseen(whole, anchors), broken -> List.of()));
          desk.print(lines);
        }
        return result.match(whole -> Desk.DONE, broken -> Desk.NOT_ACCEPTED);
      }
    }

    private static ChainEnd anchor(String text) {
      String[] parts = text.strip().split("\\s*:\\s*", 2);
      try {
        long number = Long.parseLong(parts[0]);
        if (number > 0 && parts.length == 2) {
          return new ChainEnd(number, Hash.ofHex(parts[1]));
        }
      } catch (IllegalArgumentException unreadable) {
        // Told below, as for any other text.
      }
      throw new Refusal(
          "--noted: '"
              + text
              + "' is no entry as prove prints it; write its number, a colon and the 64 digits of"
              + " its hash");
    }
  }

  /** What no proof from the file alone can tell, and how a person can. */
  private static List<String> unseen(Proof.Result.Whole whole, List<ChainEnd> anchors) {
    long newest = whole.end().number();
    long noted = Proof.newestNoted(anchors);
    if (noted == newest) {
      return List.of("Its newest event is the one that was noted elsewhere: nothing is cut off.");
    }
    String from =
        noted == 0
            ? "Whether events are cut off at its end cannot be told from the ledger alone:"
            : "It is whole up to event "
                + noted
                + ", noted elsewhere; whether events are cut off"
                + " after that cannot be told:";
    return Wrapped.lines(
        "",
        from
            + " compare event "
            + newest
            + " and its hash with a printed certificate or another note, or keep them for another"
            + " day's --noted "
            + newest
            + ":HASH.",
        COLUMNS);
  }

  /** Shows the magnet of this number, or all of this name. */
  static void show(Desk desk, Path ledger, String magnet) {
    show(desk, histories(desk, ledger, magnet));
  }

  /** Shows these, one after the other. */
  static void show(Desk desk, List<MagnetHistory> histories) {
    boolean first = true;
    for (MagnetHistory history : histories) {
      if (!first) {
        desk.out().println();
      }
      first = false;
      desk.out().println(heading(history));
      desk.out().println(AskedWords.of(history.identity()));
      desk.print(HistoryTable.of(history).lines());
    }
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
      for (long number : found(MagnetNames.of(archive).find(magnet), magnet)) {
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
