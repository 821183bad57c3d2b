package lodestep.cli;

import java.util.ArrayList;
import java.util.List;
import lodestep.bench.Lots;
import lodestep.paper.Papers;
import lodestep.paper.Things;
import lodestep.paper.Things.Thing;
import lodestep.port.LedgerEvent;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** What was written down wrongly of magnets, and magnets that will never be used. */
final class CorrectCommands {

  private CorrectCommands() {}

  private static Thing.OfMagnet magnet(Things things, String name) {
    Thing thing = things.magnet(name).orElseThrow(() -> Papers.unknown(things, name));
    return (Thing.OfMagnet) thing;
  }

  @Command(
      name = "scrap",
      description = "Puts on record that a magnet will never be used.",
      footer = {"", "Example: lodestep scrap split-4 --why \"chipped when it fell\""})
  static final class Scrap extends Asked {

    private final Desk desk;

    @Parameters(paramLabel = "MAGNET", description = "its number or its name")
    private String name = "";

    @Mixin private RecordOf record = new RecordOf();

    @Option(names = "--why", paramLabel = "WORDS", required = true, description = "what happened")
    private String why = "";

    Scrap(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      Thing.OfMagnet magnet = record.read(desk, things -> magnet(things, name));
      StockCommands.keep(
          desk,
          record,
          GaugeCommands.understood(() -> StockCommands.ENTERED.scrapped(magnet.magnet(), why)),
          magnet.name() + " is scrapped");
      return Desk.DONE;
    }
  }

  @Command(
      name = "correct",
      description = "Corrects what was written down wrongly of a magnet; what was written stays.",
      footer = {
        "",
        "Two magnets that changed places: name and set of each are the other's from here",
        "on. History, certificates and matching read as corrected; the old entry is",
        "still there to be seen.",
        "",
        "Examples: lodestep correct split-2 --exchanged-with split-3 --why \"wrong tray\"",
        "          lodestep correct split-2 --alloy \"alnico 4\" --why \"wrong box\""
      })
  static final class Correct extends Asked {

    private final Desk desk;

    @Parameters(paramLabel = "MAGNET", description = "its number or its name")
    private String name = "";

    @Mixin private RecordOf record = new RecordOf();

    @Option(names = "--exchanged-with", paramLabel = "MAGNET", description = "the other of the two")
    private @Nullable String other;

    @Option(names = "--name", paramLabel = "NAME", description = "what it is called")
    private @Nullable String newName;

    @Option(names = "--set", paramLabel = "SET", description = "the set it belongs to")
    private @Nullable String set;

    @Option(names = "--lot", paramLabel = "LOT", description = "the lot it is from")
    private @Nullable String lot;

    @Option(names = "--alloy", paramLabel = "ALLOY", description = "what it is made of")
    private @Nullable String alloy;

    @Option(names = "--why", paramLabel = "WORDS", required = true, description = "what happened")
    private String why = "";

    Correct(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      LedgerEvent event = record.read(desk, this::event);
      StockCommands.keep(desk, record, event, "Corrected");
      return Desk.DONE;
    }

    private LedgerEvent event(Things things) {
      List<String[]> asked = new ArrayList<>();
      add(asked, "name", newName);
      add(asked, "set", set);
      add(asked, "lot", lot);
      add(asked, "alloy", alloy);
      if (asked.size() + (other == null ? 0 : 1) != 1) {
        throw new Refusal(
            "say one thing to correct: --exchanged-with, --name, --set, --lot or --alloy");
      }
      long magnet = magnet(things, name).magnet();
      if (other != null) {
        long second = magnet(things, other).magnet();
        return GaugeCommands.understood(() -> StockCommands.ENTERED.exchanged(magnet, second, why));
      }
      String[] one = asked.get(0);
      if (one[0].equals("alloy")) {
        StockCommands.ENTERED.requireAlloy(Lots.of(record.rig(desk)), one[1]);
      }
      return GaugeCommands.understood(
          () -> StockCommands.ENTERED.corrected(things, magnet, one[0], one[1], why));
    }

    private static void add(List<String[]> asked, String field, @Nullable String value) {
      if (value != null) {
        asked.add(new String[] {field, PickupCommands.named(value)});
      }
    }
  }
}
