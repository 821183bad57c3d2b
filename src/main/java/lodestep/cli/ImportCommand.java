package lodestep.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.ledger.MagnetHistory;
import lodestep.paper.AskedWords;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Reads an export. */
@Command(
    name = "import",
    description = "Checks an export and shows it, or makes a new ledger of a whole one.",
    footer = {
      "",
      "Nothing is ever mixed into a ledger: one magnet's export is shown and checked,",
      "a whole one gives a ledger with the same bytes and hashes in a new file.",
      "",
      "Examples: lodestep import split-3.jsonl",
      "          lodestep import shed.jsonl --ledger again.ledger"
    })
final class ImportCommand extends Asked {

  private final Desk desk;

  @Parameters(paramLabel = "EXPORT", description = "a file that lodestep export wrote")
  private Path export = Path.of("");

  @Option(
      names = "--ledger",
      paramLabel = "FILE",
      description = "makes a ledger of it there; must not be there yet")
  private @Nullable Path ledger;

  @Option(names = "--json", description = "as JSON")
  private boolean json;

  ImportCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    ExportWork work = desk.program().exports();
    ExportWork.Imported read = ledger == null ? work.look(export) : work.make(export, ledger);
    Optional<MagnetHistory> history = MagnetHistory.among(read.entries(), read.head().magnet());
    if (json) {
      ObjectNode node = ExportCommand.document(read.head(), read.events());
      history.ifPresent(of -> node.set("history", Json.ofHistory(of)));
      desk.print(node);
      return Desk.DONE;
    }
    List<String> lines = new ArrayList<>();
    lines.add(
        ledger == null
            ? "The export " + export + " is as it was made"
            : "A ledger was made of it: " + ledger);
    lines.addAll(ExportCommand.words(read.head(), read.events()));
    history.ifPresent(
        of -> {
          lines.add("");
          lines.add("History of magnet " + of.magnet() + ", " + of.identity().name());
          lines.add(AskedWords.of(of.identity()));
          lines.addAll(HistoryTable.of(of).lines());
        });
    desk.print(lines);
    return Desk.DONE;
  }
}
