package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.bench.Plan;
import lodestep.bench.PlanDoubts;
import lodestep.config.RigConfig;
import lodestep.paper.BuildNotes;
import lodestep.voice.LevelPlan;
import lodestep.voice.PickupAsked;
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
      "\"lodestep pickup build\" take the same set; its name ends in the string's note.",
      "Levels are written the lowest string first. Poles that change within a set are",
      "written in the order of --strings, as everywhere: the first pole is that of the",
      "string that is written first. A reverse-wound partner is a second set with its",
      "poles the other way: --reverse names it. --spread is the rule by which each set",
      "is matched: how far its magnets may differ from one another, as parts of their",
      "targets.",
      "",
      "Example: lodestep voice plan split --alloy \"alnico 3\" --size \"4.6 x 15.5 mm\"",
      "             --levels \"385 G; 385 G; 400 G; 400 G\" --tolerance \"9 G\"",
      "             --spread \"1.5 %%\"",
      "             --strings \"0.25 E4; 0.33 B3; 0.43 G3; 0.66/0.38 D3\"",
      "             --poles-up \"south; south; north; north\" --reverse split-rw",
      "             --to split.csv",
      "         lodestep batch split.csv"
    })
final class VoicePlanCommand extends Asked {

  private static final List<String> HEADING =
      List.of(
          "name",
          "set",
          "spread",
          "alloy",
          "shape",
          "size",
          "pole up",
          "target",
          "tolerance",
          "count");

  private final Desk desk;

  @Parameters(paramLabel = "SET", description = "what the set is called")
  private String set = "";

  @Mixin private RecordOf record = new RecordOf();

  @Mixin private MagnetOptions magnet = new MagnetOptions();
  @Mixin private ChoiceOptions choice = new ChoiceOptions();

  @Option(
      names = {"--pole-up", "--poles-up"},
      paramLabel = "POLES",
      description =
          "north or south towards the strings: one word, or one for each in the order of"
              + " --strings; those of --like if left out")
  private @Nullable String poles;

  @Option(
      names = "--strings",
      paramLabel = "STRINGS",
      description = "diameter in mm and note, \"0.28 E4; 0.66/0.38 D3\"; six if left out")
  private @Nullable String strings;

  @Option(
      names = "--scale",
      paramLabel = "LENGTH",
      description = "that vibrates; 640 mm if left out")
  private @Nullable String scale;

  @Option(
      names = "--spread",
      paramLabel = "SPREAD",
      description =
          "how far a set's magnets may differ from one another, \"1.5 %%\"; no rule if left out")
  private String spread = "";

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
    Optional<BuildNotes.Note> like = DescribedPickup.note(desk, record, magnet.like());
    PickupWords here = words().or(magnet.words());
    PickupWords words = like.map(note -> here.or(PickupWords.of(note))).orElse(here);
    PickupAsked asked = DescribedPickup.asked(desk, record);
    LevelPlan plan =
        GaugeCommands.understood(
            () ->
                LevelPlan.of(
                    asked,
                    like.map(note -> words.or(LevelPlan.poles(asked, words, note.event())))
                        .orElse(words),
                    new LevelPlan.Asked(
                        set,
                        choice.levels(like),
                        choice.tolerance(like),
                        spread,
                        Optional.ofNullable(reverse))));
    return csv(plan);
  }

  private PickupWords words() {
    Map<Said, String> said = new EnumMap<>(Said.class);
    said.put(Said.POLES_UP, Optional.ofNullable(poles).orElse(""));
    said.put(Said.STRINGS, Optional.ofNullable(strings).orElse(""));
    said.put(Said.SCALE, Optional.ofNullable(scale).orElse(""));
    if (poles == null && magnet.like() == null) {
      throw new Refusal(
          "--poles-up: say which pole looks at the strings, north or south, or name a past build"
              + " by --like");
    }
    return new PickupWords(said);
  }

  private String csv(LevelPlan plan) {
    StringWriter text = new StringWriter();
    text.write("# " + set.strip() + ": the lowest string first.\r\n");
    try (CSVPrinter printer = new CSVPrinter(text, CSVFormat.RFC4180)) {
      printer.printRecord(HEADING);
      for (LevelPlan.Row row : plan.rows()) {
        printer.printRecord(
            row.name(),
            row.set(),
            row.spread(),
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
