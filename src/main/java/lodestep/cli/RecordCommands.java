package lodestep.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SortedMap;
import lodestep.bench.Safekeeping;
import lodestep.config.RigConfig;
import lodestep.ledger.ClockMarks.Mark;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetNames;
import lodestep.paper.AskedWords;
import lodestep.paper.Things;
import lodestep.port.LedgerArchive;

/** Commands that read the record. */
final class RecordCommands {

  static final String LEDGER = "the ledger's file; the virtual rig's if left out";
  static final String RIG = "rig.toml of the rig whose ledger is meant";

  private static final int COLUMNS = 96;

  private RecordCommands() {}

  /** Shows the magnet of this number, or all of this name. */
  static void show(Desk desk, RigConfig rig, Path ledger, String magnet) {
    List<MagnetHistory> histories = histories(desk, ledger, magnet);
    try (LedgerArchive archive = desk.program().archive(ledger)) {
      show(desk, rig, histories, new Things(archive).clockOf(histories));
    }
  }

  /** Shows these, one after the other, and which of their times are doubtful. */
  static void show(
      Desk desk, RigConfig rig, List<MagnetHistory> histories, SortedMap<Long, Mark> clock) {
    boolean first = true;
    for (MagnetHistory history : histories) {
      if (!first) {
        desk.out().println();
      }
      first = false;
      desk.out().println(heading(history));
      desk.out().println(AskedWords.of(history.identity()));
      desk.print(HistoryTable.of(history).lines());
      desk.print(kept(history, rig));
    }
    List<String> doubts = ClockWords.lines(clock);
    if (!doubts.isEmpty()) {
      desk.out().println();
      desk.print(doubts);
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

  private static String heading(MagnetHistory history) {
    return String.format(
        Locale.ROOT,
        "History of magnet %d, %s, begun on %s UTC",
        history.magnet(),
        history.identity().name(),
        ClockWords.minute(history.namedWall()));
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
