package lodestep.cli;

import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.config.RigConfig;
import lodestep.ledger.MagnetHistory;
import lodestep.port.KeepingEvent.MagnetNoted;
import lodestep.quantity.Nearest;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Puts on record what has befallen a magnet after its verdict. */
@Command(
    name = "note",
    description = "Notes that a magnet was heated, dropped or knocked: it is to be read again.",
    footer = {
      "",
      "Until it has been read again, history says so and match leaves it out. What",
      "was done to it cannot be taken back from the record; a note made in error is",
      "settled by reading the magnet again.",
      "",
      "Examples: lodestep note split-3 --what drop --said \"from the bench, on its end\"",
      "          lodestep note return.1 --what heat --said \"an hour under the lamp\""
    })
final class NoteCommand extends Asked {

  private static final List<String> KINDS = List.of("heat", "drop", "knock");

  /** Fits a line of a history. */
  private static final int SAID_MAX = 200;

  private final Desk desk;

  @Parameters(paramLabel = "MAGNET", description = "its number or its name")
  private String magnet = "";

  @Option(
      names = "--what",
      required = true,
      paramLabel = "WHAT",
      description =
          "heat, drop, or knock: anything else that struck it, another magnet's touch with it")
  private String what = "";

  @Option(names = "--said", paramLabel = "TEXT", description = "how it came, in your own words")
  private String said = "";

  @Option(names = "--ledger", paramLabel = "FILE", description = RecordCommands.LEDGER)
  private @Nullable Path ledger;

  @Option(names = "--rig", paramLabel = "RIG", description = RecordCommands.RIG)
  private @Nullable Path rigFile;

  NoteCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    String kind = kind();
    String words = said.strip().replaceAll("\\s+", " ");
    if (words.codePointCount(0, words.length()) > SAID_MAX) {
      throw new Refusal(
          "--said: a note has " + SAID_MAX + " characters at the most; say it shorter");
    }
    RigConfig rig = desk.program().rig(Optional.ofNullable(rigFile));
    Path file = desk.ledger(ledger, rigFile);
    List<MagnetHistory> histories = RecordCommands.histories(desk, file, magnet);
    if (histories.size() > 1) {
      throw new Refusal(several(histories));
    }
    MagnetHistory history = histories.get(0);
    desk.program().keeping().note(rig, file, new MagnetNoted(history.magnet(), kind, words));
    String name = history.identity().name();
    desk.print(
        Wrapped.lines(
            "",
            "On record: "
                + name
                + ", number "
                + history.magnet()
                + ", "
                + kind
                + (words.isEmpty() ? "" : ", " + words)
                + ". It counts as to be read again; do that with: lodestep reread "
                + quoted(name),
            MagnetCommands.COLUMNS));
    return Desk.DONE;
  }

  private String kind() {
    String written = what.strip().toLowerCase(Locale.ROOT);
    if (!KINDS.contains(written)) {
      throw new Refusal(
          "--what: '"
              + what
              + "' is nothing that is noted"
              + Nearest.hint(written, KINDS)
              + "; write heat, drop or knock");
    }
    return written;
  }

  private String several(List<MagnetHistory> histories) {
    List<String> numbers =
        histories.stream().map(history -> Long.toString(history.magnet())).toList();
    return "several magnets are called '"
        + magnet
        + "'; say which by its number: "
        + String.join(", ", numbers);
  }

  /** A name as a shell takes it. */
  static String quoted(String name) {
    return name.matches("[\\p{L}\\p{N}._+:@-]+") ? name : "'" + name.replace("'", "'\\''") + "'";
  }
}
