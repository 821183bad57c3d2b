package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.ledger.MagnetNames;
import lodestep.ledger.Pickup;
import lodestep.paper.Certificate;
import lodestep.paper.Entered;
import lodestep.paper.Things;
import lodestep.paper.Things.Thing;
import lodestep.port.ChainEnd;
import lodestep.port.StockEvent.PickupBuilt;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.HelpCommand;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Finished pickups. */
final class PickupCommands {

  private PickupCommands() {}

  /** The group itself, which only says what there is. */
  @Command(
      name = "pickup",
      description = "Finished pickups: what is in them, their pole tops, and when they come back.",
      subcommands = HelpCommand.class)
  static final class OfPickups extends Group {
    OfPickups(Desk desk) {
      super(desk);
    }
  }

  @Command(
      name = "build",
      description = "Puts on record which magnets a finished pickup has.",
      footer = {
        "",
        "The magnets stand in the order of the strings, the lowest first: those of a",
        "set, or named one by one. A pickup with one bar has one magnet and several",
        "poles. Its magnets must have been accepted.",
        "",
        "Examples: lodestep pickup build \"Plover 12\" --set split --order \"Hollis 7\"",
        "          lodestep pickup build Dunlin --magnet bar-2 --poles 6"
      })
  static final class Build extends Asked {

    private final Desk desk;

    @Parameters(paramLabel = "NAME", description = "as on its baseplate")
    private String name = "";

    @Mixin private RecordOf record = new RecordOf();

    @Option(names = "--set", paramLabel = "SET", description = "the set whose magnets it has")
    private @Nullable String set;

    @Option(
        names = "--magnet",
        paramLabel = "MAGNET",
        description = "a magnet of it, in the order of the strings; may be said several times")
    private List<String> magnets = new ArrayList<>();

    @Option(
        names = "--poles",
        paramLabel = "NUMBER",
        description = "pole tops it shows; as many as magnets if left out")
    private @Nullable Integer poles;

    @Option(names = "--order", paramLabel = "ORDER", description = "whose it is")
    private String order = "";

    @Option(names = "--winding", paramLabel = "WORDS", description = "what was wound about them")
    private String winding = "";

    @Option(names = "--said", paramLabel = "WORDS", description = "what else there is to say")
    private String words = "";

    @Option(names = "--json", description = "as JSON")
    private boolean json;

    Build(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      PickupBuilt built = record.read(desk, this::built);
      ChainEnd end =
          desk.program()
              .papers()
              .keep(record.rig(desk), record.ledger(desk), built, "the pickup is on record");
      if (json) {
        ObjectNode node = Json.object();
        node.put("pickup", end.number());
        node.set("event", Json.ofRecord(built));
        desk.print(node);
      } else {
        desk.print(
            List.of(
                "Pickup "
                    + end.number()
                    + ", "
                    + built.name()
                    + ": "
                    + count(built.magnets().size(), "magnet")
                    + ", "
                    + count(built.poles(), "pole")
                    + " on record.",
                "Next: lodestep pickup read " + quoted(built.name())));
      }
      return Desk.DONE;
    }

    private PickupBuilt built(Things things) {
      List<Long> numbers = new ArrayList<>();
      if (set != null) {
        Thing thing = RecordOf.found(things, set);
        if (!(thing instanceof Thing.OfSet found)) {
          throw new Refusal("--set: '" + set + "' is a " + thing.kind() + " and no set");
        }
        numbers.addAll(found.magnets());
      }
      for (String magnet : magnets) {
        Thing thing = RecordOf.found(things, magnet);
        if (!(thing instanceof Thing.OfMagnet found)) {
          throw new Refusal("--magnet: '" + magnet + "' is a " + thing.kind() + " and no magnet");
        }
        numbers.add(found.magnet());
      }
      if (numbers.isEmpty()) {
        throw new Refusal(
            "say which magnets it has: --set SET, or --magnet MAGNET for each of them");
      }
      return StockCommands.ENTERED.pickup(
          things,
          new PickupBuilt(name, order, numbers.size(), numbers, winding, words),
          Optional.ofNullable(poles));
    }
  }

  @Command(
      name = "show",
      description = "Shows the pickups on record, or all that is on record of one.",
      footer = {
        "",
        "Examples: lodestep pickup show",
        "          lodestep pickup show \"Plover 12\""
      })
  static final class Show extends Asked {

    private final Desk desk;

    @Parameters(paramLabel = "NAME", arity = "0..1", description = "which; all if left out")
    private @Nullable String name;

    @Mixin private RecordOf record = new RecordOf();

    @Option(names = "--json", description = "as JSON")
    private boolean json;

    Show(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      if (name == null) {
        list(record.read(desk, Things::pickups));
      } else {
        String asked = name;
        record.read(
            desk,
            things -> {
              Pickup pickup = pickup(things, asked);
              List<Certificate.Level> levels = levels(things, pickup);
              show(pickup, levels);
              return pickup;
            });
      }
      return Desk.DONE;
    }

    private void list(List<Pickup> pickups) {
      if (json) {
        ArrayNode all = Json.array();
        pickups.forEach(pickup -> all.add(Json.ofPickup(pickup)));
        desk.print(all);
      } else if (pickups.isEmpty()) {
        desk.print(List.of("No pickup is on record yet: lodestep pickup build --help"));
      } else {
        desk.print(PickupTable.of(pickups).lines());
      }
    }

    private void show(Pickup pickup, List<Certificate.Level> levels) {
      if (json) {
        desk.print(Json.ofPickup(pickup));
      } else {
        desk.print(PickupTable.of(pickup, levels));
      }
    }
  }

  /** What stands of its magnets; one that lost its verdict since is left out. */
  static List<Certificate.Level> levels(Things things, Pickup pickup) {
    List<Certificate.Level> levels = new ArrayList<>();
    for (long magnet : pickup.built().magnets()) {
      try {
        levels.addAll(things.levels(List.of(magnet)));
      } catch (IllegalArgumentException notNow) {
        // It was begun again, or refused, after the pickup was built.
      }
    }
    return levels;
  }

  /** The pickup of this name. */
  static Pickup pickup(Things things, String name) {
    return things.pickup(name).orElseThrow(() -> new Refusal(unknown(things, name)));
  }

  /** That there is no such pickup, with the names that are nearest. */
  static String unknown(Things things, String name) {
    List<String> nearest =
        Pickup.names(things.pickups()).find(name) instanceof MagnetNames.Search.Unknown unknown
            ? unknown.nearest()
            : List.of();
    return nearest.isEmpty()
        ? "no pickup is on record yet"
        : "no pickup '"
            + name
            + "' is on record; the nearest names are "
            + String.join(", ", nearest);
  }

  /** A name that can stand on a baseplate and in a record. */
  static String named(String name) {
    return GaugeCommands.understood(() -> Entered.name(name));
  }

  static String count(long count, String what) {
    return count + " " + what + (count == 1 ? "" : "s");
  }

  static String quoted(String name) {
    return name.matches("[\\p{L}\\p{N}._-]+") ? name : "\"" + name + "\"";
  }
}
