package lodestep.app;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.cli.Refusal;
import lodestep.ledger.MagnetNames;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerException;

/** Finds and opens ledgers to be read. */
final class LedgerFiles {

  private LedgerFiles() {}

  /** The ledger used when none is named, for the rig of this name and kind. */
  static Path usual(String rig, String kind) {
    String name = rig.replaceAll("[^A-Za-z0-9-]+", "-");
    return UserFolder.of(System.getenv(), "XDG_DATA_HOME", ".local/share")
        .resolve(name + "-" + kind + ".ledger");
  }

  /** Refuses a file that is not there. */
  static void require(Path file) {
    if (!Files.exists(file)) {
      throw new Refusal(
          "there is no ledger " + file + "; run a batch first, or name another with --ledger");
    }
  }

  /** Opens a ledger for reading only. */
  static LedgerArchive open(Path file) {
    require(file);
    try {
      return SqliteArchive.open(file);
    } catch (LedgerException refused) {
      throw new Refusal(refused.sentence());
    }
  }

  /** The magnets on record in this ledger; none when there is no such file yet. */
  static MagnetNames names(Path file) {
    if (!Files.exists(file)) {
      return new MagnetNames(List.of());
    }
    try (LedgerArchive archive = open(file)) {
      return MagnetNames.of(archive);
    }
  }
}
