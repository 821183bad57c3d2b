package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import lodestep.bench.Lots;
import lodestep.cli.AskedPickup.Described;
import lodestep.magnet.Alloy;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Inductance;
import lodestep.quantity.Length;
import lodestep.voice.LevelHeard;
import lodestep.voice.StringPull;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Notes die too soon, or beat: what weaker pole to try. */
@Command(
    name = "sustain",
    description = "Notes die too soon or beat: which weaker magnet to try, and what to expect.",
    footer = {
      "",
      "Each row is told beside the pickup as it is: the same magnet knocked down, the",
      "pickup lowered, and weaker alloys of the same size fully charged.",
      "",
      "Example: lodestep voice sustain --alloy \"alnico 5\" --size \"4.6 x 15.5 mm\"",
      "             --level \"600 G\" --inductance \"3.4 H\""
    })
final class SustainCommand extends Asked {

  private static final double[] PARTS = {0.9, 0.8, 0.7, 0.6, 0.5};
  private static final double[] LOWER_MM = {0.5, 1, 1.5};

  /** Less of the field at the strings than this is no pickup any more; common practice. */
  private static final double LEAST_PART = 0.35;

  private final Desk desk;
  @Mixin private AskedPickup asked = new AskedPickup();

  @Option(
      names = "--level",
      paramLabel = "LEVEL",
      description = "what the magnet was dialed to; full charge if left out")
  private @Nullable String level;

  @Option(
      names = "--inductance",
      paramLabel = "INDUCTANCE",
      description = "of the coil, \"3.4 H\", to say both together")
  private @Nullable String inductance;

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  SustainCommand(Desk desk) {
    this.desk = desk;
  }

  /** Something to try, and what it does to the string that is pulled most. */
  private record Try(String what, FluxDensity level, StringPull pull) {}

  @Override
  public Integer call() {
    Described pickup = asked.described(desk);
    FluxDensity now = AskedPickup.level(pickup, level);
    int string = pickup.most();
    StringPull here = pickup.open(string, now);
    List<Try> tries = new ArrayList<>();
    for (double part : PARTS) {
      FluxDensity less = new FluxDensity(part * now.tesla());
      tries.add(new Try("knocked down to", less, pickup.open(string, less)));
    }
    for (double mm : LOWER_MM) {
      Length away = new Length(pickup.distance().metres() + mm * 1e-3);
      tries.add(new Try(said("lowered by %.1f mm", mm), now, pickup.openAt(string, now, away)));
    }
    tries.addAll(weaker(pickup, string, here));
    String note = pickup.set().tuned().get(string).note();
    if (json) {
      desk.print(document(pickup, now, note, here, tries));
    } else {
      desk.print(words(pickup, now, note, here, tries));
      desk.print(asked.past(desk, pickup, now));
    }
    return Desk.DONE;
  }

  /** Alloys that fully charged do less to the string, the strongest of them first. */
  private List<Try> weaker(Described pickup, int string, StringPull here) {
    List<Try> found = new ArrayList<>();
    for (Alloy alloy : Lots.of(asked.rig(desk)).alloys()) {
      if (alloy.family().isDialed() && !alloy.name().equals(pickup.kind().alloy().name())) {
        Described other = pickup.with(asked.kind(asked.rig(desk), alloy.name()));
        StringPull pull = other.open(string, other.full());
        double part = pull.fieldTesla() / here.fieldTesla();
        if (part < 1 && part > LEAST_PART) {
          found.add(new Try(alloy.name() + ", full", other.full(), pull));
        }
      }
    }
    found.sort(Comparator.comparingDouble((Try one) -> one.pull().fieldTesla()).reversed());
    return found;
  }

  private List<String> words(
      Described pickup, FluxDensity now, String note, StringPull here, List<Try> tries) {
    List<String> lines = new ArrayList<>(List.of(pickup.kind().toString()));
    lines.add(
        said(
            "As it is: level %s, strings %s above the pole; string %s, which is pulled most:",
            now.inGauss(), pickup.distance().written(), note));
    lines.add("");
    List<List<String>> rows = new ArrayList<>();
    rows.add(row(new Try("as it is", now, here), here));
    tries.forEach(one -> rows.add(row(one, here)));
    List<Table.Column> columns = new ArrayList<>(List.of(Table.Column.ofWords("try")));
    columns.add(Table.Column.ofNumbers("level"));
    columns.addAll(StringsCommand.COLUMNS);
    columns.add(Table.Column.ofNumbers("signal"));
    lines.addAll(new Table(columns, rows).lines());
    lines.add("");
    lines.addAll(Wrapped.lines("", computed(here, tries.get(1)), MagnetCommands.COLUMNS));
    lines.add("");
    lines.addAll(
        Wrapped.lines(
            "", VoiceCommands.CUSTOM + LevelHeard.ofSustain() + ".", MagnetCommands.COLUMNS));
    lines.addAll(together(now.tesla() / pickup.full().tesla()));
    lines.add("");
    lines.addAll(Wrapped.lines("", pickup.field().range(now), MagnetCommands.COLUMNS));
    return lines;
  }

  private List<String> together(double part) {
    String written = inductance;
    if (written == null) {
      return List.of();
    }
    double henry = KindOptions.said("--inductance", () -> Inductance.parse(written)).henries();
    return Wrapped.lines(
        "",
        "As it is, likewise custom: " + LevelHeard.together(part, henry) + ".",
        MagnetCommands.COLUMNS);
  }

  private static String computed(StringPull here, Try less) {
    return said(
        "Computed: knocked down to %s the pole pulls with %.0f %% of its force, the string is %.2f"
            + " cents nearer to its pitch and beats %.3f Hz slower, and the signal is %.1f dB"
            + " less. How fast a note dies is not computed: what a pole takes of a string's energy"
            + " is next to nothing, and beats are what is heard.",
        less.level().inGauss(),
        100 * less.pull().pullNewtons() / here.pullNewtons(),
        less.pull().cents() - here.cents(),
        here.splittingHertz() - less.pull().splittingHertz(),
        -less.pull().decibelsBeside(here));
  }

  private static List<String> row(Try one, StringPull here) {
    List<String> cells = new ArrayList<>(List.of(one.what(), one.level().inGauss()));
    cells.addAll(StringsCommand.cells(one.pull()));
    cells.add(said("%+.1f dB", one.pull().decibelsBeside(here)));
    return cells;
  }

  private static ObjectNode document(
      Described pickup, FluxDensity now, String note, StringPull here, List<Try> tries) {
    ObjectNode node = JsonMagnet.ofKind(pickup.kind(), pickup.standOff());
    node.put("levelTesla", now.tesla());
    node.put("string", note);
    StringsCommand.put(node, here);
    node.put("validity", pickup.field().range(now));
    node.put("custom", LevelHeard.ofSustain());
    ArrayNode all = node.putArray("tries");
    for (Try one : tries) {
      ObjectNode each = all.addObject();
      each.put("try", one.what());
      each.put("levelTesla", one.level().tesla());
      StringsCommand.put(each, one.pull());
      each.put("signalDecibels", one.pull().decibelsBeside(here));
    }
    return node;
  }
}
