package lodestep.cli;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.function.LongConsumer;
import lodestep.config.RigConfig;
import lodestep.ledger.Backup;
import lodestep.ledger.Proof;
import lodestep.ledger.Retention;
import lodestep.port.ChainEnd;

/** What the commands that keep a ledger need of the program. Every refusal is a {@link Refusal}. */
public interface KeepWork {

  /**
   * Proves a ledger's file whole.
   *
   * @param progress is told how many events are done
   */
  Proof.Result prove(Path ledgerFile, List<ChainEnd> anchors, LongConsumer progress);

  /** What is wrong with the file around its events; empty when nothing is. */
  Optional<String> fileFault(Path ledgerFile);

  /** The events that a backup's note, its folder or an export says were there. */
  List<ChainEnd> notedIn(Path file);

  /**
   * Backups to make.
   *
   * @param folder of the backups; made if it is not there
   * @param also other folders for a copy each, which must be there: a disk that is not plugged in
   *     has none
   * @param rig whose description goes beside it; the newest on record if none
   */
  record BackupOrder(
      Path ledgerFile,
      Path folder,
      List<Path> also,
      Optional<Retention> keep,
      Optional<RigConfig> rig) {
    public BackupOrder {
      also = List.copyOf(also);
    }
  }

  /**
   * What became of the backup in one folder.
   *
   * @param made the backup's own folder and its note; none if it was not made
   * @param gone folders of older backups that were taken away
   * @param fault what is to be seen to; also of a backup that was made
   */
  record BackupMade(Path folder, Optional<Made> made, List<Path> gone, Optional<String> fault) {
    public BackupMade {
      gone = List.copyOf(gone);
    }

    /** A backup and where it stands. */
    public record Made(Path where, Backup note) {}
  }

  /** Makes one backup in each folder; what cannot be done in one keeps the others from nothing. */
  List<BackupMade> backup(BackupOrder order);

  /** The backups in a folder, of all ledgers, the one that reaches furthest first. */
  List<BackupMade.Made> backups(Path folder);

  /**
   * What restoring would do, or has done.
   *
   * @param from the backup that was taken
   * @param ledgerFile where it goes
   * @param aside what stands there, and the name it is set aside under; none if nothing does
   * @param nothingToDo whether the very same events stand there already
   */
  record Restored(
      BackupMade.Made from, Path ledgerFile, Optional<Aside> aside, boolean nothingToDo) {

    /**
     * A file that is set aside.
     *
     * @param lacking how many of its events the copy lacks
     * @param fault what is wrong with it; none if it is whole
     */
    public record Aside(Path name, ChainEnd good, long lacking, Optional<String> fault) {}
  }

  /**
   * Puts a backup in a ledger's place.
   *
   * @param backup the folder of one backup, or of several of one ledger
   * @param ledgerFile the place; that of the rig on record if none
   * @param dry whether to look only
   */
  Restored restore(Path backup, Optional<Path> ledgerFile, boolean dry);

  /**
   * A damaged ledger that was set aside.
   *
   * @param aside its new name, and {@code good} its last good event
   */
  record SetAside(Path ledgerFile, Path aside, ChainEnd good, String fault) {}

  /**
   * Sets a damaged ledger aside and begins a new one that says so.
   *
   * @param rig whose ledger it is; needed only where the file itself cannot say so any more
   */
  SetAside setAside(Path ledgerFile, Optional<RigConfig> rig);
}
