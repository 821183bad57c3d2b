package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import lodestep.voice.Levels;
import lodestep.voice.StringPull;
import lodestep.voice.StringsAnswer;
import lodestep.voice.VoicedPickup;
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
      "Each string stands over the middle of a magnet of its own between its",
      "neighbours, of the one bare bar, or of a pole piece of soft steel. Strings are",
      "written in the order in which they lie: diameter in mm and note; a wound one as",
      "over all/core. --like takes what is not said from the notes of a past build,",
      "its levels too.",
      "",
      "Examples: lodestep voice strings --alloy \"alnico 3\" --size \"4.6 x 15.5 mm\"",
      "          lodestep voice strings --alloy \"alnico 2\" --size \"4.6 x 15.5 mm\"",
      "              --distance \"2.2 mm\" --strings \"0.28 E4; 0.38 B3\" --level \"310 G\"",
      "          lodestep voice strings --alloy \"alnico 2\" --shape bar",
      "              --size \"57 x 11 x 3.1 mm\" --poles \"4.6 x 14 mm\"",
      "              --arranged \"between two rows\" --keeper \"57 x 6 x 4 mm\""
    })
final class StringsCommand extends Asked {

  private final Desk desk;
  @Mixin private DescribedPickup asked = new DescribedPickup();

  @Option(
      names = "--level",
      paramLabel = "LEVEL",
      description =
          "what the gauge reads, one for all rods or one for each string, the lowest first, with"
              + " semicolons between; those of --like, else full charge, if left out")
  private @Nullable String level;

  @Option(
      names = "--plot",
      paramLabel = "FILE",
      description =
          "draws pitch as the level is swept, .svg or .png; field, gradient, pull, beats, signal"
              + " and pitch along the neck beside it, each in a file of its name")
  private @Nullable Path file;

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  StringsCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    VoicedPickup pickup = asked.pickup(desk);
    Levels levels = asked.levels(desk, pickup, level);
    StringsAnswer answer = GaugeCommands.understood(() -> StringsAnswer.of(pickup, levels));
    drawn(answer);
    if (json) {
      desk.print(document(answer));
    } else {
      desk.print(VoiceCommands.lines(answer.told()));
      desk.print(asked.past(desk, pickup, answer.dialed()));
    }
    return Desk.DONE;
  }

  /** The first into the file that was named, the others beside it. */
  private void drawn(StringsAnswer answer) {
    Path first = file;
    Path written = first == null ? null : first.getFileName();
    if (first == null || written == null) {
      return;
    }
    String name = written.toString();
    int dot = name.lastIndexOf('.');
    for (StringsAnswer.Swept swept : answer.plots()) {
      Path own =
          swept.name().equals("cents") || dot < 0
              ? first
              : first.resolveSibling(
                  name.substring(0, dot) + "-" + swept.name() + name.substring(dot));
      MagnetCommands.drawn(desk, swept.plot(), own);
    }
  }

  private static ObjectNode document(StringsAnswer answer) {
    VoicedPickup pickup = answer.pickup();
    ObjectNode node = JsonMagnet.ofKind(pickup.kind(), pickup.standOff());
    node.put("levelTesla", answer.dialed().tesla());
    node.put("partOfFullCharge", answer.part());
    node.put("validity", pickup.field().range(answer.levels()));
    pickup.field().inSteel(answer.dialed()).ifPresent(most -> node.put("steelTesla", most.tesla()));
    ArrayNode all = node.putArray("strings");
    for (int string = 0; string < answer.rows().size(); string++) {
      StringsAnswer.Row row = answer.rows().get(string);
      ObjectNode each = all.addObject();
      each.put("note", row.tuned().note());
      each.put("levelTesla", answer.levels().at(string).tesla());
      each.put("tensionNewtons", row.tuned().string().tensionNewtons());
      put(each, row.pull());
      ArrayNode frets = each.putArray("frets");
      for (int at = 0; at < answer.frets().size(); at++) {
        ObjectNode stopped = frets.addObject();
        stopped.put("fret", answer.frets().get(at));
        stopped.put("cents", row.pulls().get(at).cents());
      }
    }
    node.put("sweptString", answer.swept());
    ArrayNode sweep = node.putArray("sweep");
    for (StringsAnswer.Step step : answer.sweep()) {
      ObjectNode each = sweep.addObject();
      each.put("levelTesla", step.level().tesla());
      put(each, step.pull());
      each.put("signalDecibels", step.decibels());
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
