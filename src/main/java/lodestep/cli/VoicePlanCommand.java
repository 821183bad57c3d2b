package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.bench.Plan;
import lodestep.bench.PlanDoubts;
import lodestep.config.RigConfig;
import lodestep.voice.LevelPlan;
import lodestep.voice.PickupWords;
import lodestep.voice.Said;
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

  private final Desk desk;

  @Parameters(paramLabel = "SET", description = "what the set is called")
  private String set = "";

  @Mixin private RecordOf record = new RecordOf();

  @Mixin private MagnetOptions magnet = new MagnetOptions();
  @Mixin private ChoiceOptions choice = new ChoiceOptions();

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
    PickupWords words =
        DescribedPickup.like(
            desk,
            record,
            magnet.like(),
            new PickupWords(Map.of(Said.POLES_UP, poles)).or(magnet.words()));
    LevelPlan plan =
        GaugeCommands.understood(
            () ->
                LevelPlan.of(
                    DescribedPickup.asked(desk, record),
                    words,
                    new LevelPlan.Asked(
                        set, choice.levels(), choice.tolerance(), Optional.ofNullable(reverse))));
    StringWriter text = new StringWriter();
    text.write("# " + set.strip() + ": the lowest string first.\r\n");
    try (CSVPrinter printer = new CSVPrinter(text, CSVFormat.RFC4180)) {
      printer.printRecord(HEADING);
      for (LevelPlan.Row row : plan.rows()) {
        printer.printRecord(
            row.name(),
            row.set(),
            row.alloy(),
            row.shape(),
            row.size(),
            row.poleUp(),
            row.target(),
            row.tolerance(),
            "1");
      }
    } catch (IOException impossible) {
      throw new UncheckedIOException("text in memory cannot be written", impossible);
    }
    return text.toString();
  }
}
