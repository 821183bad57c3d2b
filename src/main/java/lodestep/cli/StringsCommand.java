package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import lodestep.cli.AskedPickup.Described;
import lodestep.port.Plot;
import lodestep.quantity.FluxDensity;
import lodestep.voice.LevelHeard;
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
      "Each string stands over the middle of a magnet of its own, of the one bare bar,",
      "or of a pole piece of soft steel. Strings are written in the order you like:",
      "diameter in mm and note; a wound one as over all/core.",
      "",
      "Examples: lodestep voice strings --alloy \"alnico 3\" --size \"4.6 x 15.5 mm\"",
      "          lodestep voice strings --alloy \"alnico 2\" --size \"4.6 x 15.5 mm\"",
      "              --distance \"2.2 mm\" --strings \"0.28 E4; 0.38 B3\" --level \"310 G\"",
      "          lodestep voice strings --alloy \"alnico 2\" --shape bar",
      "              --size \"57 x 11 x 3.1 mm\" --poles \"4.6 x 14 mm\"",
      "              --arranged \"between two rows\" --keeper \"57 x 6 x 4 mm\""
    })
final class StringsCommand extends Asked {

  private static final int[] FRETS = {0, 5, 12, 17};

  private static final double[] PARTS = {1, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2};

  private final Desk desk;
  @Mixin private AskedPickup asked = new AskedPickup();

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

  /** A string with what the pickup does to it at the level asked for, open and stopped. */
  private record Row(StringSet.Tuned tuned, List<StringPull> pulls) {
    StringPull pull() {
      return pulls.get(0);
    }
  }

  /** The string that is pulled most, as the level falls. */
  private record Swept(StringSet.Tuned tuned, List<FluxDensity> levels, List<StringPull> pulls) {
    static Swept of(Described pickup) {
      int most = pickup.most();
      List<FluxDensity> levels =
          Arrays.stream(PARTS).mapToObj(part -> pickup.field().level().part(part)).toList();
      return new Swept(
          pickup.set().tuned().get(most),
          levels,
          levels.stream().map(level -> pickup.open(most, level)).toList());
    }

    double decibels(int at) {
      return pulls.get(at).decibelsBeside(pulls.get(0));
    }
  }

  @Override
  public Integer call() {
    Described pickup = asked.described(desk);
    FluxDensity dialed = AskedPickup.level(pickup, level);
    List<Row> rows = rows(pickup, dialed);
    Swept swept = Swept.of(pickup);
    MagnetCommands.drawn(desk, plot(pickup, swept), file);
    if (json) {
      desk.print(document(pickup, dialed, rows, swept));
    } else {
      desk.print(words(pickup, dialed, rows, swept));
      desk.print(asked.past(desk, pickup, dialed));
    }
    return Desk.DONE;
  }

  private static List<Row> rows(Described pickup, FluxDensity dialed) {
    List<Row> rows = new ArrayList<>();
    for (int at = 0; at < pickup.set().tuned().size(); at++) {
      int string = at;
      StringSet.Tuned tuned = pickup.set().tuned().get(at);
      rows.add(
          new Row(
              tuned,
              GaugeCommands.understood(
                  () ->
                      pickup
                          .field()
                          .pulls(
                              string,
                              dialed,
                              pickup.distance(),
                              tuned.string(),
                              pickup.fromBridge(),
                              FRETS))));
    }
    return rows;
  }

  private static Plot plot(Described pickup, Swept swept) {
    return new Plot(
        "String " + swept.tuned().note() + " over " + pickup.kind(),
        "level, G",
        "out of tune, cents",
        List.of(
            new Plot.Curve(
                "open string",
                swept.levels().stream().map(level -> level.tesla() * 1e4).toList(),
                swept.pulls().stream().map(StringPull::cents).toList())));
  }

  private static List<String> words(
      Described pickup, FluxDensity dialed, List<Row> rows, Swept swept) {
    double part = dialed.tesla() / pickup.full().tesla();
    List<String> lines = new ArrayList<>(List.of(pickup.kind().toString()));
    lines.add(
        said(
            "Level %s, %.0f %% of its full charge; strings %s above the pole",
            dialed.inGauss(), 100 * part, pickup.distance().written()));
    lines.add("");
    lines.addAll(table(rows).lines());
    lines.add("");
    lines.add("Out of tune along the neck, in cents, by the fret:");
    lines.addAll(along(rows).lines());
    lines.add("");
    lines.add("The string that is pulled most, " + swept.tuned().note() + ", as the level falls:");
    lines.addAll(sweep(pickup, swept).lines());
    lines.add("");
    lines.addAll(Wrapped.lines("", pickup.field().range(dialed), MagnetCommands.COLUMNS));
    lines.add("");
    lines.addAll(
        Wrapped.lines(
            "", VoiceCommands.CUSTOM + LevelHeard.ofLevel(part) + ".", MagnetCommands.COLUMNS));
    return lines;
  }

