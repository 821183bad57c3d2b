package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import lodestep.config.RigConfig;
import lodestep.magnet.FaceModel;
import lodestep.magnet.FluxSource;
import lodestep.port.Plot;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.voice.LevelHeard;
import lodestep.voice.SteelString;
import lodestep.voice.StringPull;
import lodestep.voice.StringSet;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** What a magnet's level does to the string above it. */
@Command(
    name = "strings",
    description = "Pull, pitch, beats and signal of the strings above a magnet, by its level.",
    footer = {
      "",
      "Each string stands over the middle of a magnet of its own, or of the one bar.",
      "Strings are written in the order you like: diameter in mm and note; a wound",
      "one as over all/core.",
      "",
      "Examples: lodestep voice strings --alloy \"alnico 3\" --size \"4.6 x 15.5 mm\"",
      "          lodestep voice strings --alloy \"alnico 2\" --size \"4.6 x 15.5 mm\"",
      "              --distance \"2.2 mm\" --strings \"0.28 E4; 0.38 B3\" --level \"310 G\""
    })
final class StringsCommand extends Asked {

  private static final int[] FRETS = {0, 5, 12, 17};

  private static final double[] PARTS = {1, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2};

  private static final String RANGE =
      "Reckoned of a magnet by itself, evenly magnetised so that the gauge reads the level; small"
          + " swings; strings by the densities of steel and nickel. Soft poles and neighbours are"
          + " left out.";

  private final Desk desk;
  @Mixin private KindOptions asked = new KindOptions();

  @Option(
      names = "--distance",
      paramLabel = "DISTANCE",
      defaultValue = "2.8 mm",
      description = "from the pole's face to the middle of a string; 2.8 mm if left out")
  private String distance = "";

  @Option(
      names = "--scale",
      paramLabel = "LENGTH",
      defaultValue = "640 mm",
      description = "that vibrates; 640 mm if left out")
  private String scale = "";

  @Option(
      names = "--from-bridge",
      paramLabel = "LENGTH",
      defaultValue = "150 mm",
      description = "where the pole stands; 150 mm if left out")
  private String fromBridge = "";

  @Option(
      names = "--strings",
      paramLabel = "STRINGS",
      defaultValue = StringSet.USUAL,
      description = "a usual set of six if left out")
  private String strings = "";

  @Option(
      names = "--level",
      paramLabel = "LEVEL",
      description = "what the gauge reads; full charge if left out")
  private @Nullable String level;

  @Option(names = "--plot", paramLabel = "FILE", description = "draws it: .svg or .png")
  private @Nullable Path file;

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  StringsCommand(Desk desk) {
    this.desk = desk;
  }

  /** A string with what the magnet, fully charged, does to it, open and stopped. */
  private record Row(StringSet.Tuned tuned, List<StringPull> pulls) {
    StringPull pull() {
      return pulls.get(0);
    }
  }

  @Override
  public Integer call() {
    RigConfig rig = asked.rig(desk);
    FaceModel kind = asked.kind(rig);
    Length standOff = asked.standOff(rig, kind);
    double full = kind.chargedField(standOff).tesla();
    double part = part(full);
    List<Row> charged = GaugeCommands.understood(() -> rows(kind, standOff, full));
    Row most = charged.stream().min(Comparator.comparingDouble(row -> row.pull().cents())).get();
    Plot plot = plot(kind, most, full);
    MagnetCommands.drawn(desk, plot, file);
    if (json) {
      desk.print(document(JsonMagnet.ofKind(kind, standOff), charged, part));
    } else {
      desk.print(words(plot, charged, most, full, part));
    }
    return Desk.DONE;
  }

  private double part(double full) {
    String written = level;
    if (written == null) {
      return 1;
    }
    double tesla = KindOptions.said("--level", () -> FluxDensity.parse(written)).tesla();
    if (!(Math.abs(tesla) > 0 && Math.abs(tesla) <= full)) {
      throw new Refusal(
          "--level: this magnet reads up to "
              + new FluxDensity(full).inGauss()
              + " fully charged, and more than nothing; not "
              + written);
    }
    return Math.abs(tesla) / full;
  }

  private List<Row> rows(FaceModel kind, Length standOff, double full) {
    Length length = KindOptions.said("--scale", () -> Length.parse(scale));
    StringSet set = KindOptions.said("--strings", () -> StringSet.read(strings, length));
    double above = KindOptions.said("--distance", () -> Length.parse(distance)).metres();
    Length place = KindOptions.said("--from-bridge", () -> Length.parse(fromBridge));
    FluxSource even = kind.shape().perTesla();
    FluxSource magnet = even.times(full / even.at(kind.shape().readAt(standOff)).zTesla());
    double face = 0.5 * kind.shape().height().metres();
    List<Row> rows = new ArrayList<>();
    double aside = kind.shape().readAside();
    for (StringSet.Tuned tuned : set.tuned()) {
      List<StringPull> pulls = new ArrayList<>();
      for (int fret : FRETS) {
        SteelString stopped = tuned.string().stopped(fret);
        double part = place.metres() / stopped.scale().metres();
        pulls.add(StringPull.of(magnet, face, above, aside, stopped, part));
      }
      rows.add(new Row(tuned, pulls));
    }
    return rows;
  }

