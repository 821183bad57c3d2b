package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.voice.InsteadAnswer;
import lodestep.voice.PickupField;
import lodestep.voice.VoicedPickup;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** One alloy in place of another, as the strings see it. */
@Command(
    name = "instead",
    description = "One alloy in place of another: the level at which the strings see the same.",
    footer = {
      "",
      "At the pole's face two alloys can read alike and still differ further off; see",
      "\"lodestep magnet instead\" for the same reading at the gauge.",
      "",
      "Example: lodestep voice instead --alloy \"alnico 3\" --size \"4.6 x 15.5 mm\"",
      "             --level \"390 G\" --by \"alnico 5\""
    })
final class InsteadCommand extends Asked {

  private final Desk desk;
  @Mixin private DescribedPickup asked = new DescribedPickup();

  @Option(
      names = "--level",
      paramLabel = "LEVEL",
      description =
          "of the magnet that is to be replaced; that of --like, else full charge, if left out")
  private @Nullable String level;

  @Option(
      names = "--by",
      paramLabel = "ALLOY",
      required = true,
      description = "the alloy to take in its place")
  private String other = "";

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  InsteadCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    VoicedPickup own = asked.pickup(desk);
    FluxDensity was = asked.level(desk, own, level);
    InsteadAnswer answer =
        GaugeCommands.understood(
            () ->
                InsteadAnswer.of(
                    "--", own, was, own.with(asked.asked(desk).kind(asked.words(desk), other))));
    if (json) {
      desk.print(document(answer));
    } else {
      desk.print(VoiceCommands.lines(answer.told()));
      desk.print(asked.past(desk, answer.by(), answer.takes()));
    }
    return Desk.DONE;
  }

  private static ObjectNode document(InsteadAnswer answer) {
    VoicedPickup own = answer.own();
    VoicedPickup by = answer.by();
    ObjectNode node = JsonMagnet.ofKind(by.kind(), by.standOff());
    node.put("replacedAlloy", own.kind().alloy().name());
    node.put("replacedLevelTesla", answer.was().tesla());
    node.put("levelTesla", answer.takes().tesla());
    node.put("peakAmperesPerMetre", InsteadAnswer.held(by, answer.takes()).amperesPerMetre());
    node.put(
        "replacedPeakAmperesPerMetre", InsteadAnswer.held(own, answer.was()).amperesPerMetre());
    PickupField.Settled settled = by.field().settled(answer.takes());
    node.put("holdsBesideNeighbours", settled.holds());
    node.put("comesToTesla", settled.comesTo().tesla());
    node.put("validity", by.field().range(answer.takes()));
    ArrayNode above = node.putArray("above");
    for (double mm : InsteadAnswer.UP_MM) {
      ObjectNode each = above.addObject();
      each.put("metres", new Length(mm * 1e-3).metres());
      each.put("replacedTesla", answer.tesla(own, answer.was(), 0, mm));
      each.put("tesla", answer.tesla(by, answer.takes(), 0, mm));
    }
    return node;
  }
}
