package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import lodestep.bench.Plan;
import lodestep.bench.PlanDoubts;
import lodestep.config.RigConfig;
import lodestep.quantity.FluxDensity;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** A choice of levels becomes a plan that the rig works. */
@Command(
    name = "plan",
    description = "Makes a plan of the levels that were chosen, to be dialed and matched.",
    footer = {
      "",
      "A row a position, the lowest string first, so that \"lodestep match\" and",
      "\"lodestep pickup build\" take the same set. A reverse-wound partner is a",
      "second set with its poles the other way: --reverse names it. Poles that change",
      "within a set are written out: --poles-up \"north; north; south; south\".",
      "",
      "Example: lodestep voice plan split --alloy \"alnico 3\" --size \"4.6 x 15.5 mm\"",
      "             --levels \"385 G; 385 G; 400 G; 400 G\" --tolerance \"9 G\"",
      "             --pole-up north --reverse split-rw --to split.csv",
      "         lodestep batch split.csv"
    })
final class VoicePlanCommand extends Asked {

  private static final List<String> HEADING =
      List.of("name", "set", "alloy", "shape", "size", "pole up", "target", "tolerance", "count");

  private static final int POSITIONS_MAX = 24;

  private final Desk desk;

  @Parameters(paramLabel = "SET", description = "what the set is called")
  private String set = "";

  @Mixin private RecordOf record = new RecordOf();

  @Option(names = "--alloy", paramLabel = "ALLOY", required = true, description = "as in plans")
  private String alloy = "";

  @Option(
      names = "--shape",
      paramLabel = "SHAPE",
      defaultValue = "rod",
      description = "as in plans; rod if left out")
  private String shape = "";

  @Option(names = "--size", paramLabel = "SIZE", required = true, description = "as in plans")
  private String size = "";

  @Option(
      names = "--levels",
      paramLabel = "LEVELS",
      required = true,
      description = "of each position, with semicolons between; one level for one bar")
  private String levels = "";

  @Option(
      names = "--tolerance",
      paramLabel = "TOLERANCE",
      required = true,
      description = "half width, \"9 G\" or \"2 %%\"")
  private String tolerance = "";

  @Option(
      names = {"--pole-up", "--poles-up"},
      paramLabel = "POLES",
      required = true,
      description = "north or south towards the strings: one word, or one for each position")
  private String poles = "";

  @Option(
      names = "--reverse",
      paramLabel = "SET",
      description = "a second set of the same levels, its poles the other way")
  private @Nullable String reverse;

  @Option(names = "--to", paramLabel = "FILE", description = "writes it; printed if left out")
  private @Nullable Path to;

  VoicePlanCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    String text = text();
    RigConfig rig = record.rig(desk);
    // The reader of plans has the last word, so that nothing is written that it would refuse.
    Plan plan =
        Desk.understood(desk.program().planText(set + ".csv", text, rig, record.ledger(desk)));
    PlanDoubts.of(plan, rig)
        .forEach(
            doubt -> {
              desk.err().println("Mind " + doubt);
              desk.err().flush();
            });
    Path file = to;
    if (file == null) {
      desk.out().print(text);
      desk.out().flush();
      return Desk.DONE;
    }
    desk.program().write(text, file);
    desk.print(
        List.of(
            said("%d magnets are planned in %s.", plan.rows().size(), file),
            "Next: lodestep batch " + NoteCommand.quoted(file.toString()),
            "then: lodestep match "
                + NoteCommand.quoted(file.toString())
                + ", lodestep voice reached "
                + NoteCommand.quoted(set)));
    return Desk.DONE;
  }

  private String text() {
    List<FluxDensity> wanted =
        Arrays.stream(levels.split(";", -1))
            .map(each -> KindOptions.said("--levels", () -> FluxDensity.parse(each).magnitude()))
            .toList();
    if (wanted.size() > POSITIONS_MAX) {
      throw new Refusal("--levels: a set has up to " + POSITIONS_MAX + " positions");
    }
    List<Boolean> north = north(wanted.size());
    StringWriter text = new StringWriter();
    text.write("# " + set.strip() + ": the lowest string first.\r\n");
    try (CSVPrinter printer = new CSVPrinter(text, CSVFormat.RFC4180)) {
      printer.printRecord(HEADING);
      rows(printer, set, wanted, north);
      String partner = reverse;
      if (partner != null) {
        if (partner.strip().equalsIgnoreCase(set.strip())) {
          throw new Refusal("--reverse: the partner has a name of its own, not '" + partner + "'");
        }
        rows(printer, partner, wanted, north.stream().map(each -> !each).toList());
      }
    } catch (IOException impossible) {
      throw new UncheckedIOException("text in memory cannot be written", impossible);
    }
    return text.toString();
  }

  private void rows(CSVPrinter printer, String of, List<FluxDensity> wanted, List<Boolean> north)
      throws IOException {
    String name = of.strip();
    if (name.isEmpty()) {
      throw new Refusal("a set has a name");
    }
    for (int at = 0; at < wanted.size(); at++) {
      printer.printRecord(
          wanted.size() == 1 ? name : name + "-" + (at + 1),
          name,
          alloy.strip(),
          shape.strip(),
          size.strip(),
          north.get(at) ? "north" : "south",
          wanted.get(at).inGauss(),
          tolerance.strip(),
          "1");
    }
  }

  private List<Boolean> north(int count) {
    List<Boolean> written =
        Arrays.stream(poles.split(";", -1)).map(VoicePlanCommand::isNorth).toList();
    if (written.size() == 1) {
      return IntStream.range(0, count).mapToObj(any -> written.get(0)).toList();
    }
    if (written.size() != count) {
      throw new Refusal(
          "--poles-up: "
              + written.size()
              + " poles for "
              + count
              + " levels; one word for all, or"
              + " one for each");
    }
    return written;
  }

  private static boolean isNorth(String word) {
    String plain = word.strip().toLowerCase(Locale.ROOT);
    if (!plain.equals("north") && !plain.equals("south")) {
      throw new Refusal("--pole-up: north or south, not '" + word.strip() + "'");
    }
    return plain.equals("north");
  }
}
