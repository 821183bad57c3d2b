package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import lodestep.bench.Plan;
import lodestep.bench.PlanDoubts;
import lodestep.bench.WearOnRecord;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import lodestep.device.RigWear;
import lodestep.ledger.ContactLife;
import lodestep.port.LedgerArchive;
import lodestep.port.TripCause;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Commands that look at plan, rig and program, and start nothing. */
final class RigCommands {

  private static final String EXAMPLE = "bars-and-returns.csv";
  private static final int COLUMNS = 96;

  private RigCommands() {}

  @Command(
      name = "plan",
      description = "Checks a plan and shows it as understood; nothing is started.",
      footer = {
        "",
        "Columns, in any order: name, alloy, shape, size, pole up, target, tolerance;",
        "and where they are wanted set, spread (how far the magnets of a set may differ",
        "from one another, like 1.5 %%: the rule of \"lodestep match\"), nest, told by,",
        "count, lot, read after, survives, winding, read at, counts.",
        "",
        "Examples: lodestep plan --example > order.csv",
        "          lodestep plan order.csv"
      })
  static final class OfPlan extends Asked {

    private final Desk desk;

    @Parameters(arity = "0..1", paramLabel = "PLAN", description = "a CSV file, a row a magnet")
    @Nullable
    private Path planFile;

    @Option(names = "--example", description = "prints a plan to start from")
    private boolean example;

    @Option(names = "--rig", paramLabel = "RIG", description = "rig.toml of the rig it is for")
    @Nullable
    private Path rigFile;

    @Option(
        names = "--ledger",
        paramLabel = "FILE",
        description = "the ledger that knows the hand gauges; the rig's usual one if left out")
    @Nullable
    private Path ledger;

    @Option(names = "--json", description = "as JSON")
    private boolean json;

    OfPlan(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      if (example == (planFile != null)) {
        throw new Refusal("name a plan, or say --example, one of the two");
      }
      RigConfig rig = desk.program().rig(Optional.ofNullable(rigFile));
      if (planFile == null) {
        Plan supplied = Desk.understood(desk.program().suppliedPlan(EXAMPLE, rig));
        desk.out().print(supplied.text());
        desk.out().flush();
        return Desk.DONE;
      }
      Plan plan = Desk.understood(desk.program().plan(planFile, rig, desk.ledger(ledger, rigFile)));
      if (json) {
        desk.print(Json.ofPlan(plan, PlanDoubts.of(plan, rig)));
      } else {
        desk.print(PlanTable.of(plan).lines());
        desk.print(PlanDoubts.of(plan, rig).stream().map(doubt -> "Mind " + doubt).toList());
      }
      return Desk.DONE;
    }
  }

  @Command(
      name = "rig",
      description = "Checks rig.toml and shows the rig as understood.",
      footer = {"", "Example: lodestep rig rig.toml"})
  static final class Rig extends Asked {

    private final Desk desk;

    @Parameters(arity = "0..1", paramLabel = "RIG", description = "rig.toml")
    @Nullable
    private Path rigFile;

    @Option(
        names = "--ledger",
        paramLabel = "FILE",
        description =
            "the ledger that tells how worn relays and bank are; the usual one if left out")
    @Nullable
    private Path ledger;

    @Option(names = "--json", description = "as JSON, in SI units")
    private boolean json;

    Rig(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      RigConfig rig = desk.program().rig(Optional.ofNullable(rigFile));
      Optional<Wear> worn = worn(rig);
      if (json) {
        ObjectNode shown = Json.ofRig(rig);
        worn.ifPresent(wear -> tell(wear, rig, shown));
        desk.print(shown);
        return Desk.DONE;
      }
      desk.print(List.of(RigFile.show(rig)));
      worn.ifPresent(
          wear -> {
            say(wear.contacts().nearlyOver(), wear.contacts().sentence());
            if (rig.hasBank()) {
              say(wear.parts().bank().minds(), wear.parts().bank().sentence());
            }
            wear.parts().coils().sentence().ifPresent(why -> say(true, why));
          });
      return Desk.DONE;
    }

    private void say(boolean mind, String sentence) {
      String line = (mind ? "Mind: " : "By the record ") + sentence + ".";
      desk.print(Wrapped.lines("", line, COLUMNS));
    }

