package lodestep.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.ledger.Proof;
import lodestep.port.ChainEnd;
import lodestep.port.Hash;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Proves that the record is whole. */
@Command(
    name = "prove",
    description = "Proves that the ledger is whole, or names the first entry that is not.",
    footer = {
      "",
      "Nothing in the file tells that its newest entries were cut off, or that an",
      "older copy was put in its place. Keep the number and hash that are printed,",
      "a backup or an export, and have the ledger compared with it another day.",
      "",
      "Examples: lodestep prove",
      "          lodestep prove --noted 45:9c0d...  (all 64 digits)",
      "          lodestep prove --against /mnt/stick/shed-real-2026-05-04T190000Z"
    })
final class ProveCommand extends Asked {

  private static final int COLUMNS = 96;

  private final Desk desk;

  @Option(names = "--ledger", paramLabel = "FILE", description = RecordCommands.LEDGER)
  private @Nullable Path ledger;

  @Option(names = "--rig", paramLabel = "RIG", description = RecordCommands.RIG)
  private @Nullable Path rig;

  @Option(
      names = "--noted",
      paramLabel = "NUMBER:HASH",
      description = "an entry as it was noted elsewhere; must be there and the same")
  private List<String> noted = new ArrayList<>();

  @Option(
      names = "--against",
      paramLabel = "FILE",
      description = "a backup's folder, or an export: its entries must be there and the same")
  private List<Path> against = new ArrayList<>();

  @Option(names = "--json", description = "as JSON")
  private boolean json;

  ProveCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    List<ChainEnd> anchors = new ArrayList<>(noted.stream().map(ProveCommand::anchor).toList());
    KeepWork keep = desk.program().keep();
    against.forEach(file -> anchors.addAll(keep.notedIn(file)));
    Path file = desk.ledger(ledger, rig);
    Proof.Result result = progressed(desk, file, anchors);
    Optional<String> around =
        result.match(whole -> keep.fileFault(file), broken -> Optional.empty());
    if (json) {
      desk.print(Json.ofProof(result, around, anchors));
    } else {
      desk.print(words(result, around, anchors));
    }
    return result.match(whole -> around.isEmpty(), broken -> false) ? Desk.DONE : Desk.NOT_ACCEPTED;
  }

  /** Proves it, and says on the way how far it has come where that takes a while. */
  static Proof.Result progressed(Desk desk, Path file, List<ChainEnd> anchors) {
    Screen screen = new Screen(desk.err(), desk.program().terminal());
    Proof.Result result =
        desk.program()
            .keep()
            .prove(file, anchors, done -> progress(screen, String.format("%,d events read", done)));
    screen.end();
    return result;
  }

  private static void progress(Screen screen, String line) {
    screen.keep(line);
  }

  private static List<String> words(
      Proof.Result result, Optional<String> around, List<ChainEnd> anchors) {
    if (around.isPresent()) {
      return Wrapped.lines(
          "", "not whole: its events are, but not the file: " + around.get(), COLUMNS);
    }
    List<String> lines = new ArrayList<>(List.of(result.words()));
    lines.addAll(result.match(whole -> unseen(whole, anchors), broken -> List.of()));
    return lines;
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
}
