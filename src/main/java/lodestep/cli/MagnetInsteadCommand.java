package lodestep.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import lodestep.config.RigConfig;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Keeping;
import lodestep.port.Plot;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** One alloy in place of another. */
@Command(
    name = "instead",
    description = "One alloy in place of another: the level at which it reads alike.",
    footer = {
      "",
      "Example: lodestep magnet instead --alloy \"alnico 6\" --size \"4.6 x 15.5 mm\" \\",
      "           --level \"480 G\" --by \"alnico 5-7\""
    })
final class MagnetInsteadCommand extends Asked {

  private static final double[] FURTHER_MM = {1, 2, 3, 4, 6};

  private static final int FROM_TENTHS = 10;
  private static final int TO_TENTHS = 60;

  private final Desk desk;
  @Mixin private KindOptions asked = new KindOptions();

  @Option(
      names = "--level",
      paramLabel = "LEVEL",
      required = true,
      description = "what the magnet reads that is to be replaced")
  private String level = "";

  @Option(
      names = "--by",
      paramLabel = "ALLOY",
      required = true,
      description = "the alloy to take in its place")
  private String other = "";

  @Option(names = "--plot", paramLabel = "FILE", description = "draws it: .svg or .png")
  private @Nullable Path file;

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  MagnetInsteadCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    RigConfig rig = asked.rig(desk);
    FaceModel kind = asked.kind(rig);
    FaceModel by = asked.kind(rig, other);
    Length standOff = asked.standOff(rig, kind);
    FluxDensity wanted = KindOptions.said("--level", () -> FluxDensity.parse(level).magnitude());
    Keeping own = Keeping.of(kind, standOff);
    Keeping others = Keeping.of(by, standOff);
    KindOptions.said("--level", () -> own.peakFor(wanted));
    if (wanted.compareTo(others.full()) > 0) {
      throw new Refusal(
          MagnetCommands.said(
              "--by: %s cannot read %s at %s, fully charged it reads %s; take a larger magnet or"
                  + " a stronger alloy",
              by, wanted.inGauss(), standOff.written(), others.full().inGauss()));
    }
    Plot plot = plot(kind, by, own, others, wanted);
    MagnetCommands.drawn(desk, plot, file);
    if (json) {
      ObjectNode node = JsonMagnet.ofKind(by, standOff);
      node.put("levelTesla", wanted.tesla());
      node.put("peakAmperesPerMetre", others.peakFor(wanted).amperesPerMetre());
      node.put("replacedAlloy", kind.alloy().name());
      node.put("replacedPeakAmperesPerMetre", own.peakFor(wanted).amperesPerMetre());
      desk.print(node);
      return Desk.DONE;
    }
    desk.print(words(kind, by, own, others, wanted, standOff, plot));
    return Desk.DONE;
  }

  private static List<String> words(
      FaceModel kind,
      FaceModel by,
      Keeping own,
      Keeping others,
      FluxDensity wanted,
      Length standOff,
      Plot plot) {
    List<String> lines =
        new ArrayList<>(
            List.of(
                by + " in place of " + kind.alloy().name(),
                "both dialed to " + wanted.inGauss() + ", read " + standOff.written() + " off",
                ""));
    lines.addAll(TerminalPlot.lines(plot));
    lines.add("");
    lines.addAll(table(kind, by, own, others, wanted).lines());
    lines.add("");
    lines.addAll(Wrapped.lines("", verdict(kind, by, own, others, wanted), MagnetCommands.COLUMNS));
    lines.addAll(MagnetCommands.range());
    return lines;
  }

  /** How each falls off from its face. */
  private static Plot plot(
      FaceModel kind, FaceModel by, Keeping own, Keeping others, FluxDensity wanted) {
    List<Double> away =
        IntStream.rangeClosed(FROM_TENTHS, TO_TENTHS).mapToObj(tenths -> 0.1 * tenths).toList();
    return new Plot(
        by.alloy().name() + " in place of " + kind.alloy().name(),
        "off the face, mm",
        "reads, G",
        List.of(
            falling(kind.alloy().name(), own, wanted, away),
            falling(by.alloy().name(), others, wanted, away)));
  }

  private static Plot.Curve falling(
      String name, Keeping keeping, FluxDensity wanted, List<Double> away) {
    return new Plot.Curve(
        name,
        away,
        away.stream().map(mm -> keeping.readsAt(wanted, Length.ofMm(mm)).gauss()).toList());
  }

  private static Table table(
      FaceModel kind, FaceModel by, Keeping own, Keeping others, FluxDensity wanted) {
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("fully charged", own.full().inGauss(), others.full().inGauss()));
    rows.add(List.of("this level", part(own, wanted), part(others, wanted)));
    rows.add(
        List.of(
            "knocked down by", own.peakFor(wanted).written(), others.peakFor(wanted).written()));
    for (double mm : FURTHER_MM) {
      Length at = Length.ofMm(mm);
      rows.add(
          List.of(
              "reads at " + at.written(),
              own.readsAt(wanted, at).inGauss(),
              others.readsAt(wanted, at).inGauss()));
    }
    return new Table(
        List.of(
            Table.Column.ofWords(""),
            Table.Column.ofNumbers(kind.alloy().name()),
            Table.Column.ofNumbers(by.alloy().name())),
        rows);
  }

  private static String part(Keeping keeping, FluxDensity level) {
    return MagnetCommands.said("%.0f %%", 100 * level.tesla() / keeping.full().tesla());
  }

  private static String verdict(
      FaceModel kind, FaceModel by, Keeping own, Keeping others, FluxDensity wanted) {
    FieldStrength ours = own.peakFor(wanted);
    FieldStrength theirs = others.peakFor(wanted);
    String steadier = ours.compareTo(theirs) > 0 ? kind.alloy().name() : by.alloy().name();
    return MagnetCommands.said(
        "At this level %s stands the stronger opposing field: %s is left alone by up to %s, %s"
            + " by up to %s.",
        steadier, kind.alloy().name(), ours.written(), by.alloy().name(), theirs.written());
  }
}
