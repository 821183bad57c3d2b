package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.cli.KeepWork.Restored;
import lodestep.ledger.Backup;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Puts a backup in the ledger's place. */
@Command(
    name = "restore",
    description = "Puts a backup in the ledger's place, once it is proven whole.",
    footer = {
      "",
      "What stands there is set aside under another name, never written over. If it",
      "had entries that the backup lacks, or was damaged, the restored ledger's next",
      "entry says so and names it. See first what would be done, with --dry-run.",
      "",
      "Examples: lodestep restore /srv/backups --list",
      "          lodestep restore /srv/backups --dry-run",
      "          lodestep restore /srv/backups/shed-real-2026-05-04T190000Z"
    })
final class RestoreCommand extends Asked {

  private final Desk desk;

  @Parameters(
      paramLabel = "BACKUP",
      description = "a backup's folder, or one with several of one ledger: the furthest is taken")
  private Path backup = Path.of("");

  @Option(
      names = "--ledger",
      paramLabel = "FILE",
      description = "where it goes; the usual place of the backup's rig if left out")
  private @Nullable Path ledger;

  @Option(names = "--list", description = "lists the backups in the folder, and does nothing")
  private boolean list;

  @Option(names = "--dry-run", description = "says what would be done, and does nothing")
  private boolean dry;

  @Option(names = "--json", description = "as JSON")
  private boolean json;

  RestoreCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    if (list) {
      show(desk.program().keep().backups(backup));
      return Desk.DONE;
    }
    Restored restored = desk.program().keep().restore(backup, Optional.ofNullable(ledger), dry);
    if (json) {
      desk.print(document(restored));
    } else {
      desk.print(words(restored));
    }
    return Desk.DONE;
  }

  private void show(List<KeepWork.BackupMade.Made> all) {
    if (json) {
      ArrayNode each = Json.array();
      for (KeepWork.BackupMade.Made made : all) {
        BackupCommand.describe(
            each.addObject().put("backup", made.where().toString()), made.note());
      }
      desk.print(each);
      return;
    }
    Table table =
        new Table(
            List.of(
                Table.Column.ofWords("backup"),
                Table.Column.ofWords("rig"),
                Table.Column.ofWords("made (UTC)"),
                Table.Column.ofNumbers("up to event"),
                Table.Column.ofNumbers("MB")),
            all.stream().map(RestoreCommand::row).toList());
    desk.print(all.isEmpty() ? List.of("There is no backup in " + backup) : table.lines());
  }

  private static List<String> row(KeepWork.BackupMade.Made made) {
    Backup note = made.note();
    return List.of(
        String.valueOf(made.where().getFileName()),
        note.rig() + (note.rigKind().equals("virtual") ? ", VIRTUAL" : ""),
        note.made().toString().replace("T", " ").replace("Z", ""),
        Long.toString(note.end().number()),
        String.format(Locale.ROOT, "%.1f", note.size() * 1e-6));
  }

  private List<String> words(Restored restored) {
    List<String> lines = new ArrayList<>();
    lines.add("Backup: " + restored.from().where());
    lines.add("  " + BackupCommand.words(restored.from().note()));
    if (restored.nothingToDo()) {
      lines.add("The same events stand in " + restored.ledgerFile() + "; nothing is to be done.");
      return lines;
    }
    restored.aside().ifPresent(aside -> lines.addAll(words(aside)));
    lines.add(
        (dry ? "Would be put in the place of " : "Restored to ")
            + restored.ledgerFile()
            + (dry ? "; nothing was changed." : ""));
    if (!restored.from().note().rigSha256().isEmpty()) {
      lines.add("The rig's description of then: " + restored.from().where().resolve(Backup.RIG));
    }
    return lines;
  }

  private List<String> words(Restored.Aside aside) {
    List<String> lines = new ArrayList<>();
    lines.add(
        String.format(
            Locale.ROOT,
            "What stands there, good up to event %d, %s set aside as %s",
            aside.good().number(),
            dry ? "would be" : "was",
            aside.name()));
    if (aside.lacking() > 0) {
      lines.add(
          String.format(
              Locale.ROOT, "  MIND: it holds %d events that the backup lacks", aside.lacking()));
    }
    aside.fault().ifPresent(fault -> lines.add("  it is damaged: " + fault));
    return lines;
  }

  private ObjectNode document(Restored restored) {
    ObjectNode node = Json.object();
    node.put("done", !dry && !restored.nothingToDo());
    node.put("nothingToDo", restored.nothingToDo());
    node.put("backup", restored.from().where().toString());
    BackupCommand.describe(node, restored.from().note());
    node.put("ledger", restored.ledgerFile().toString());
    restored
        .aside()
        .ifPresent(
            aside -> {
              node.put("setAsideAs", aside.name().toString());
              node.put("setAsideGoodUpToEvent", aside.good().number());
              node.put("eventsTheBackupLacks", aside.lacking());
              node.put("setAsideFault", aside.fault().orElse(""));
            });
    return node;
  }
}
