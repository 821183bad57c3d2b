package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import lodestep.bench.Lots;
import lodestep.bench.MagnetAsked;
import lodestep.cli.AskedPickup.Described;
import lodestep.dial.RecordedShape;
import lodestep.magnet.Alloy;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Shape;
import lodestep.paper.Certificate;
import lodestep.paper.Things;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.voice.LevelHeard;
import lodestep.voice.StringPull;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** What a dialed set reached, and what that means to the strings. */
@Command(
    name = "reached",
    description = "What a dialed set or pickup reached, and what it means to the strings.",
    footer = {
      "",
      "The first magnet is under the lowest string. One bar is under all of them; say",
      "its pole pieces if it has any.",
      "",
      "Example: lodestep voice reached split --distance \"2.4 mm\""
    })
final class ReachedCommand extends Asked {

  private final Desk desk;

  @Parameters(paramLabel = "NAME", description = "a set, a pickup or a magnet on record")
  private String name = "";

  @Mixin private RecordOf record = new RecordOf();
  @Mixin private AskedStrings strings = new AskedStrings();

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  ReachedCommand(Desk desk) {
    this.desk = desk;
  }

  /** A string with the magnet under it, as it was asked for and as it is. */
  private record Row(
      String note, MagnetNamed named, FluxDensity level, StringPull pull, double ofFull) {}

  @Override
  public Integer call() {
    List<Certificate.Level> levels =
        record.read(desk, things -> things.levels(numbers(RecordOf.found(things, name))));
    if (levels.isEmpty()) {
      throw new Refusal("'" + name + "' has no magnet on record");
    }
    AlloyBook book = Lots.of(record.rig(desk));
    Map<FaceModel, Described> known = new HashMap<>();
    List<Described> pickups = levels.stream().map(level -> described(known, book, level)).toList();
    List<Row> rows = rows(levels, pickups);
    if (json) {
      desk.print(document(rows));
    } else {
      desk.print(words(rows, levels, pickups.get(0)));
    }
    return Desk.DONE;
  }

  private static List<Long> numbers(Things.Thing thing) {
    if (thing instanceof Things.Thing.OfPickup pickup) {
      return pickup.pickup().built().magnets();
    }
    return thing instanceof Things.Thing.OfSet set
        ? set.magnets()
        : List.of(((Things.Thing.OfMagnet) thing).magnet());
  }

  private Described described(
      Map<FaceModel, Described> known, AlloyBook book, Certificate.Level level) {
    MagnetNamed named = level.history().identity();
    Shape shape = GaugeCommands.understood(() -> RecordedShape.of(named));
    Alloy alloy = GaugeCommands.understood(() -> MagnetAsked.alloy(book, named.alloy()));
    FaceModel kind = FaceModel.of(alloy, shape);
    Length standOff = Length.ofMicroMetres(level.standOffMicroMetres());
    return known.computeIfAbsent(kind, any -> strings.described(kind, standOff));
  }

  private List<Row> rows(List<Certificate.Level> levels, List<Described> pickups) {
    Described first = pickups.get(0);
    List<Integer> lowestFirst = new ArrayList<>();
    for (int at = 0; at < first.set().tuned().size(); at++) {
      lowestFirst.add(at);
    }
    lowestFirst.sort(
        Comparator.comparingDouble(at -> first.set().tuned().get(at).string().hertz()));
    if (levels.size() > 1 && levels.size() != lowestFirst.size()) {
      throw new Refusal(
          said(
              "--strings: %s has %d magnets, and %d strings are told; say one for each magnet",
              name, levels.size(), lowestFirst.size()));
    }
    List<Row> rows = new ArrayList<>();
    for (int at = 0; at < lowestFirst.size(); at++) {
      int string = lowestFirst.get(at);
      int of = levels.size() == 1 ? 0 : at;
      Described pickup = pickups.get(of);
      FluxDensity level =
          FluxDensity.ofMicroTesla(levels.get(of).verdict().fieldMicroTesla()).magnitude();
      // A magnet can read a little above the nominal full charge: then it is told as fully charged.
      FluxDensity held = level.compareTo(pickup.full()) > 0 ? pickup.full() : level;
      StringPull pull = pickup.open(string, held).times(level.tesla() / held.tesla());
      double full = pickup.open(string, pickup.full()).fieldTesla();
      rows.add(
          new Row(
              first.set().tuned().get(string).note(),
              levels.get(of).history().identity(),
              level,
              pull,
              pull.fieldTesla() / full));
    }
    return rows;
  }

  private static String asked(MagnetNamed named) {
    return named.task().equals("level")
        ? FluxDensity.ofMicroTesla(named.targetMicroTesla()).magnitude().inGauss()
        : named.task();
  }

  private static List<String> words(
      List<Row> rows, List<Certificate.Level> levels, Described pickup) {
    List<String> lines = new ArrayList<>();
    List<List<String>> cells = new ArrayList<>();
    for (Row row : rows) {
      List<String> each = new ArrayList<>();
      each.add(row.note());
      each.add(row.named().name());
      each.add(asked(row.named()));
      each.add(row.level().inGauss());
      each.addAll(StringsCommand.cells(row.pull()));
      each.add(said("%+.1f dB", 20 * Math.log10(row.ofFull())));
      cells.add(each);
    }
    List<Table.Column> columns = new ArrayList<>();
    columns.add(Table.Column.ofWords("string"));
    columns.add(Table.Column.ofWords("magnet"));
    columns.add(Table.Column.ofNumbers("asked"));
    columns.add(Table.Column.ofNumbers("reached"));
    columns.addAll(StringsCommand.COLUMNS);
    columns.add(Table.Column.ofNumbers("signal"));
    lines.addAll(new Table(columns, cells).lines());
    lines.add("");
    double part = rows.stream().mapToDouble(Row::ofFull).average().orElse(1);
    lines.addAll(Wrapped.lines("", evenness(rows), MagnetCommands.COLUMNS));
    lines.addAll(
        Wrapped.lines(
            "",
            VoiceCommands.CUSTOM + LevelHeard.ofLevel(Math.min(1, part)) + ".",
            MagnetCommands.COLUMNS));
    FluxDensity first =
        FluxDensity.ofMicroTesla(levels.get(0).verdict().fieldMicroTesla()).magnitude();
    FluxDensity held = first.compareTo(pickup.full()) > 0 ? pickup.full() : first;
    lines.add("");
    lines.addAll(Wrapped.lines("", pickup.field().range(held), MagnetCommands.COLUMNS));
    return lines;
  }

  /** What the levels alone make of loud and soft strings. */
  private static String evenness(List<Row> rows) {
    double most = rows.stream().mapToDouble(row -> row.pull().fieldTesla()).max().orElse(1);
    double least = rows.stream().mapToDouble(row -> row.pull().fieldTesla()).min().orElse(1);
    return said(
        "From the strongest to the weakest field at a string are %.1f dB; strings of other cores"
            + " and heights add to that. Signal is told beside the full charge.",
        20 * Math.log10(most / least));
  }

  private static ObjectNode document(List<Row> rows) {
    ObjectNode node = Json.object();
    ArrayNode all = node.putArray("strings");
    for (Row row : rows) {
      ObjectNode each = all.addObject();
      each.put("note", row.note());
      each.put("magnet", row.named().name());
      each.put("targetTesla", Math.abs(row.named().targetMicroTesla()) * 1e-6);
      each.put("levelTesla", row.level().tesla());
      StringsCommand.put(each, row.pull());
      each.put("signalDecibels", 20 * Math.log10(row.ofFull()));
    }
    return node;
  }
}
