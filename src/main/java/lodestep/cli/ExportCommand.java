package lodestep.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.ledger.ExportHead;
import lodestep.ledger.MagnetHistory;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Writes a part of the ledger, or all of it, as a file that needs no Lodestep to be read. */
@Command(
    name = "export",
    description = "Writes one magnet's record, or the whole ledger, as a file of its own.",
    footer = {
      "",
      "A line of JSON each: what it is of, each event with its number and hash, an",
      "end. With a magnet come the events it refers to: rig, calibration, zero, batch.",
      "What can be proven of it and what not stands in its first line.",
      "",
      "Examples: lodestep export split-3 --to split-3.jsonl",
      "          lodestep export --to shed.jsonl"
    })
final class ExportCommand extends Asked {

  private static final int COLUMNS = 96;

  private final Desk desk;

  @Parameters(
      arity = "0..1",
      paramLabel = "MAGNET",
      description = "its number or its name; the whole ledger if left out")
  private @Nullable String magnet;

  @Option(
      names = "--to",
      required = true,
      paramLabel = "FILE",
      description = "where it goes; must not be there yet")
  private Path file = Path.of("");

  @Option(
      names = "--unbroken",
      description =
          "with all events between the magnet's first and last, other magnets' too, so that it"
              + " shows that none was left out")
  private boolean unbroken;

  @Option(names = "--ledger", paramLabel = "FILE", description = RecordCommands.LEDGER)
  private @Nullable Path ledger;

  @Option(names = "--rig", paramLabel = "RIG", description = RecordCommands.RIG)
  private @Nullable Path rig;

  @Option(names = "--json", description = "as JSON what was written")
  private boolean json;

  ExportCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    Path from = desk.ledger(ledger, rig);
    Optional<ExportWork.Part> part =
        Optional.ofNullable(magnet)
            .map(asked -> new ExportWork.Part(theOne(from, asked), unbroken));
    if (unbroken && part.isEmpty()) {
      throw new Refusal("--unbroken is for one magnet; a whole ledger is so by itself");
    }
    ExportWork.Exported done = desk.program().exports().export(from, part, file);
    if (json) {
      ObjectNode node = document(done.head(), done.events());
      node.put("file", done.file().toString());
      desk.print(node);
    } else {
      List<String> lines = new ArrayList<>();
      lines.add("Exported to " + done.file());
      lines.addAll(words(done.head(), done.events()));
      desk.print(lines);
    }
    return Desk.DONE;
  }

  private long theOne(Path from, String asked) {
    List<MagnetHistory> found = RecordCommands.histories(desk, from, asked);
    if (found.size() > 1) {
      throw new Refusal(
          "there are "
              + found.size()
              + " magnets '"
              + asked
              + "' on record; name one by its number: "
              + String.join(
                  ", ", found.stream().map(each -> Long.toString(each.magnet())).toList()));
    }
    return found.get(0).magnet();
  }

  /** What an export is, and what can be proven of it. */
  static List<String> words(ExportHead head, long events) {
    List<String> lines = new ArrayList<>();
    lines.add(
        String.format(
            Locale.ROOT,
            "  %s%s: %s, %,d of %,d events",
            head.virtual() ? "VIRTUAL, " : "",
            head.rig(),
            head.whole() ? "the whole ledger" : "magnet " + head.magnet() + ", " + head.name(),
            events,
            head.end().number()));
    lines.addAll(Wrapped.lines("  ", head.proves(), COLUMNS));
    return lines;
  }

  static ObjectNode document(ExportHead head, long events) {
    ObjectNode node = Json.object();
    node.put("what", head.whole() ? "whole ledger" : "one magnet");
    node.put("rig", head.rig());
    node.put("rigKind", head.rigKind());
    node.put("magnet", head.magnet());
    node.put("name", head.name());
    node.put("unbroken", head.unbroken());
    node.put("events", events);
    node.put("newestEvent", head.end().number());
    node.put("newestHash", head.end().hash().toString());
    node.put("proves", head.proves());
    return node;
  }
}
