package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import lodestep.quantity.FluxDensity;
import lodestep.voice.LevelHeard;
import lodestep.voice.PickupAsked;
import lodestep.voice.PickupWords;
import lodestep.voice.SustainAnswer;
import lodestep.voice.VoicedPickup;
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

  private final Desk desk;
  @Mixin private DescribedPickup asked = new DescribedPickup();

  @Option(
      names = "--level",
      paramLabel = "LEVEL",
      description = "what the magnet was dialed to; that of --like, else full charge, if left out")
  private @Nullable String level;

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  SustainCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    VoicedPickup pickup = asked.pickup(desk);
    FluxDensity now = asked.level(desk, pickup, level);
    PickupWords words = asked.words(desk);
    PickupAsked reader = asked.asked(desk);
    SustainAnswer answer =
        GaugeCommands.understood(
            () -> SustainAnswer.of(pickup, now, reader.others(words, pickup.kind())));
    if (json) {
      desk.print(document(answer));
    } else {
      desk.print(VoiceCommands.lines(answer.told()));
      desk.print(asked.past(desk, pickup, now));
    }
    return Desk.DONE;
  }

  private static ObjectNode document(SustainAnswer answer) {
    VoicedPickup pickup = answer.pickup();
    ObjectNode node = JsonMagnet.ofKind(pickup.kind(), pickup.standOff());
    node.put("levelTesla", answer.now().tesla());
    node.put("string", answer.note());
    StringsCommand.put(node, answer.here());
    node.put("validity", pickup.field().range(answer.now()));
    node.put("custom", LevelHeard.ofSustain());
    ArrayNode all = node.putArray("tries");
    for (SustainAnswer.Try one : answer.tries()) {
      ObjectNode each = all.addObject();
      each.put("try", one.what());
      each.put("levelTesla", one.level().tesla());
      StringsCommand.put(each, one.pull());
      each.put("holdsBesideNeighbours", one.settled().holds());
      each.put("comesToTesla", one.settled().comesTo().tesla());
      each.put("signalDecibels", one.pull().decibelsBeside(answer.here()));
    }
    return node;
  }
}
