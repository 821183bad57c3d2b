package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import lodestep.voice.CommonSizes;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Sizes that many shops have, to be copied onto a command line. */
@Command(
    name = "sizes",
    description = "Common sizes of magnets, poles, keepers and strings; any other can be typed.",
    footer = {"", "Example: lodestep voice sizes"})
final class SizesCommand extends Asked {

  private final Desk desk;

  @Option(names = "--json", description = "as JSON")
  private boolean json;

  SizesCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    if (json) {
      ObjectNode node = Json.object();
      for (CommonSizes.Kind group : CommonSizes.all()) {
        ArrayNode sizes = node.putArray(heading(group));
        group.sizes().forEach(sizes::add);
      }
      desk.print(node);
      return Desk.DONE;
    }
    List<String> lines = new ArrayList<>();
    for (CommonSizes.Kind group : CommonSizes.all()) {
      lines.add(heading(group));
      group.sizes().forEach(size -> lines.add("  \"" + size + "\""));
    }
    lines.add("");
    lines.add("Common practice, no source; anything else can be typed.");
    desk.print(lines);
    return Desk.DONE;
  }

  private static String heading(CommonSizes.Kind group) {
    return group.what()
        + ", "
        + (group.shape().equals("bar") ? "--shape bar " : "")
        + "--"
        + group.field().word();
  }
}
