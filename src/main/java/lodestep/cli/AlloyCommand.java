package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import lodestep.bench.Lots;
import lodestep.bench.MagnetAsked;
import lodestep.magnet.Alloy;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.Figure;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** The alloys known, and of one of them each figure with its source. */
@Command(
    name = "alloys",
    description = "The alloys known; of one of them each figure with its source.",
    footer = {
      "",
      "Examples: lodestep magnet alloys",
      "          lodestep magnet alloys \"alnico 3\"",
      "A lot with figures of your own goes into rig.toml:",
      "  [[lot]]",
      "  name = \"heron yard 7\"",
      "  alloy = \"alnico 3\"",
      "  measured = \"ten rods, 12 May\"",
      "  remanence_tesla = 0.68"
    })
final class AlloyCommand extends Asked {

  private final Desk desk;

  @Parameters(arity = "0..1", paramLabel = "ALLOY", description = "the one to show whole")
  private @Nullable String name;

  @Option(names = "--rig", paramLabel = "RIG", description = "rig.toml, for its lots")
  private @Nullable Path rigFile;

  @Option(names = "--json", description = "as JSON")
  private boolean json;

  AlloyCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    AlloyBook book = Lots.of(desk.program().rig(Optional.ofNullable(rigFile)));
    String asked = name;
    List<Alloy> alloys =
        asked == null
            ? book.alloys()
            : List.of(KindOptions.said("ALLOY", () -> MagnetAsked.alloy(book, asked)));
    if (json) {
      ArrayNode all = Json.array();
      alloys.forEach(alloy -> all.add(JsonMagnet.ofAlloy(alloy)));
      desk.print(all);
    } else {
      desk.print(asked == null ? table(alloys) : whole(alloys.get(0)));
    }
    return Desk.DONE;
  }

  private static List<String> table(List<Alloy> alloys) {
    List<Figure> shown =
        List.of(
            Figure.REMANENCE,
            Figure.COERCIVITY_B,
            Figure.COERCIVITY_J,
            Figure.ENERGY_PRODUCT,
            Figure.RECOIL,
            Figure.SATURATING_FIELD);
    List<Table.Column> columns = new ArrayList<>(List.of(Table.Column.ofWords("alloy")));
    shown.forEach(figure -> columns.add(Table.Column.ofNumbers(figure.heading())));
    List<List<String>> rows = new ArrayList<>();
    for (Alloy alloy : alloys) {
      List<String> row = new ArrayList<>(List.of(alloy.name()));
      shown.forEach(figure -> row.add(written(figure, alloy.figure(figure))));
      rows.add(row);
    }
    List<String> lines = new ArrayList<>(new Table(columns, rows).lines());
    String counted =
        alloys.stream()
            .flatMap(alloy -> alloy.figures().values().stream())
            .collect(
                Collectors.groupingBy(
                    known -> known.source().kind(), TreeMap::new, Collectors.counting()))
            .entrySet()
            .stream()
            .map(entry -> entry.getValue() + " " + entry.getKey().words())
            .collect(Collectors.joining(", "));
    lines.add("");
    lines.addAll(
        Wrapped.lines(
            "",
            "Of all figures: "
                + counted
                + ". Ceramic and neodymium are read and matched here, not charged.",
            MagnetCommands.COLUMNS));
    return lines;
  }

  private static List<String> whole(Alloy alloy) {
    List<String> lines = new ArrayList<>(List.of(alloy.name() + ", " + alloy.form(), ""));
    for (Figure figure : Figure.values()) {
      String value =
          alloy.known(figure).map(known -> written(figure, known.value())).orElse("not known");
      lines.add(String.format(Locale.ROOT, "%-24s %12s", figure.heading(), value));
      alloy
          .known(figure)
          .ifPresent(
              known ->
                  lines.addAll(
                      Wrapped.lines(
                          "    " + known.source().kind().words() + ": ",
                          known.source().text(),
                          MagnetCommands.COLUMNS)));
    }
    return lines;
  }

  private static String written(Figure figure, double si) {
    String written = String.format(Locale.ROOT, "%.4g", figure.written(si));
    return written.contains(".") ? written.replaceFirst("\\.?0+$", "") : written;
  }
}
