package lodestep.cli;

import static lodestep.cli.GaugeCommands.flux;
import static lodestep.cli.GaugeCommands.gauss;
import static lodestep.cli.GaugeCommands.understood;
import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.math.BigDecimal;
import java.math.MathContext;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.bench.GaugeBudget;
import lodestep.bench.GuidedStudy;
import lodestep.bench.HandGauges;
import lodestep.bench.MagnetAsked;
import lodestep.bench.ReadingSheet;
import lodestep.bench.TightestTolerance;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.ledger.GaugeRecord;
import lodestep.ledger.StudyRecord;
import lodestep.magnet.Shape;
import lodestep.measure.Acceptance;
import lodestep.measure.PairedReadings;
import lodestep.measure.PlacementStudy;
import lodestep.measure.StandardUncertainty;
import lodestep.measure.UncertaintyBudget;
import lodestep.port.GaugeEvent.HandGaugeRelated;
import lodestep.quantity.FluxDensity;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** What the gauge of a rig is worth: its budget, and how hand gauges relate to it. */
final class GaugeRigCommands {

  private GaugeRigCommands() {}

  static NestConfig nest(RigConfig rig, @Nullable String name) {
    return name == null
        ? rig.nests().get(0)
        : understood(
            () -> {
              return rig.nest(name);
            });
  }

  @Command(
      name = "budget",
      description = "Shows the uncertainty budget of a reading, and what tolerance it can tell.",
      footer = {
        "",
        "After JCGM 100: each input with its standard uncertainty u, its degrees of",
        "freedom, and what it contributes. The seating is that of the newest guided",
        "placement study of the nest on record, or of a file named with --study; the",
        "usual 0.15 % until there is one.",
        "",
        "Example: lodestep gauge budget --nest \"rod nest\" --level \"430 G\""
      })
  static final class Budget extends Asked {

    private final Desk desk;

    @Option(names = "--level", paramLabel = "LEVEL", required = true, description = "\"430 G\"")
    private String level = "";

    @Option(names = "--nest", paramLabel = "NEST", description = "the rig's first if left out")
    private @Nullable String nestName;

    @Option(
        names = "--study",
        paramLabel = "FILE",
        description = "a placement study's readings, as for gauge study")
    private @Nullable Path study;

    @Option(names = "--ledger", paramLabel = "FILE", description = "the ledger's file")
    private @Nullable Path ledger;

    @Option(
        names = "--probability",
        paramLabel = "PERCENT",
        defaultValue = "95",
        description = "to be covered by the expanded uncertainty; 95 if left out")
    private double percent;

    @Option(
        names = "--rig",
        paramLabel = "RIG",
        description = "rig.toml; the virtual rig's if left out")
    private @Nullable Path rigFile;

    @Option(names = "--json", description = "as JSON, in gauss")
    private boolean json;

    Budget(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      RigConfig rig = desk.program().rig(Optional.ofNullable(rigFile));
      NestConfig nest = nest(rig, nestName);
      FluxDensity at = flux("--level", level).magnitude();
      UncertaintyBudget budget =
          GaugeBudget.of(desk.program().gauge().calibrated(rig), at, seating(nest));
      UncertaintyBudget.Expanded expanded = understood(() -> budget.expanded(percent / 100));
      FluxDensity plan = TightestTolerance.of(desk.program().gauge().calibrated(rig)).at(at);
      FluxDensity whole =
          Acceptance.tightestTolerance(FluxDensity.ofGauss(budget.combined().value()));
      if (json) {
        ObjectNode node = document(budget, expanded);
        node.put("nest", nest.name());
        node.put("tightestInAPlanGauss", plan.gauss());
        node.put("tightestWithSeatingGauss", whole.gauss());
        desk.print(node);
        return Desk.DONE;
      }
      List<String> lines = new ArrayList<>();
      lines.add("Uncertainty budget of " + budget.measurand() + " in the " + nest.name() + ",");
      lines.add(nest.standOff().written() + " from the face (JCGM 100)");
      lines.add("");
      lines.addAll(table(budget).lines());
      lines.add("");
      lines.add(
          said(
              "B = %.1f G ± %.2f G, k = %.2f, %s %% (u = %.2f G, %s degrees of freedom)",
              budget.value(),
              expanded.value(),
              expanded.factor(),
              plain(percent),
              budget.combined().value(),
              freedom(budget.combined().degreesOfFreedom())));
      lines.add(said("The tightest tolerance a plan may ask for here: ± %.1f G.", plan.gauss()));
      lines.add(said("To tell it also of a magnet that is seated anew: ± %.1f G.", whole.gauss()));
      desk.print(lines);
      return Desk.DONE;
    }

