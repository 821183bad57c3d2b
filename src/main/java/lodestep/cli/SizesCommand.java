package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import lodestep.voice.StringSet;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Sizes that many shops have, to be copied onto a command line. */
@Command(
    name = "sizes",
    description = "Common sizes of magnets, poles, keepers and strings; any other can be typed.",
    footer = {"", "Example: lodestep voice sizes"})
final class SizesCommand extends Asked {

  /** All of it common practice, no source. */
  private static final List<Kind> GROUPS =
      List.of(
          new Kind(
              "rods, --size",
              List.of(
                  "4.6 x 15.5 mm", "4.9 x 16.5 mm", "5.0 x 14 mm", "5.1 x 18 mm", "6.4 x 16 mm")),
          new Kind(
              "bars, --shape bar --size",
              List.of(
                  "57 x 11 x 3.1 mm", "58 x 11.5 x 3.4 mm", "60 x 10 x 4 mm", "55 x 6.4 x 3 mm")),
          new Kind("pole pieces, --poles", List.of("4.6 x 13 mm", "4.9 x 15 mm", "5.2 x 13 mm")),
          new Kind("keepers, --keeper", List.of("57 x 6 x 4 mm", "60 x 6.4 x 3.2 mm")),
          new Kind("pitch, --pitch", List.of("9.8 mm", "10.2 mm", "10.5 mm", "17 mm")),
          new Kind("scale lengths, --scale", List.of("610 mm", "640 mm", "655 mm", "865 mm")),
          new Kind(
              "strings, --strings",
              List.of(
                  StringSet.USUAL,
                  "0.23 E4; 0.28 B3; 0.41 G3; 0.61/0.36 D3; 0.81/0.38 A2; 1.07/0.43 E2",
                  "0.28 E4; 0.36 B3; 0.46 G3; 0.71/0.38 D3; 0.97/0.43 A2; 1.25/0.48 E2",
                  "1.14/0.56 G2; 1.65/0.71 D2; 2.03/0.86 A1; 2.67/1.02 E1")));

  private final Desk desk;

  @Option(names = "--json", description = "as JSON")
  private boolean json;

  SizesCommand(Desk desk) {
    this.desk = desk;
  }

  /** Sizes of one kind. */
  private record Kind(String what, List<String> sizes) {}

  @Override
  public Integer call() {
    if (json) {
      ObjectNode node = Json.object();
      for (Kind group : GROUPS) {
        ArrayNode sizes = node.putArray(group.what());
        group.sizes().forEach(sizes::add);
      }
      desk.print(node);
      return Desk.DONE;
    }
    List<String> lines = new ArrayList<>();
    for (Kind group : GROUPS) {
      lines.add(group.what());
      group.sizes().forEach(size -> lines.add("  \"" + size + "\""));
    }
    lines.add("");
    lines.add("Common practice, no source; anything else can be typed.");
    desk.print(lines);
    return Desk.DONE;
  }
}
