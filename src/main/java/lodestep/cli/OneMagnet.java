package lodestep.cli;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import lodestep.bench.PlanError;
import lodestep.bench.PlanReading;
import lodestep.ledger.MagnetNames;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** One magnet, said in options: the columns of a plan's row. Filled by the command line. */
final class OneMagnet {

  private static final String NAME = "one";

  @Option(
      names = "--name",
      paramLabel = "NAME",
      description =
          "name or serial; \"one\", \"one-2\" ... if left out, the first not on record yet")
  private @Nullable String name;

  @Option(names = "--alloy", paramLabel = "ALLOY", description = "for example \"alnico 2\"")
  private @Nullable String alloy;

  @Option(
      names = "--shape",
      paramLabel = "SHAPE",
      defaultValue = "rod",
      description =
          "rod, ring, bar, \"bar through thickness\", \"bar along length\"; rod if left out")
  private String shape = "";

  @Option(names = "--size", paramLabel = "SIZE", description = "\"5.1 x 18 mm\"")
  private @Nullable String size;

  @Option(names = "--nest", paramLabel = "NEST", description = "when several fit the shape")
  private @Nullable String nest;

  @Option(names = "--pole-up", paramLabel = "POLE", description = "north or south")
  private @Nullable String poleUp;

  @Option(
      names = "--target",
      paramLabel = "TARGET",
      description =
          "\"430 G\", \"43 mT\", \"down 30 G\", \"down 15 %%\", demagnetise, \"full" + " charge\"")
  private @Nullable String target;

  @Option(
      names = "--tolerance",
      paramLabel = "TOLERANCE",
      description = "half width of the band: \"8 G\", \"2 %%\"")
  private @Nullable String tolerance;

  @Option(
      names = "--told-by",
      paramLabel = "GAUGE",
      description =
          "the hand gauge that tells target and tolerance, its relation being on record; the"
              + " nest if left out")
  private @Nullable String toldBy;

  @Option(
      names = "--read-at",
      paramLabel = "POINTS",
      description = "where it is read by hand beside: \"1/6; middle; 5/6; both faces\"")
  private @Nullable String readAt;

  @Option(
      names = "--counts",
      paramLabel = "FIGURE",
      description = "which of these counts: middle, mean, least, \"mean of both faces\" ...")
  private @Nullable String counts;

  @Option(
      names = "--read-after",
      paramLabel = "SPAN",
      description = "judged so long after its last pulse: \"10 min\"; at once if left out")
  private @Nullable String readAfter;

  @Option(
      names = "--survives",
      paramLabel = "FIELD",
      description = "an opposing field that must leave it as it is: \"6 kA/m\"")
  private @Nullable String survives;

  @Option(
      names = "--winding",
      paramLabel = "WINDING",
      description =
          "of a magnet in a finished pickup: \"5200 turns; open\" (or shorted; \"4 mm deep\";"
              + " \"up to 100 V\"); left out for a magnet by itself")
  private @Nullable String winding;

  /**
   * The same as a plan of one row.
   *
   * @param ledger on which an unnamed magnet gets a name that is free
   */
  String planText(Program program, Path ledger) {
    return "name,alloy,shape,size,nest,pole up,target,tolerance,read after,survives,winding,"
        + "read at,counts,told by\n"
        + row(
            List.of(
                name == null ? program.namesOnRecord(ledger).free(NAME) : name,
                given(alloy),
                shape,
                given(size),
                given(nest),
                given(poleUp),
                given(target),
                given(tolerance),
                given(readAfter),
                given(survives),
                given(winding),
                given(readAt),
                given(counts),
                given(toldBy)));
  }

  /** What to say of a name that magnets on record have already; empty where none has. */
  Optional<String> remark(Program program, Path ledger) {
    if (name == null) {
      return Optional.empty();
    }
    String wanted = name.strip();
    List<Long> same =
        program.namesOnRecord(ledger).magnets().stream()
            .filter(named -> named.name().equalsIgnoreCase(wanted))
            .map(MagnetNames.Named::magnet)
            .toList();
    return same.isEmpty()
        ? Optional.empty()
        : Optional.of(
            "A magnet named '"
                + wanted
                + "' is on record already, number "
                + same.get(same.size() - 1)
                + "; where one is meant by its name it is the newest, else name its number.");
  }

  /** A row of a plan with these cells. */
  static String row(List<String> cells) {
    return cells.stream().map(OneMagnet::quoted).collect(Collectors.joining(",")) + "\n";
  }

  /** What is wrong with the plan, said of the options that made it. */
  static Refusal refusal(PlanReading.Refused refused) {
    return new Refusal(refused.errors().stream().map(OneMagnet::ofOption).toList());
  }

  private static String ofOption(PlanError error) {
    return error.columnName().isEmpty()
        ? error.sentence()
        : "--" + error.columnName().replace(' ', '-') + ": " + error.sentence();
  }

  private static String given(@Nullable String text) {
    return text == null ? "" : text;
  }

  /** RFC 4180: a quote mark inside is written twice. */
  private static String quoted(String cell) {
    return '"' + cell.replace("\"", "\"\"") + '"';
  }
}