    private static void tell(Wear wear, RigConfig rig, ObjectNode shown) {
      shown.put("relaysWorked", wear.contacts().worked());
      if (rig.hasBank()) {
        shown.put("bankProofs", wear.parts().bank().proofs());
        wear.parts().bank().part().ifPresent(part -> shown.put("bankLeft", part));
      }
      wear.parts().coils().sentence().ifPresent(why -> shown.put("coilOff", why));
    }

    /** What the record tells of the rig's parts. */
    private record Wear(ContactLife contacts, RigWear parts) {}

    /** Empty where the rig has no relays of its own, or nothing is on record yet. */
    private Optional<Wear> worn(RigConfig rig) {
      Path file = ledger == null ? desk.program().usualLedger(rig) : ledger;
      if (ledger != null && !desk.program().isLedger(ledger)) {
        throw new Refusal("there is no ledger " + ledger + "; name the rig's own, or leave it out");
      }
      if (rig.coils().isEmpty() || !desk.program().isLedger(file)) {
        return Optional.empty();
      }
      try (LedgerArchive archive = desk.program().archive(file)) {
        return Optional.of(
            new Wear(ContactLife.of(archive, rig.relays()), WearOnRecord.of(archive, rig)));
      }
    }
  }

  @Command(
      name = "interlocks",
      description = "Lists every reason for which the rig lets go, and what to do then.",
      footer = {"", "Example: lodestep interlocks"})
  static final class Interlocks extends Asked {

    private final Desk desk;

    @Option(names = "--json", description = "as JSON")
    private boolean json;

    Interlocks(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      if (json) {
        ArrayNode all = Json.array();
        for (TripCause cause : TripCause.values()) {
          all.add(Json.ofCause(cause));
        }
        desk.print(all);
        return Desk.DONE;
      }
      List<String> lines = new ArrayList<>();
      for (TripCause cause : TripCause.values()) {
        lines.add(String.format("trip %d: %s", cause.code(), cause.what()));
        lines.addAll(Wrapped.lines("  why  ", cause.why(), COLUMNS));
        lines.addAll(Wrapped.lines("  do   ", cause.remedy(), COLUMNS));
      }
      lines.add("");
      lines.add(
          "After a trip nothing moves or fills until its cause has gone and the arm key has been");
      lines.add(
          "turned off and on at the rig. The hard-wired chain acts with no software in between.");
      desk.print(lines);
      return Desk.DONE;
    }
  }

  @Command(
      name = "figures",
      description = "Measures how fast the program is here, and how many pulses a magnet takes.",
      footer = {
        "",
        "Takes about a minute, in real time about two; of a record of a million events",
        "some minutes and 700 MB in the temporary folder, of ten million ten times that.",
        "Example: lodestep figures",
        "         lodestep figures --real-time",
        "         lodestep figures --record"
      })
  static final class Measured extends Asked {

    private final Desk desk;

    @Option(names = "--json", description = "as JSON")
    private boolean json;

    @Option(
        names = "--real-time",
        description =
            "the control loop on this machine's own time instead: how late scans come, serial"
                + " round trips, processor, memory, how soon a pulled head is noticed")
    private boolean realTime;

    @Option(
        names = "--record",
        description =
            "a ledger of invented events instead, from ten thousand on by tens: how long a history,"
                + " a day's summary, a proof and a commit take")
    private boolean record;

    @Option(
        names = "--largest",
        paramLabel = "EVENTS",
        description = "with --record: how many events at most; a million if left out")
    private long largest = 1_000_000;

    Measured(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      Consumer<String> progress =
          line -> {
            desk.err().println(line);
            desk.err().flush();
          };
      List<Program.Figure> figures = figures(progress);
      if (json) {
        desk.print(Json.ofFigures(figures));
        return Desk.DONE;
      }
      Table table =
          new Table(
              List.of(
                  Table.Column.ofWords("figure"),
                  Table.Column.ofNumbers("here"),
                  Table.Column.ofWords("how it was measured")),
              figures.stream()
                  .map(figure -> List.of(figure.what(), figure.value(), figure.how()))
                  .toList());
      desk.print(table.lines());
      return Desk.DONE;
    }

    private List<Program.Figure> figures(Consumer<String> progress) {
      if (record) {
        if (realTime || largest < 10_000) {
          throw new Refusal("--record goes without --real-time, and --largest from 10000 on");
        }
        return desk.program().recordFigures(largest, progress);
      }
      return realTime ? desk.program().realTimeFigures(progress) : desk.program().figures(progress);
    }
  }
}
