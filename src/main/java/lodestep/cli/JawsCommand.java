package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lodestep.bench.MagnetAsked;
import lodestep.config.RigConfig;
import lodestep.magnet.FaceModel;
import lodestep.magnet.FieldInWork;
import lodestep.magnet.HardMagnet;
import lodestep.magnet.HardMaterial;
import lodestep.magnet.Jaws;
import lodestep.magnet.Place;
import lodestep.magnet.ResolvedMagnet;
import lodestep.port.Plot;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** What strong magnets in the hand charge. */
@Command(
    name = "jaws",
    description =
        "Whether a pair of strong magnets, or one from one end, saturates a magnet held to it.",
    footer = {
      "",
      "Example: lodestep magnet jaws --alloy \"alnico 8\" --shape bar --size \"56 x 11 x 3.4 mm\""
          + " --jaw \"neodymium n42\" --jaw-shape bar --jaw-size \"60 x 16 x 16 mm\""
    })
final class JawsCommand extends Asked {

  private static final double[] GAPS_MM = {0, 0.5, 1, 2, 3, 5, 8, 12, 20};

  private static final String CAUTION =
      "Jaws that strong crush fingers and shatter: eye protection, gloves, one at a time, and none"
          + " near an implant, a card, a watch or a child. The work leaps to them; hold it in a"
          + " stick of wood.";

  private final Desk desk;
  @Mixin private KindOptions asked = new KindOptions();

  @Option(
      names = "--jaw",
      paramLabel = "MATERIAL",
      required = true,
      description = "of each jaw, for example \"neodymium n42\" or \"ceramic 8\"")
  private String jaw = "";

  @Option(
      names = "--jaw-shape",
      paramLabel = "SHAPE",
      defaultValue = "rod",
      description = "as --shape; rod if left out")
  private String jawShape = "";

  @Option(
      names = "--jaw-size",
      paramLabel = "SIZE",
      required = true,
      description = "as --size; its last figure, or a bar's width, points to the work")
  private String jawSize = "";

  @Option(names = "--one-end", description = "one jaw alone, held to one end")
  private boolean oneEnd;

  @Option(names = "--plot", paramLabel = "FILE", description = "draws it: .svg or .png")
  private @Nullable Path file;

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  JawsCommand(Desk desk) {
    this.desk = desk;
  }

  /**
   * What one gap does.
   *
   * @param nearPart of a full charge, read at the face by the upper jaw
   * @param farPart read at the other face
   */
  private record Row(
      Length gap,
      FieldStrength near,
      FieldStrength least,
      FieldStrength far,
      double nearPart,
      double farPart) {}

  @Override
  public Integer call() {
    RigConfig rig = asked.rig(desk);
    FaceModel kind = asked.kind(rig);
    if (!kind.alloy().family().isDialed()) {
      throw new Refusal(
          "--alloy: "
              + kind.alloy().name()
              + " takes "
              + kind.saturating().written()
              + ", which no jaws of magnets give; read and match such magnets as they come");
    }
    Length standOff = asked.standOff(rig, kind);
    List<Row> rows = rows(kind, standOff, jaw());
    Plot plot = plot(kind, rows);
    MagnetCommands.drawn(desk, plot, file);
    if (json) {
      desk.print(asJson(JsonMagnet.ofKind(kind, standOff), kind, rows));
    } else {
      desk.print(words(plot, kind, rows));
    }
    return Desk.DONE;
  }

  private HardMagnet jaw() {
    HardMaterial material =
        HardMaterial.find(jaw)
            .orElseThrow(
                () ->
                    new Refusal(
                        "--jaw: '"
                            + jaw
                            + "' is no ceramic and no neodymium known here; lodestep magnet alloys"
                            + " lists them"));
    return new HardMagnet(
        material, KindOptions.said("--jaw-size", () -> MagnetAsked.shape(jawShape, jawSize)));
  }