    private static ObjectNode document(
        UncertaintyBudget budget, UncertaintyBudget.Expanded expanded) {
      ObjectNode node = Json.object();
      node.set("budget", Json.ofRecord(budget));
      node.set("combined", Json.ofRecord(budget.combined()));
      node.set("expanded", Json.ofRecord(expanded));
      return node;
    }

    private GaugeBudget.Seating seating(NestConfig nest) {
      if (study == null) {
        return desk.program()
            .gauge()
            .studies(desk.ledger(ledger, rigFile))
            .placement(nest.name(), nest.standOff().microMetres())
            .map(Budget::studied)
            .orElseGet(
                () ->
                    new GaugeBudget.Seating(
                        StandardUncertainty.known(PlacementStudy.USUAL_SEATING),
                        "usual, until studied"));
      }
      Path file = study;
      PlacementStudy studied =
          understood(
              () ->
                  PlacementStudy.of(
                      ReadingSheet.study(desk.program().gauge().textOf(file)).readings()));
      return new GaugeBudget.Seating(studied.seating(), "placement study");
    }

    private static GaugeBudget.Seating studied(StudyRecord.Study on) {
      return new GaugeBudget.Seating(
          PlacementStudy.of(GuidedStudy.measured(on.readings())).seating(),
          "placement study, entry " + on.number());
    }

    private static Table table(UncertaintyBudget budget) {
      return new Table(
          List.of(
              Table.Column.ofWords("input"),
              Table.Column.ofNumbers("value"),
              Table.Column.ofNumbers("u"),
              Table.Column.ofWords("unit"),
              Table.Column.ofNumbers("freedom"),
              Table.Column.ofNumbers("sensitivity"),
              Table.Column.ofNumbers("part/G"),
              Table.Column.ofNumbers("share/%"),
              Table.Column.ofWords("known by")),
          budget.inputs().stream().map(input -> row(budget, input)).toList());
    }

    private static List<String> row(UncertaintyBudget budget, UncertaintyBudget.Input input) {
      return List.of(
          input.name(),
          plain(input.value()),
          said("%.3g", input.uncertainty().value()),
          input.unit(),
          freedom(input.uncertainty().degreesOfFreedom()),
          said("%.4g", input.sensitivity()),
          said("%.3f", input.contribution().value()),
          said("%.1f", 100 * budget.share(input)),
          input.known());
    }

    /** Without zeros that say nothing. */
    private static String plain(double figure) {
      return BigDecimal.valueOf(figure)
          .round(MathContext.DECIMAL32)
          .stripTrailingZeros()
          .toPlainString();
    }

    private static String freedom(double degrees) {
      return Double.isInfinite(degrees) || degrees > 1e4 ? "∞" : said("%.1f", degrees);
    }
  }

  @Command(
      name = "relation",
      description = "Finds how a hand gauge relates to a nest, from magnets read by both.",
      footer = {
        "",
        "The file has the heading magnet,nest,hand; a row a magnet, both readings with",
        "their unit. Take three magnets or more of one shape, of different levels, and",
        "five or more so that an offset shows. With --keep the relation goes on record;",
        "a plan's column 'told by' then names the gauge. Without a file it shows the",
        "relations on record.",
        "",
        "Example: lodestep gauge relation pairs.csv --gauge \"shelf gauge\" \\",
        "           --size \"5.1 x 18 mm\" --keep"
      })
  static final class Relation extends Asked {

    private final Desk desk;

    @Parameters(arity = "0..1", paramLabel = "FILE", description = "a CSV file, a row a pair")
    private @Nullable Path file;

    @Option(names = "--gauge", paramLabel = "NAME", description = "what you call the hand gauge")
    private @Nullable String gauge;

    @Option(
        names = "--shape",
        paramLabel = "SHAPE",
        defaultValue = "rod",
        description = "as in a plan; rod if left out")
    private String shape = "";

    @Option(names = "--size", paramLabel = "SIZE", description = "of all of them, \"5.1 x 18 mm\"")
    private @Nullable String size;

    @Option(
        names = "--nest",
        paramLabel = "NEST",
        description = "the rig's first of the shape if left out")
    private @Nullable String nestName;

    @Option(
        names = "--step",
        paramLabel = "STEP",
        defaultValue = "1 G",
        description = "the hand gauge's last digit; \"1 G\" if left out")
    private String step = "";

    @Option(names = "--keep", description = "puts the relation on record")
    private boolean keep;

    @Option(names = "--ledger", paramLabel = "FILE", description = "the ledger's file")
    private @Nullable Path ledger;

