package lodestep.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Sets a damaged ledger aside. */
@Command(
    name = "set-aside",
    description = "Sets a damaged ledger aside and begins a new one that says so.",
    footer = {
      "",
      "The damaged file keeps all it holds, under another name. The new ledger's",
      "second entry names it, its last good entry and that one's hash. A backup may",
      "hold more: see lodestep restore. A ledger that is whole is not set aside.",
      "",
      "Example: lodestep set-aside --ledger bench.ledger"
    })
final class SetAsideCommand extends Asked {

  private final Desk desk;

  @Option(names = "--ledger", paramLabel = "FILE", description = RecordCommands.LEDGER)
  private @Nullable Path ledger;

  @Option(names = "--rig", paramLabel = "RIG", description = "rig.toml of the rig it belongs to")
  private @Nullable Path rig;

  @Option(names = "--json", description = "as JSON")
  private boolean json;

  SetAsideCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    KeepWork.SetAside done =
        desk.program()
            .keep()
            .setAside(
                desk.ledger(ledger, rig),
                Optional.ofNullable(rig).map(file -> desk.program().rig(Optional.of(file))));
    if (json) {
      ObjectNode node = Json.object();
      node.put("ledger", done.ledgerFile().toString());
      node.put("setAsideAs", done.aside().toString());
      node.put("goodUpToEvent", done.good().number());
      node.put("goodHash", done.good().hash().toString());
      node.put("why", done.fault());
      desk.print(node);
    } else {
      desk.print(
          List.of(
              "Set aside as " + done.aside(),
              "  it is good up to event " + done.good().number() + ", hash " + done.good().hash(),
              "  why: " + done.fault(),
              "A new ledger was begun in " + done.ledgerFile() + "; its event 2 says so."));
    }
    return Desk.DONE;
  }
}