  private List<Row> rows(FaceModel kind, Length standOff, HardMagnet jaw) {
    ResolvedMagnet magnet = ResolvedMagnet.forUnevenFields(kind.shape(), kind.model().loop());
    Place face = kind.shape().readAt(standOff);
    double full = magnet.charged().at(face).zTesla();
    return Arrays.stream(GAPS_MM)
        .mapToObj(Length::ofMm)
        .map(
            gap -> {
              Optional<HardMagnet> other = oneEnd ? Optional.empty() : Optional.of(jaw);
              Jaws jaws = new Jaws(jaw, other, gap, kind.shape());
              FieldInWork field = jaws.inWork();
              ResolvedMagnet.Resolved left = magnet.charged(jaws.charging());
              return new Row(
                  gap,
                  field.near(),
                  field.least(),
                  field.far(),
                  left.at(face).zTesla() / full,
                  left.at(face.below()).zTesla() / full);
            })
        .toList();
  }

  private static Optional<Row> widest(FaceModel kind, List<Row> rows) {
    return rows.stream()
        .filter(row -> row.least().compareTo(kind.saturating()) >= 0)
        .reduce((one, wider) -> wider);
  }

  private static String verdict(FaceModel kind, List<Row> rows) {
    String needed = kind.saturating().written() + " everywhere in it";
    return widest(kind, rows)
        .map(
            row ->
                "It takes "
                    + needed
                    + ": these jaws saturate it with up to "
                    + row.gap().written()
                    + " between face and jaw.")
        .orElse(
            "It takes "
                + needed
                + ": these jaws do not saturate it for certain at any gap. What they charge of it"
                + " by a usual loop stands above; a yoke of steel behind the jaws gives more.")
        .concat(
            " Proven is a charge by the gauge alone: a stronger one moves the reading by less than"
                + " 1 %.");
  }

  private static List<String> words(Plot plot, FaceModel kind, List<Row> rows) {
    List<String> lines = new ArrayList<>(List.of(plot.title(), ""));
    lines.addAll(TerminalPlot.lines(plot));
    lines.add("");
    lines.addAll(table(rows).lines());
    lines.add("");
    lines.addAll(Wrapped.lines("", verdict(kind, rows), MagnetCommands.COLUMNS));
    lines.add("");
    lines.addAll(Wrapped.lines("", CAUTION, MagnetCommands.COLUMNS));
    lines.addAll(MagnetCommands.range());
    return lines;
  }

  private static ObjectNode asJson(ObjectNode node, FaceModel kind, List<Row> rows) {
    node.put("saturatingAmperesPerMetre", kind.saturating().amperesPerMetre());
    ArrayNode gaps = node.putArray("gaps");
    for (Row row : rows) {
      ObjectNode each = gaps.addObject();
      each.put("gapMetres", row.gap().metres());
      each.put("nearAmperesPerMetre", row.near().amperesPerMetre());
      each.put("leastAmperesPerMetre", row.least().amperesPerMetre());
      each.put("farAmperesPerMetre", row.far().amperesPerMetre());
      each.put("nearFacePartOfFullCharge", row.nearPart());
      each.put("farFacePartOfFullCharge", row.farPart());
      each.put("saturates", row.least().compareTo(kind.saturating()) >= 0);
    }
    return node;
  }

  private Plot plot(FaceModel kind, List<Row> rows) {
    List<Double> gaps = rows.stream().map(row -> row.gap().mm()).toList();
    String title = (oneEnd ? "One jaw at one end of " : "Between jaws: ") + kind;
    return new Plot(
        title,
        "gap between face and jaw, mm",
        "field in the magnet, kA/m",
        List.of(
            GapCommand.curve("at its near face", gaps, rows.stream().map(Row::near).toList()),
            GapCommand.curve("least", gaps, rows.stream().map(Row::least).toList())));
  }

  private static Table table(List<Row> rows) {
    return new Table(
        List.of(
            Table.Column.ofNumbers("gap"),
            Table.Column.ofNumbers("near face"),
            Table.Column.ofNumbers("least"),
            Table.Column.ofNumbers("far face"),
            Table.Column.ofNumbers("near face reads"),
            Table.Column.ofNumbers("far face reads")),
        rows.stream()
            .map(
                row ->
                    List.of(
                        row.gap().written(),
                        row.near().written(),
                        row.least().written(),
                        row.far().written(),
                        MagnetCommands.said("%.1f %%", 100 * row.nearPart()),
                        MagnetCommands.said("%.1f %%", 100 * row.farPart())))
            .toList());
  }
}
