package lodestep.cli;

import static lodestep.cli.GaugeCommands.flux;
import static lodestep.cli.GaugeCommands.gauss;
import static lodestep.cli.GaugeCommands.understood;
import static lodestep.cli.GaugeRigCommands.nest;
import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.bench.HandGauges;
import lodestep.bench.MagnetAsked;
import lodestep.bench.ReadingSheet;
import lodestep.bench.TypedPairs;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.dial.RecordedShape;
import lodestep.ledger.GaugeRecord;
import lodestep.magnet.Shape;
import lodestep.measure.PairedReadings;
import lodestep.paper.AskedWords;
import lodestep.port.GaugeEvent.HandGaugeRelated;
import lodestep.port.LedgerArchive;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** How a hand gauge relates to a nest. */
@Command(
    name = "relation",
    description = "Finds how a hand gauge relates to a nest, from magnets read by both.",
    footer = {
      "",
      "From a file: the heading is magnet,nest,hand; a row a magnet, both readings",
      "with their unit; name the magnets' size. With --from-ledger each reading of",
      "the gauge that was typed (hand, gauge typed) is paired with the rig's reading",
      "of the same magnet in the same state, shape by shape. Take three magnets or",
      "more of one shape, of different levels, and five or more so that an offset",
      "shows. With --keep the relation goes on record; 'told by' in a plan then",
      "names the gauge.",
      "With neither it shows the relations on record.",
      "",
      "Examples:",
      "  lodestep gauge relation pairs.csv --gauge \"shelf gauge\" \\",
      "    --size \"5.1 x 18 mm\" --keep",
      "  lodestep gauge relation --from-ledger --gauge \"shelf gauge\" --keep"
    })
final class RelationCommand extends Asked {

  private final Desk desk;

  @Parameters(arity = "0..1", paramLabel = "FILE", description = "a CSV file, a row a pair")
  private @Nullable Path file;

  @Option(names = "--from-ledger", description = "pairs the readings that were typed")
  private boolean fromLedger;

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

  RelationCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    RigConfig rig = desk.program().rig(Optional.ofNullable(rigFile));
    Path record = desk.ledger(ledger, rigFile);
    if (fromLedger) {
      return paired(rig, record);
    }
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
    String name = gauge.strip();
    return found(
        rig, record, new Paired(name, nest, kind, pairs, String.valueOf(from.getFileName())));
  }

  /**
   * Pairs of one kind.
   *
   * @param source where they stand
   */
  private record Paired(
      String gauge, NestConfig nest, Shape kind, PairedReadings pairs, String source) {}

  private int found(RigConfig rig, Path record, Paired paired) {
    return paired
        .pairs()
        .relation(flux("--step", step))
        .match(
            found ->
                told(
                    rig,
                    record,
                    HandGauges.entry(
                        paired.gauge(),
                        paired.nest(),
                        paired.kind(),
                        new HandGauges.Found(
                            found.relation(), paired.pairs().magnets().size(), paired.source())),
                    paired.pairs(),
                    found.untested()),
            none -> {
              desk.print(table(paired.pairs()).lines());
              desk.err().println("No relation: " + none.why() + ".");
              desk.err().flush();
              return Desk.NOT_ACCEPTED;
            });
  }

  /** From what was typed, kind by kind. */
  private int paired(RigConfig rig, Path record) {
    if (file != null || gauge == null || gauge.isBlank()) {
      throw new Refusal("--from-ledger: name the hand gauge with --gauge, and no file");
    }
    String asked = gauge.strip();
    TypedPairs typed;
    List<String> gauges;
    try (LedgerArchive archive = desk.program().archive(record)) {
      typed = TypedPairs.of(archive, asked);
      gauges = TypedPairs.gauges(archive);
    }
    String name = gauges.stream().filter(asked::equalsIgnoreCase).findFirst().orElse(asked);
    List<TypedPairs.Kind> kinds = typed.kinds().stream().filter(this::asked).toList();
    if (kinds.isEmpty()) {
      throw new Refusal(
          typed.kinds().isEmpty()
              ? "--from-ledger: no reading of '"
                  + name
                  + "' was typed"
                  + (gauges.isEmpty()
                      ? "; type them with: lodestep gauge typed --help"
                      : "; typed were those of: " + String.join(", ", gauges))
              : "--from-ledger: '" + name + "' has read no magnet of this shape, size and nest");
    }
    if (json && kinds.size() > 1) {
      throw new Refusal("--json: the magnets are of several shapes; name one with --size");
    }
    int worst = Desk.DONE;
    for (TypedPairs.Kind kind : kinds) {
      worst = Math.max(worst, paired(rig, record, name, kind));
    }
    return worst;
  }

  private boolean asked(TypedPairs.Kind kind) {
    boolean nest = nestName == null || nestName.equalsIgnoreCase(kind.of().nest());
    if (size == null) {
      return nest;
    }
    String sizes = size;
    Shape wanted = understood(() -> MagnetAsked.shape(shape, sizes));
    return nest && wanted.equals(RecordedShape.of(kind.named()));
  }

  private int paired(RigConfig rig, Path record, String name, TypedPairs.Kind kind) {
    PrintWriter told = json ? desk.err() : desk.out();
    Shape shown = RecordedShape.of(kind.named());
    told.println(shown.words() + " in the " + kind.of().nest() + ":");
    kind.leftOut().forEach(why -> told.println("left out: " + why));
    told.flush();
    NestConfig nest = GaugeRigCommands.nest(rig, kind.of().nest());
    boolean other = nest.standOff().microMetres() != kind.of().standOffMicroMetres();
    if (other && !kind.pairs().pairs().isEmpty()) {
      desk.err()
          .println(
              "No relation: the "
                  + nest.name()
                  + " has another stand-off now than when these were read; pair magnets anew.");
      desk.err().flush();
      return Desk.NOT_ACCEPTED;
    }
    return found(
        rig, record, new Paired(name, nest, shown, kind.pairs(), "readings typed into the ledger"));
  }

  private NestConfig fitting(RigConfig rig, Shape kind) {
    String wanted = kind instanceof Shape.Rod ? "rod" : kind instanceof Shape.Ring ? "ring" : "bar";
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
      desk.program().gauge().keep(rig, record, entry, "the relation is on record");
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
                  "entry %d, %s, %s, %s %s, %d magnets:",
                  entry.number(),
                  event.gauge(),
                  event.nest(),
                  event.shape(),
                  AskedWords.size(event.sizesMicroMetres()),
                  event.magnets()),
              "  " + HandGauges.relation(event).written()));
    }
    return Desk.DONE;
  }
}