  private static Plot plot(FaceModel kind, Row most, double full) {
    List<Double> levels = new ArrayList<>();
    List<Double> cents = new ArrayList<>();
    for (double part : PARTS) {
      levels.add(part * full * 1e4);
      cents.add(most.pull().times(part).cents());
    }
    return new Plot(
        "String " + most.tuned().note() + " over " + kind,
        "level, G",
        "out of tune, cents",
        List.of(new Plot.Curve("open string", levels, cents)));
  }

  private List<String> words(Plot plot, List<Row> charged, Row most, double full, double part) {
    List<String> lines = new ArrayList<>();
    lines.add(plot.title().substring(plot.title().indexOf("over")).replaceFirst("over ", ""));
    lines.add(
        said(
            "Level %s, %.0f %% of its full charge; strings %s from its face",
            new FluxDensity(part * full).inGauss(), 100 * part, distance));
    lines.add("");
    lines.addAll(table(charged, part).lines());
    lines.add("");
    lines.add("Out of tune along the neck, in cents, by the fret:");
    lines.addAll(along(charged, part).lines());
    lines.add("");
    lines.add("The string that is pulled most, " + most.tuned().note() + ", as the level falls:");
    lines.addAll(sweep(most, full).lines());
    lines.add("");
    lines.addAll(Wrapped.lines("", RANGE, MagnetCommands.COLUMNS));
    lines.add("");
    lines.addAll(
        Wrapped.lines(
            "", VoiceCommands.CUSTOM + LevelHeard.ofLevel(part) + ".", MagnetCommands.COLUMNS));
    return lines;
  }

  private static Table table(List<Row> charged, double part) {
    List<List<String>> rows = new ArrayList<>();
    for (Row row : charged) {
      StringPull pull = row.pull().times(part);
      rows.add(
          List.of(
              row.tuned().note(),
              said("%.0f N", row.tuned().string().tensionNewtons()),
              said("%.0f G", pull.fieldTesla() * 1e4),
              said("%.0f G/mm", pull.gradientTeslaPerMetre() * 10),
              said("%.2f mN", pull.pullNewtons() * 1e3),
              said("%+.2f", pull.cents()),
              said("%.2f Hz", pull.splittingHertz())));
    }
    return new Table(
        List.of(
            Table.Column.ofWords("string"),
            Table.Column.ofNumbers("tension"),
            Table.Column.ofNumbers("field"),
            Table.Column.ofNumbers("gradient"),
            Table.Column.ofNumbers("pull"),
            Table.Column.ofNumbers("cents"),
            Table.Column.ofNumbers("beats")),
        rows);
  }

  private static Table along(List<Row> charged, double part) {
    List<Table.Column> columns = new ArrayList<>(List.of(Table.Column.ofWords("string")));
    for (int fret : FRETS) {
      columns.add(Table.Column.ofNumbers(fret == 0 ? "open" : String.valueOf(fret)));
    }
    List<List<String>> rows = new ArrayList<>();
    for (Row row : charged) {
      List<String> cells = new ArrayList<>(List.of(row.tuned().note()));
      row.pulls().forEach(pull -> cells.add(said("%+.2f", pull.times(part).cents())));
      rows.add(cells);
    }
    return new Table(columns, rows);
  }

  private static Table sweep(Row most, double full) {
    List<List<String>> rows = new ArrayList<>();
    for (double part : PARTS) {
      StringPull pull = most.pull().times(part);
      rows.add(
          List.of(
              new FluxDensity(part * full).inGauss(),
              said("%.0f %%", 100 * part),
              said("%.2f mN", pull.pullNewtons() * 1e3),
              said("%+.2f", pull.cents()),
              said("%.2f Hz", pull.splittingHertz()),
              said("%+.1f dB", 20 * Math.log10(part))));
    }
    return new Table(
        List.of(
            Table.Column.ofNumbers("level"),
            Table.Column.ofNumbers("of full"),
            Table.Column.ofNumbers("pull"),
            Table.Column.ofNumbers("cents"),
            Table.Column.ofNumbers("beats"),
            Table.Column.ofNumbers("signal")),
        rows);
  }

  private static ObjectNode document(ObjectNode node, List<Row> charged, double part) {
    node.put("partOfFullCharge", part);
    node.put("signalDecibels", 20 * Math.log10(part));
    node.put("validity", RANGE);
    ArrayNode all = node.putArray("strings");
    for (Row row : charged) {
      StringPull pull = row.pull().times(part);
      ObjectNode each = all.addObject();
      each.put("note", row.tuned().note());
      each.put("tensionNewtons", row.tuned().string().tensionNewtons());
      each.put("fieldTesla", pull.fieldTesla());
      each.put("gradientTeslaPerMetre", pull.gradientTeslaPerMetre());
      each.put("pullNewtons", pull.pullNewtons());
      each.put("cents", pull.cents());
      each.put("beatsHertz", pull.splittingHertz());
      ArrayNode frets = each.putArray("frets");
      for (int at = 0; at < FRETS.length; at++) {
        ObjectNode stopped = frets.addObject();
        stopped.put("fret", FRETS[at]);
        stopped.put("cents", row.pulls().get(at).times(part).cents());
      }
    }
    return node;
  }
}
