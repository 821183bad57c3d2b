package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import lodestep.voice.CoilAnswer;
import lodestep.voice.CoilCircuit;
import lodestep.voice.PickupWords;
import lodestep.voice.Said;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Where a pickup's coil rings, with its cable and load. */
@Command(
    name = "coil",
    description = "Where a pickup's coil with its cable and load rings, and how high.",
    footer = {
      "",
      "Losses in metal parts are left out: a real peak is lower. Without an inductance",
      "it is reckoned from the turns; what is still missing is said, and the answer is",
      "given for what it may be. Without resistance or load it is told where the coil",
      "rings without any loss.",
      "",
      "Examples: lodestep voice coil --inductance \"3.4 H\" --resistance \"6.9 kohm\"",
      "              --capacitance \"640 pF\" --load \"210 kohm\"",
      "          lodestep voice coil --turns 7600 --winding \"11 x 3.6 mm\"",
      "              --cores \"4.6 x 15.5 mm\" --cores-of \"alnico 3\"",
      "              --resistance \"6.9 kohm\" --capacitance \"640 pF\" --load \"210 kohm\""
    })
final class CoilVoiceCommand extends Asked {

  private final Desk desk;

  @Mixin private CoilOptions coil = new CoilOptions();

  @Option(
      names = "--pitch",
      paramLabel = "LENGTH",
      description = "from core to core; 10.2 mm if left out")
  private @Nullable String pitch;

  @Option(
      names = "--like",
      paramLabel = "NAME",
      description = "a past build: what is not said here is as its notes have it")
  private @Nullable String like;

  @Mixin private RecordOf record = new RecordOf();

  @Option(names = "--plot", paramLabel = "FILE", description = "draws it: .svg or .png")
  private @Nullable Path file;

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  CoilVoiceCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    String apart = pitch;
    PickupWords own =
        apart == null ? coil.words() : coil.words().or(new PickupWords(Map.of(Said.PITCH, apart)));
    PickupWords words = DescribedPickup.like(desk, record, like, own);
    CoilAnswer answer =
        GaugeCommands.understood(() -> CoilAnswer.of(DescribedPickup.asked(desk, record), words));
    if (file != null && answer.coils().isEmpty()) {
      throw new Refusal(
          "--plot: the curve needs --resistance and --load; say both, or leave --plot out");
    }
    if (file != null) {
      MagnetCommands.drawn(desk, answer.drawn(), file);
    }
    if (json) {
      desk.print(document(answer));
    } else {
      desk.print(VoiceCommands.lines(answer.told()));
      if (answer.missing().isEmpty() && !answer.coils().isEmpty()) {
        desk.print(List.of(""));
        desk.print(TerminalPlot.lines(answer.drawn()));
      }
    }
    return Desk.DONE;
  }

  private static ObjectNode document(CoilAnswer answer) {
    ObjectNode node = Json.object();
    ArrayNode unsaid = node.putArray("unsaid");
    answer.unsaid().forEach(field -> unsaid.add(field.word()));
    if (answer.missing().isEmpty()) {
      return answer.coils().isEmpty()
          ? document(answer.rings().get(0), node)
          : document(answer.coils().get(0), node);
    }
    node.put("missing", answer.missing());
    ArrayNode all = node.putArray("mayBe");
    if (answer.coils().isEmpty()) {
      answer.rings().forEach(each -> all.add(document(each, Json.object())));
    }
    answer.coils().forEach(each -> all.add(document(each, Json.object())));
    return node;
  }

  private static ObjectNode document(CoilAnswer.Ring ring, ObjectNode node) {
    node.put("inductanceHenries", ring.henry());
    node.put("capacitanceFarads", ring.farad());
    return node.put("resonanceHertz", ring.hertz());
  }

  private static ObjectNode document(CoilCircuit coil, ObjectNode node) {
    node.put("inductanceHenries", coil.henry());
    node.put("capacitanceFarads", coil.farad());
    node.put("resonanceHertz", coil.resonanceHertz());
    node.put("peakHertz", coil.peakHertz());
    node.put("peakDecibels", coil.peakHertz() > 0 ? coil.decibels(coil.peakHertz()) : 0);
    ArrayNode points = node.putArray("points");
    for (int hertz : CoilAnswer.NOTES) {
      ObjectNode point = points.addObject();
      point.put("hertz", (double) hertz);
      point.put("decibels", coil.decibels(hertz));
    }
    return node;
  }
}
