package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.cli.KeepWork.BackupMade;
import lodestep.ledger.Backup;
import lodestep.ledger.Retention;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Backs the ledger up. */
@Command(
    name = "backup",
    description = "Copies the ledger, proven whole, also while a batch is running.",
    footer = {
      "",
      "Each backup is a folder of its own: the copy, a note with its SHA-256, number",
      "and hash of its newest entry, and the rig's description. Nothing is ever",
      "written over; what is half done never has a backup's name. A ledger that is",
      "not whole, or lacks what an older backup there holds, is not backed up.",
      "A copy on the same disk is lost with it: name a second disk with --also.",
      "Exit code 1 when one of the folders did not get its copy.",
      "",
      "Examples: lodestep backup --folder /srv/backups --also /mnt/stick/backups",
      "          lodestep backup --folder /srv/backups --keep \"7 days, 4 weeks\""
    })
final class BackupCommand extends Asked {

  private final Desk desk;

  @Option(
      names = "--folder",
      required = true,
      paramLabel = "FOLDER",
      description = "where backups stand; made if it is not there")
  private Path folder = Path.of("");

  @Option(
      names = "--also",
      paramLabel = "FOLDER",
      description = "a second disk's folder, which must be there; may be said again")
  private List<Path> also = new ArrayList<>();

  @Option(
      names = "--keep",
      paramLabel = "TIMES",
      description = "then takes older ones away, but the newest of each of so many days and weeks")
  private @Nullable String keep;

  @Option(names = "--ledger", paramLabel = "FILE", description = RecordCommands.LEDGER)
  private @Nullable Path ledger;

  @Option(
      names = "--rig",
      paramLabel = "RIG",
      description = "rig.toml to put beside it; if left out, the newest that is on record")
  private @Nullable Path rig;

  @Option(names = "--json", description = "as JSON")
  private boolean json;

  BackupCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    KeepWork.BackupOrder order =
        new KeepWork.BackupOrder(
            desk.ledger(ledger, rig),
            folder,
            also,
            retention(),
            Optional.ofNullable(rig).map(file -> desk.program().rig(Optional.of(file))));
    List<BackupMade> all = desk.program().keep().backup(order);
    if (json) {
      ArrayNode each = Json.array();
      all.forEach(made -> each.add(document(made)));
      desk.print(each);
    } else {
      all.forEach(made -> desk.print(words(made)));
    }
    all.forEach(made -> made.fault().ifPresent(why -> desk.err().println("lodestep: " + why)));
    desk.err().flush();
    if (all.stream().noneMatch(made -> made.made().isPresent())) {
      return Desk.BAD_INPUT;
    }
    return all.stream().allMatch(made -> made.fault().isEmpty()) ? Desk.DONE : Desk.NOT_ACCEPTED;
  }

  private Optional<Retention> retention() {
    if (keep == null) {
      return Optional.empty();
    }
    try {
      return Optional.of(Retention.of(keep));
    } catch (IllegalArgumentException unclear) {
      throw new Refusal("--keep: " + unclear.getMessage());
    }
  }

  private static List<String> words(BackupMade all) {
    List<String> lines = new ArrayList<>();
    all.made()
        .ifPresent(
            made -> {
              lines.add("Backed up to " + made.where());
              lines.add("  " + words(made.note()));
            });
    if (!all.gone().isEmpty()) {
      lines.add(
          "  taken away, as newer ones of their days and weeks stay: "
              + String.join(
                  ", ", all.gone().stream().map(gone -> "" + gone.getFileName()).toList()));
    }
    return lines;
  }

  /** What a backup is, in a line. */
  static String words(Backup note) {
    return String.format(
        Locale.ROOT,
        "%s%s, whole up to event %d, newest hash %s; %,.1f MB",
        note.rigKind().equals("virtual") ? "VIRTUAL, " : "",
        note.rig(),
        note.end().number(),
        note.end().hash(),
        note.size() * 1e-6);
  }

  private static ObjectNode document(BackupMade all) {
    ObjectNode node = Json.object();
    node.put("folder", all.folder().toString());
    all.made()
        .ifPresent(
            made -> {
              node.put("backup", made.where().toString());
              describe(node, made.note());
            });
    ArrayNode gone = node.putArray("takenAway");
    all.gone().forEach(each -> gone.add(each.toString()));
    node.put("fault", all.fault().orElse(""));
    return node;
  }

  static void describe(ObjectNode node, Backup note) {
    node.put("rig", note.rig());
    node.put("rigKind", note.rigKind());
    node.put("newestEvent", note.end().number());
    node.put("newestHash", note.end().hash().toString());
    node.put("sha256", note.sha256());
    node.put("bytes", note.size());
    node.put("made", note.made().toString());
  }
}
