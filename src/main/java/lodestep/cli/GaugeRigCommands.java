package lodestep.cli;

import static lodestep.cli.GaugeCommands.flux;
import static lodestep.cli.GaugeCommands.understood;
import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.math.BigDecimal;
import java.math.MathContext;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.bench.GaugeBudget;
import lodestep.bench.HandGauges;
import lodestep.bench.NestSeatings;
import lodestep.bench.TightestTolerance;
import lodestep.bench.TypedReading;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.ledger.GaugeRecord;
import lodestep.ledger.MagnetHistory;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.HandGaugeRelation;
import lodestep.measure.UncertaintyBudget;
import lodestep.port.LedgerEvent;
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
        "freedom, and what it contributes. The seating is that of the newest five",
        "guided placement studies of the nest on record together, or of a file named",
        "with --study; the usual 0.15 %% until there is one.",
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
      UncertaintyBudget budget = budget(rig, nest, at);
      UncertaintyBudget.Expanded expanded = understood(() -> budget.expanded(percent / 100));
      FluxDensity plan =
          TightestTolerance.of(
                  gauge(rig),
                  NestSeatings.of(desk.program().gauge().studies(desk.ledger(ledger, rigFile))))
              .at(nest, at);
      if (json) {
        ObjectNode node = document(budget, expanded);
        node.put("nest", nest.name());
        node.put("tightestInAPlanGauss", plan.gauss());
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
      desk.print(lines);
      return Desk.DONE;
    }

    private UncertaintyBudget budget(RigConfig rig, NestConfig nest, FluxDensity at) {
      Path record = desk.ledger(ledger, rigFile);
      return GaugeBudget.of(
          gauge(rig),
          desk.program().gauge().calibratedBy(rig, record),
          at,
          Seatings.of(desk, nest, record, study));
    }

    private GaugeCalibration gauge(RigConfig rig) {
      return desk.program().gauge().calibrated(rig, desk.ledger(ledger, rigFile));
    }

    private static ObjectNode document(
        UncertaintyBudget budget, UncertaintyBudget.Expanded expanded) {
      ObjectNode node = Json.object();
      node.set("budget", Json.ofRecord(budget));
      node.set("combined", Json.ofRecord(budget.combined()));
      node.set("expanded", Json.ofRecord(expanded));
      return node;
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
      name = "typed",
      description = "Puts another gauge's reading of a magnet on record, as typed and not ours.",
      footer = {
        "",
        "It stands beside the rig's readings in the magnet's history and takes no part",
        "in any verdict. Of several magnets, each in the state the rig read last, the",
        "relation of the gauge to the nest is found by: gauge relation --from-ledger.",
        "",
        "Example: lodestep gauge typed wren-2 \"264 G south by shelf gauge\""
      })
  static final class OfTyped extends Asked {

    private final Desk desk;

    @Parameters(index = "0", paramLabel = "MAGNET", description = "its number or its name")
    private String magnet = "";

    @Parameters(index = "1", paramLabel = "READING", description = "\"264 G south by shelf gauge\"")
    private String reading = "";

    @Option(names = "--ledger", paramLabel = "FILE", description = RecordCommands.LEDGER)
    private @Nullable Path ledger;

    @Option(names = "--rig", paramLabel = "RIG", description = RecordCommands.RIG)
    private @Nullable Path rigFile;

    OfTyped(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      RigConfig rig = desk.program().rig(Optional.ofNullable(rigFile));
      Path record = desk.ledger(ledger, rigFile);
      List<MagnetHistory> found = RecordCommands.histories(desk, record, magnet);
      // Of several magnets of one name the newest.
      MagnetHistory history = found.get(found.size() - 1);
      TypedReading typed = understood(() -> TypedReading.read(reading, ""));
      desk.program()
          .gauge()
          .keep(rig, record, typed.entry(history.magnet()), "a reading was typed");
      desk.print(
          List.of(
              said(
                  "On record as typed, not ours: %s reads %s on %s, magnet %d.",
                  typed.gauge(), typed.typed(), history.identity().name(), history.magnet())));
      List<LedgerEvent.ReadingTaken> readings = history.readings();
      if (!readings.isEmpty()) {
        typed
            .doubt(
                FluxDensity.ofMicroTesla(readings.get(readings.size() - 1).fieldMicroTesla()),
                relation(record, typed.gauge(), history.identity()))
            .ifPresent(
                why ->
                    desk.remark(
                        "Warning: "
                            + why
                            + ". If it was mistyped, type the right one as well: this one stays on"
                            + " record and takes no part in a verdict."));
      }
      return Desk.DONE;
    }

    /** The newest relation of this gauge to the nest for magnets of this kind. */
    private Optional<HandGaugeRelation> relation(
        Path record, String gauge, LedgerEvent.MagnetNamed of) {
      return desk.program().gauge().gaugeRecord(record).relations().stream()
          .map(GaugeRecord.Entry::event)
          .filter(one -> one.gauge().equalsIgnoreCase(gauge) && one.nest().equals(of.nest()))
          .filter(one -> one.shape().equals(of.shape()))
          .filter(one -> one.sizesMicroMetres().equals(of.sizesMicroMetres()))
          .reduce((earlier, later) -> later)
          .map(HandGauges::relation);
    }
  }
}
