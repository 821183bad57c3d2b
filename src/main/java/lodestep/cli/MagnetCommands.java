package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import lodestep.bench.MagnetAsked;
import lodestep.config.RigConfig;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Keeping;
import lodestep.port.Plot;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.HelpCommand;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** What the model says of magnets: nothing is driven and nothing recorded. */
final class MagnetCommands {

  static final String RANGE =
      "Of a usual magnet by the figures of its alloy or lot, by itself in air at 20 °C: within 3"
          + " per cent of a full charge of what finite elements say of rods and bars; lots lie some"
          + " per cent apart, and a reading moves by 0.2 to 0.4 per cent for 10 µm of stand-off.";

  /** A terminal as narrow as any. */
  static final int COLUMNS = 80;

  private MagnetCommands() {}

  /** A curve to be drawn into a file, if a person asked for one. */
  static void drawn(Desk desk, Plot plot, @Nullable Path file) {
    if (file != null) {
      desk.program().draw(plot, file);
      desk.err().println("Drawn: " + file);
      desk.err().flush();
    }
  }

  /** The same for a kind that this program charges or not. */
  static List<String> range(FaceModel kind) {
    List<String> lines = new ArrayList<>();
    if (!kind.alloy().family().isDialed()) {
      lines.add("");
      lines.addAll(
          Wrapped.lines(
              "",
              kind.alloy().name()
                  + " is neither charged nor knocked down here: these are the model's figures"
                  + " alone.",
              COLUMNS));
    }
    lines.addAll(range());
    return lines;
  }

  static List<String> range() {
    List<String> lines = new ArrayList<>(List.of(""));
    lines.addAll(Wrapped.lines("", RANGE, COLUMNS));
    return lines;
  }

  static String said(String format, Object... args) {
    return String.format(Locale.ROOT, format, args);
  }

  /** The group itself, which only says what there is. */
  @Command(
      name = "magnet",
      description =
          "Says what magnets can do: curves, charging, levels, alloys; nothing is driven.",
      subcommands = HelpCommand.class)
  static final class OfMagnets extends Group {
    OfMagnets(Desk desk) {
      super(desk);
    }
  }

  @Command(
      name = "curve",
      description = "What is left of a full charge after a reverse pulse, by its peak field.",
      footer = {"", "Example: lodestep magnet curve --alloy \"alnico 3\" --size \"4.6 x 15.5 mm\""})
  static final class OfCurve extends Asked {

    private static final int STEPS = 60;
    private static final int TABLE_EVERY = 5;

    private final Desk desk;
    @Mixin private KindOptions asked = new KindOptions();

    @Option(names = "--plot", paramLabel = "FILE", description = "draws it: .svg or .png")
    private @Nullable Path file;

    @Option(names = "--json", description = "as JSON, in SI units")
    private boolean json;

    OfCurve(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      RigConfig rig = asked.rig(desk);
      FaceModel kind = asked.kind(rig);
      Length standOff = asked.standOff(rig, kind);
      Keeping keeping = Keeping.of(kind, standOff);
      double most = 1.4 * kind.alloy().coercivityJ().amperesPerMetre();
      List<FieldStrength> peaks =
          IntStream.rangeClosed(0, STEPS)
              .mapToObj(step -> new FieldStrength(most * step / STEPS))
              .toList();
      List<FluxDensity> levels = peaks.stream().map(keeping::levelAfter).toList();
      Plot plot = plot(kind, standOff, peaks, levels);
      drawn(desk, plot, file);
      if (json) {
        ObjectNode node = JsonMagnet.ofKind(kind, standOff);
        ArrayNode points = node.putArray("points");
        for (int i = 0; i < peaks.size(); i++) {
          ObjectNode point = points.addObject();
          point.put("peakAmperesPerMetre", peaks.get(i).amperesPerMetre());
          point.put("leftTesla", levels.get(i).tesla());
        }
        desk.print(node);
        return Desk.DONE;
      }
      List<String> lines = new ArrayList<>(List.of(plot.title(), ""));
      lines.addAll(TerminalPlot.lines(plot));
      lines.add("");
      lines.addAll(table(keeping, peaks, levels).lines());
      lines.addAll(range(kind));
      desk.print(lines);
      return Desk.DONE;
    }