    @Option(
        names = "--rig",
        paramLabel = "RIG",
        description = "rig.toml; the virtual rig's if left out")
    private @Nullable Path rigFile;

    @Option(names = "--json", description = "as JSON; names and units are the record's")
    private boolean json;

    Relation(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      RigConfig rig = desk.program().rig(Optional.ofNullable(rigFile));
      Path record = desk.ledger(ledger, rigFile);
      if (file == null) {
        return shown(desk.program().gauge().gaugeRecord(record));
      }
      if (gauge == null || gauge.isBlank() || size == null) {
        throw new Refusal("name the hand gauge with --gauge and the magnets' size with --size");
      }
      Path from = file;
      String sizes = size;
      PairedReadings pairs =
          understood(() -> ReadingSheet.pairs(desk.program().gauge().textOf(from)));
      Shape kind = understood(() -> MagnetAsked.shape(shape, sizes));
      NestConfig nest = fitting(rig, kind);
      PairedReadings.Outcome outcome = pairs.relation(flux("--step", step));
      String name = gauge.strip();
      return outcome.match(
          found ->
              told(
                  rig,
                  record,
                  HandGauges.entry(
                      name,
                      nest,
                      kind,
                      new HandGauges.Found(
                          found.relation(),
                          pairs.magnets().size(),
                          String.valueOf(from.getFileName()))),
                  pairs,
                  found.untested()),
          none -> {
            desk.print(table(pairs).lines());
            desk.err().println("No relation: " + none.why() + ".");
            desk.err().flush();
            return Desk.NOT_ACCEPTED;
          });
    }

    private NestConfig fitting(RigConfig rig, Shape kind) {
      String wanted =
          kind instanceof Shape.Rod ? "rod" : kind instanceof Shape.Ring ? "ring" : "bar";
      if (nestName == null) {
        return rig.nests().stream()
            .filter(nest -> nest.shape().equals(wanted))
            .findFirst()
            .orElseThrow(() -> new Refusal("--shape: this rig has no nest for a " + wanted));
      }
      NestConfig nest = nest(rig, nestName);
      if (!nest.shape().equals(wanted)) {
        throw new Refusal("--nest: the " + nest.name() + " is for a " + nest.shape());
      }
      return nest;
    }

    private int told(
        RigConfig rig, Path record, HandGaugeRelated entry, PairedReadings pairs, String untested) {
      if (keep) {
        desk.program().gauge().keep(rig, record, entry);
      }
      if (json) {
        ObjectNode node = Json.object();
        node.set("relation", Json.ofRecord(entry));
        node.put("untested", untested);
        node.put("kept", keep);
        desk.print(node);
        return Desk.DONE;
      }
      List<String> lines = new ArrayList<>(table(pairs).lines());
      lines.add("");
      lines.add(entry.gauge() + ": " + HandGauges.relation(entry).written());
      lines.add(
          said(
              "One reading by hand scatters by %.1f %% about it (standard deviation).",
              entry.scatterPartsPerMillion() * 1e-4));
      if (!untested.isEmpty()) {
        lines.add("Mind: " + untested + ".");
      }
      lines.add(keep ? "On record." : "Not on record; say --keep to have it there.");
      desk.print(lines);
      return Desk.DONE;
    }

    private static Table table(PairedReadings pairs) {
      return new Table(
          List.of(
              Table.Column.ofWords("magnet"),
              Table.Column.ofNumbers("nest/G"),
              Table.Column.ofNumbers("hand/G"),
              Table.Column.ofNumbers("ratio")),
          pairs.magnets().stream()
              .map(
                  magnet ->
                      List.of(
                          magnet.name(),
                          gauss(magnet.nestTesla(), 1),
                          gauss(magnet.handTesla(), 1),
                          said("%.4f", magnet.ratio())))
              .toList());
    }

    private int shown(GaugeRecord record) {
      if (json) {
        ArrayNode all = Json.array();
        record.relations().forEach(entry -> all.add(Json.ofRecord(entry.event())));
        desk.print(all);
        return Desk.DONE;
      }
      if (record.relations().isEmpty()) {
        desk.print(List.of("No relation to a hand gauge is on record."));
        return Desk.DONE;
      }
      for (GaugeRecord.Entry<HandGaugeRelated> entry : record.relations()) {
        HandGaugeRelated event = entry.event();
        desk.print(
            List.of(
                said(
                    "entry %d, %s, %s, %s of %s µm, %d magnets:",
                    entry.number(),
                    event.gauge(),
                    event.nest(),
                    event.shape(),
                    event.sizesMicroMetres(),
                    event.magnets()),
                "  " + HandGauges.relation(event).written()));
      }
      return Desk.DONE;
    }
  }
}
