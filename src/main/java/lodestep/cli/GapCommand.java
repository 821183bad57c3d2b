package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import lodestep.bench.Lots;
import lodestep.config.JigConfig;
import lodestep.config.RigConfig;
import lodestep.dial.GapCurve;
import lodestep.magnet.Approach;
import lodestep.magnet.FaceModel;
import lodestep.magnet.FieldInWork;
import lodestep.magnet.HallElement;
import lodestep.magnet.HardMagnet;
import lodestep.magnet.Place;
import lodestep.magnet.ResolvedMagnet;
import lodestep.port.Plot;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** The gap curve of a jig. */
@Command(
    name = "gap",
    description =
        "How the field of the rig's jig follows the gap, along the magnet, and what it leaves.",
    footer = {
      "",
      "Example: lodestep magnet gap --rig firmware-host/board/rig-virtual-jig.toml"
          + " --alloy \"alnico 5-7\" --size \"4.6 x 15.5 mm\""
    })
final class GapCommand extends Asked {

  private static final double[] GAPS_MM = {3, 5, 8, 12, 16, 20, 25, 30, 40, 60};

  private final Desk desk;
  @Mixin private KindOptions asked = new KindOptions();

  @Option(names = "--plot", paramLabel = "FILE", description = "draws it: .svg or .png")
  private @Nullable Path file;

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  GapCommand(Desk desk) {
    this.desk = desk;
  }

  /** What one gap does. */
  private record Row(
      Length gap, FieldStrength near, FieldStrength mean, FieldStrength far, FluxDensity left) {}

  @Override
  public Integer call() {
    RigConfig rig = asked.rig(desk);
    FaceModel kind = asked.kind(rig);
    Length standOff = asked.standOff(rig, kind);
    JigConfig jig =
        rig.jig()
            .orElseThrow(
                () -> new Refusal("--rig: this rig has no jig; name one whose file has a [jig]"));
    List<Row> rows = rows(kind, standOff, jig);
    FluxDensity stray = stray(kind, standOff, jig, Lots.element(rig));
    Plot plot = plot(kind, rows);
    MagnetCommands.drawn(desk, plot, file);
    if (json) {
      desk.print(asJson(JsonMagnet.ofKind(kind, standOff), rows, stray));
    } else {
      desk.print(words(plot, rows, stray));
    }
    return Desk.DONE;
  }

  private static ObjectNode asJson(ObjectNode node, List<Row> rows, FluxDensity stray) {
    node.put("strayAtGaugeTesla", stray.tesla());
    ArrayNode gaps = node.putArray("gaps");
    for (Row row : rows) {
      ObjectNode each = gaps.addObject();
      each.put("gapMetres", row.gap().metres());
      each.put("nearAmperesPerMetre", row.near().amperesPerMetre());
      each.put("meanAmperesPerMetre", row.mean().amperesPerMetre());
      each.put("farAmperesPerMetre", row.far().amperesPerMetre());
      each.put("leftTesla", row.left().tesla());
    }
    return node;
  }

  private static List<String> words(Plot plot, List<Row> rows, FluxDensity stray) {
    List<String> lines = new ArrayList<>(List.of(plot.title(), ""));
    lines.addAll(TerminalPlot.lines(plot));
    lines.add("");
    lines.addAll(table(rows).lines());
    lines.add("");
    lines.addAll(
        Wrapped.lines(
            "",
            "Parked, the jig's magnet makes "
                + stray.inGauss()
                + " at the gauge, which is part of each zero. Strong magnets crush and shatter:"
                + " eye protection, gloves, one at a time, and none near an implant.",
            MagnetCommands.COLUMNS));
    lines.addAll(MagnetCommands.range());
    return lines;
  }

  private static List<Row> rows(FaceModel kind, Length standOff, JigConfig jig) {
    HardMagnet opposing = GapCurve.magnet(jig);
    ResolvedMagnet magnet = ResolvedMagnet.forUnevenFields(kind.shape(), kind.model().loop());
    Place gauge = kind.shape().readAt(standOff).below();
    List<Row> rows = new ArrayList<>();
    for (double mm : GAPS_MM) {
      Length gap = Length.ofMm(mm);
      if (gap.compareTo(jig.smallestGap()) < 0) {
        continue;
      }
      Approach approach = new Approach(opposing, gap, kind.shape());
      FieldInWork field = approach.inWork();
      double left = magnet.knockedDown(approach.against()).at(gauge).zTesla();
      rows.add(
          new Row(
              gap,
              against(field.near()),
              against(field.mean()),
              against(field.far()),
              new FluxDensity(left)));
    }
    return rows;
  }

  private static FieldStrength against(FieldStrength signed) {
    return new FieldStrength(-signed.amperesPerMetre());
  }

  private static FluxDensity stray(
      FaceModel kind, Length standOff, JigConfig jig, HallElement element) {
    Length parked = jig.gap(jig.screw().park(), kind.shape().height());
    return new Approach(GapCurve.magnet(jig), parked, kind.shape()).strayAt(element, standOff);
  }

  private static Plot plot(FaceModel kind, List<Row> rows) {
    List<Double> gaps = rows.stream().map(row -> row.gap().mm()).toList();
    return new Plot(
        "The jig over " + kind,
        "gap, mm",
        "field against the magnet, kA/m",
        List.of(
            curve("at its near face", gaps, rows.stream().map(Row::near).toList()),
            curve("mean", gaps, rows.stream().map(Row::mean).toList()),
            curve("at its far face", gaps, rows.stream().map(Row::far).toList())));
  }

  /** Fields by the gap, drawn in kA/m. */
  static Plot.Curve curve(String name, List<Double> gaps, List<FieldStrength> fields) {
    return new Plot.Curve(
        name, gaps, fields.stream().map(field -> field.amperesPerMetre() * 1e-3).toList());
  }

  private static Table table(List<Row> rows) {
    return new Table(
        List.of(
            Table.Column.ofNumbers("gap"),
            Table.Column.ofNumbers("near face"),
            Table.Column.ofNumbers("mean"),
            Table.Column.ofNumbers("far face"),
            Table.Column.ofNumbers("left of a full charge")),
        rows.stream()
            .map(
                row ->
                    List.of(
                        row.gap().written(),
                        row.near().written(),
                        row.mean().written(),
                        row.far().written(),
                        row.left().tesla() < 0
                            ? row.left().inGauss() + ", turned over"
                            : row.left().inGauss()))
            .toList());
  }
}