    private static Plot plot(
        FaceModel kind, Length standOff, List<FieldStrength> peaks, List<FluxDensity> levels) {
      return new Plot(
          kind + ", read " + standOff.written() + " off its face",
          "peak of the reverse field, kA/m",
          "left, G",
          List.of(
              new Plot.Curve(
                  kind.alloy().name(),
                  peaks.stream().map(peak -> peak.amperesPerMetre() * 1e-3).toList(),
                  levels.stream().map(FluxDensity::gauss).toList())));
    }

    private static Table table(
        Keeping keeping, List<FieldStrength> peaks, List<FluxDensity> levels) {
      return new Table(
          List.of(
              Table.Column.ofNumbers("reverse peak"),
              Table.Column.ofNumbers("left"),
              Table.Column.ofNumbers("of full charge")),
          IntStream.range(0, peaks.size())
              .filter(i -> i % TABLE_EVERY == 0)
              .mapToObj(
                  i ->
                      List.of(
                          peaks.get(i).written(),
                          levels.get(i).inGauss(),
                          said("%.1f %%", 100 * levels.get(i).tesla() / keeping.full().tesla())))
              .toList());
    }
  }

  @Command(
      name = "charging",
      description = "What field saturates a magnet, and whether this rig reaches it.",
      footer = {
        "",
        "Example: lodestep magnet charging --alloy \"alnico 6\" --size \"4.6 x 15.5 mm\""
      })
  static final class OfCharging extends Asked {

    private final Desk desk;
    @Mixin private KindOptions asked = new KindOptions();

    @Option(names = "--json", description = "as JSON, in SI units")
    private boolean json;

    OfCharging(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      RigConfig rig = asked.rig(desk);
      FaceModel kind = asked.kind(rig);
      Length standOff = asked.standOff(rig, kind);
      List<MagnetAsked.Reach> reaches = MagnetAsked.reaches(kind.shape(), rig);
      if (json) {
        desk.print(JsonMagnet.ofCharging(kind, standOff, reaches));
        return Desk.DONE;
      }
      FieldStrength net = kind.alloy().saturatingField();
      List<String> lines =
          new ArrayList<>(
              List.of(
                  kind.toString(),
                  said("inside it, saturated by      %10s", net.written()),
                  said(
                      "its own field takes          %10s",
                      new FieldStrength(kind.saturating().amperesPerMetre() - net.amperesPerMetre())
                          .written()),
                  said("so the coil has to give      %10s", kind.saturating().written()),
                  said(
                      "fully charged it reads       %10s  %s off its face",
                      kind.chargedField(standOff).inGauss(), standOff.written())));
      if (kind.shape().readAside() > 0) {
        lines.add(said("%39s  over the middle of its wall", ""));
        lines.add(
            said(
                "                             %10s  over its hole",
                kind.chargedOnAxis(standOff).inGauss()));
      }
      lines.add("");
      if (reaches.isEmpty()) {
        lines.add("This rig has no nest for a " + kind.shape().kind() + ".");
      }
      reaches.forEach(reach -> lines.addAll(Wrapped.lines("", sentence(kind, reach), COLUMNS)));
      lines.addAll(range());
      desk.print(lines);
      return Desk.DONE;
    }

    private static String sentence(FaceModel kind, MagnetAsked.Reach reach) {
      String where = "In the " + reach.nest().name() + ", ";
      if (!kind.alloy().family().isDialed()) {
        return where
            + "no: "
            + kind.alloy().name()
            + " is beyond what is charged here; read and match such magnets as they come.";
      }
      return reach
          .most()
          .map(
              most ->
                  where
                      + "the "
                      + reach.source()
                      + " gives up to "
                      + most.written()
                      + " in the mean over the magnet"
                      + reached(kind, reach))
          .orElse(where + "this rig charges by hand: prove it by a second, stronger charge.");
    }

    private static String reached(FaceModel kind, MagnetAsked.Reach reach) {
      if (reach.saturatesThroughout(kind)) {
        return ": it saturates this magnet, its ends as well.";
      }
      return reach.saturates(kind)
          ? ": enough for its middle. Its ends may see a sixth less; whether it is full there too,"
              + " the rig's two charges prove."
          : ": not enough; charge such magnets by hand between stronger ones, and prove it by a"
              + " second charge that moves the reading by less than 1 %.";
    }
  }
}