  private static Table table(List<Row> shown) {
    List<List<String>> rows = new ArrayList<>();
    for (Row row : shown) {
      List<String> cells = new ArrayList<>(List.of(row.tuned().note()));
      cells.add(said("%.0f N", row.tuned().string().tensionNewtons()));
      cells.addAll(cells(row.pull()));
      rows.add(cells);
    }
    List<Table.Column> columns = new ArrayList<>(List.of(Table.Column.ofWords("string")));
    columns.add(Table.Column.ofNumbers("tension"));
    columns.addAll(COLUMNS);
    return new Table(columns, rows);
  }

  /** What is told of a string in every table of this group. */
  static final List<Table.Column> COLUMNS =
      List.of("field", "gradient", "pull", "cents", "beats").stream()
          .map(Table.Column::ofNumbers)
          .toList();

  static List<String> cells(StringPull pull) {
    return List.of(
        said("%.0f G", pull.fieldTesla() * 1e4),
        said("%.0f G/mm", pull.gradientTeslaPerMetre() * 10),
        said("%.2f mN", pull.pullNewtons() * 1e3),
        said("%+.2f", pull.cents()),
        said("%.3f Hz", pull.splittingHertz()));
  }

  private static Table along(List<Row> shown) {
    List<Table.Column> columns = new ArrayList<>(List.of(Table.Column.ofWords("string")));
    for (int fret : FRETS) {
      columns.add(Table.Column.ofNumbers(fret == 0 ? "open" : String.valueOf(fret)));
    }
    List<List<String>> rows = new ArrayList<>();
    for (Row row : shown) {
      List<String> cells = new ArrayList<>(List.of(row.tuned().note()));
      row.pulls().forEach(pull -> cells.add(said("%+.2f", pull.cents())));
      rows.add(cells);
    }
    return new Table(columns, rows);
  }

  private static Table sweep(Described pickup, Swept swept) {
    List<List<String>> rows = new ArrayList<>();
    for (int at = 0; at < PARTS.length; at++) {
      List<String> cells = new ArrayList<>(List.of(swept.levels().get(at).inGauss()));
      cells.add(said("%.0f %%", 100 * swept.levels().get(at).tesla() / pickup.full().tesla()));
      cells.addAll(cells(swept.pulls().get(at)));
      cells.add(said("%+.1f dB", swept.decibels(at)));
      rows.add(cells);
    }
    List<Table.Column> columns = new ArrayList<>(List.of(Table.Column.ofNumbers("level")));
    columns.add(Table.Column.ofNumbers("of full"));
    columns.addAll(COLUMNS);
    columns.add(Table.Column.ofNumbers("signal"));
    return new Table(columns, rows);
  }

  private static ObjectNode document(
      Described pickup, FluxDensity dialed, List<Row> shown, Swept swept) {
    ObjectNode node = JsonMagnet.ofKind(pickup.kind(), pickup.standOff());
    node.put("levelTesla", dialed.tesla());
    node.put("partOfFullCharge", dialed.tesla() / pickup.full().tesla());
    node.put("validity", pickup.field().range(dialed));
    pickup.field().inSteel(dialed).ifPresent(most -> node.put("steelTesla", most.tesla()));
    ArrayNode all = node.putArray("strings");
    for (Row row : shown) {
      ObjectNode each = all.addObject();
      each.put("note", row.tuned().note());
      each.put("tensionNewtons", row.tuned().string().tensionNewtons());
      put(each, row.pull());
      ArrayNode frets = each.putArray("frets");
      for (int at = 0; at < FRETS.length; at++) {
        ObjectNode stopped = frets.addObject();
        stopped.put("fret", FRETS[at]);
        stopped.put("cents", row.pulls().get(at).cents());
      }
    }
    node.put("sweptString", swept.tuned().note());
    ArrayNode sweep = node.putArray("sweep");
    for (int at = 0; at < PARTS.length; at++) {
      ObjectNode each = sweep.addObject();
      each.put("levelTesla", swept.levels().get(at).tesla());
      put(each, swept.pulls().get(at));
      each.put("signalDecibels", swept.decibels(at));
    }
    return node;
  }

  static void put(ObjectNode node, StringPull pull) {
    node.put("fieldTesla", pull.fieldTesla());
    node.put("gradientTeslaPerMetre", pull.gradientTeslaPerMetre());
    node.put("pullNewtons", pull.pullNewtons());
    node.put("cents", pull.cents());
    node.put("beatsHertz", pull.splittingHertz());
  }
}
