package lodestep.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.MalformedInputException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.LongConsumer;
import java.util.function.Supplier;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.clock.SystemWallClock;
import lodestep.adapter.file.WholeFiles;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.adapter.sqlite.SqliteKeeper;
import lodestep.adapter.sqlite.SqliteKeeper.Place;
import lodestep.adapter.sqlite.SqliteKeeper.Standing;
import lodestep.adapter.sqlite.SqliteProof;
import lodestep.cli.KeepWork;
import lodestep.cli.Refusal;
import lodestep.config.RigConfig;
import lodestep.ledger.Backup;
import lodestep.ledger.Chain;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.Proof;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.Hash;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.LedgerCreated;
import lodestep.port.LedgerEvent.LedgerSetAside;
import lodestep.port.LedgerException;
import lodestep.port.StoredEvent;

/** Keeps ledgers: proves them, backs them up, restores them, sets damaged ones aside. */
final class KeepDesk implements KeepWork {

  private final SystemMonotonicClock monotonic;
  private final SystemWallClock wall;

  KeepDesk(SystemMonotonicClock monotonic, SystemWallClock wall) {
    this.monotonic = monotonic;
    this.wall = wall;
  }

  @Override
  public Proof.Result prove(Path ledgerFile, List<ChainEnd> anchors, LongConsumer progress) {
    LedgerFiles.require(ledgerFile);
    return said(() -> SqliteProof.of(ledgerFile, anchors, progress));
  }

  @Override
  public Optional<String> fileFault(Path ledgerFile) {
    return said(() -> SqliteProof.fault(ledgerFile));
  }

  /** What the adapters cannot do is what a person asked and cannot be done. */
  static <T> T said(Supplier<T> work) {
    try {
      return work.get();
    } catch (LedgerException refused) {
      throw new Refusal(refused.sentence());
    }
  }

  @Override
  public List<ChainEnd> notedIn(Path file) {
    Path note = Files.isDirectory(file) ? file.resolve(Backup.NOTE) : file;
    try {
      if (ExportDesk.isExport(note)) {
        return ExportDesk.anchors(note);
      }
      return List.of(Backup.read(Files.readString(note)).end());
    } catch (IllegalArgumentException | MalformedInputException notOurs) {
      throw new Refusal(
          note + " is neither a backup's note nor an export; name a backup's folder or an export");
    } catch (IOException unreadable) {
      throw new Refusal(note + " cannot be read: " + WholeFiles.why(unreadable));
    }
  }

  @Override
  public List<BackupMade> backup(BackupOrder order) {
    LedgerFiles.require(order.ledgerFile());
    return said(() -> new Backups(Main.version(), wall.now()).make(order));
  }

  @Override
  public List<BackupMade.Made> backups(Path folder) {
    return said(() -> Backups.in(folder));
  }

  @Override
  public Restored restore(Path backup, Optional<Path> ledgerFile, boolean dry) {
    return said(() -> restored(backup, ledgerFile, dry));
  }

  private Restored restored(Path backup, Optional<Path> ledgerFile, boolean dry) {
    BackupMade.Made from = chosen(backup);
    Path ledger =
        real(
            ledgerFile.orElseGet(
                () -> LedgerFiles.usual(from.note().rig(), from.note().rigKind())));
    Path copy = from.where().resolve(Backup.LEDGER);
    requireSame(from, copy);
    if (dry && !Files.exists(ledger)) {
      return proven(new Restored(from, ledger, Optional.empty(), false), copy);
    }
    try (Place place = Place.take(ledger)) {
      Restored plan = proven(plan(from, ledger), copy);
      if (!dry && !plan.nothingToDo()) {
        carryOut(plan, copy, place);
      }
      return plan;
    }
  }

  private static Path real(Path ledger) {
    try {
      Path folder = Files.createDirectories(WholeFiles.folderOf(ledger));
      return Files.exists(ledger)
          ? ledger.toRealPath()
          : folder.toRealPath().resolve(ledger.getFileName());
    } catch (IOException failed) {
      throw new LedgerException(
          "the ledger " + ledger + " cannot be put there: " + WholeFiles.why(failed), failed);
    }
  }

  /**
   * A backup's own folder, or of a folder of one ledger's backups the one that reaches furthest.
   */
  private static BackupMade.Made chosen(Path backup) {
    if (!Files.isDirectory(backup)) {
      throw new Refusal("there is no backup " + backup + "; name the folder of one");
    }
    Path note = backup.resolve(Backup.NOTE);
    if (Files.isRegularFile(note)) {
      return Backups.read(note)
          .map(read -> new BackupMade.Made(backup, read))
          .orElseThrow(() -> new Refusal(note + " is no note of a backup that can be read"));
    }
    List<BackupMade.Made> all = Backups.in(backup);
    Set<Hash> ledgers = new HashSet<>();
    all.forEach(made -> ledgers.add(made.note().first()));
    if (ledgers.size() > 1) {
      throw new Refusal(
          "there are backups of "
              + ledgers.size()
              + " ledgers in "
              + backup
              + "; name the folder of one backup, as --list shows them");
    }
    return all.stream()
        .findFirst()
        .orElseThrow(() -> new Refusal("there is no backup in " + backup + "; check the path"));
  }

  private static void requireSame(BackupMade.Made from, Path copy) {
    try {
      if (!WholeFiles.sha256(copy).equals(from.note().sha256())) {
        throw new Refusal(
            "the copy "
                + copy
                + " is not as it was made: its SHA-256 is not the note's; take another backup");
      }
    } catch (IOException unreadable) {
      throw new Refusal("the copy " + copy + " cannot be read: " + WholeFiles.why(unreadable));
    }
  }

  /** The copy is proven before anything is done. */
  private static Restored proven(Restored plan, Path copy) {
    Proof.Result result = SqliteProof.of(copy, List.of(plan.from().note().end()), done -> {});
    if (result instanceof Proof.Result.Broken broken) {
      throw new Refusal(
          "the copy "
              + copy
              + " is not whole: event "
              + broken.number()
              + ": "
              + broken.what()
              + "; take another backup");
    }
    return plan;
  }

  private Restored plan(BackupMade.Made from, Path ledger) {
    if (!Files.exists(ledger)) {
      return new Restored(from, ledger, Optional.empty(), false);
    }
    Standing there = SqliteKeeper.standing(ledger);
    boolean other = there.first().filter(first -> !first.equals(from.note().first())).isPresent();
    if (other) {
      throw new Refusal(
          "the ledger "
              + ledger
              + " is another one than the backup's; name another place with --ledger");
    }
    ChainEnd end = from.note().end();
    if (there.fault().isEmpty() && there.good().equals(end)) {
      return new Restored(from, ledger, Optional.empty(), true);
    }
    Path copy = from.where().resolve(Backup.LEDGER);
    long lacking = there.good().number() - shared(copy, ledger, there.good());
    Restored.Aside aside =
        new Restored.Aside(asideName(ledger), there.good(), lacking, there.fault());
    return new Restored(from, ledger, Optional.of(aside), false);
  }

  /** Up to which event two ledgers are the same; their hashes tell, by halving. */
  private static long shared(Path copy, Path ledger, ChainEnd good) {
    try (LedgerArchive one = SqliteArchive.open(copy);
        LedgerArchive two = SqliteArchive.open(ledger)) {
      long low = 0;
      long high = Math.min(good.number(), one.newest().number());
      while (low < high) {
        long middle = high - (high - low) / 2;
        if (hash(one, middle).equals(hash(two, middle))) {
          low = middle;
        } else {
          high = middle - 1;
        }
      }
      return low;
    } catch (LedgerException unreadable) {
      return 0;
    }
  }

  private static Hash hash(LedgerArchive archive, long number) {
    Hash[] found = {Hash.ZERO};
    archive.forEach(number, number, event -> found[0] = event.hash());
    return found[0];
  }

  private Path asideName(Path ledger) {
    return WholeFiles.free(
        ledger.resolveSibling(ledger.getFileName() + ".aside-" + Backups.MADE.format(wall.now())));
  }

  private void carryOut(Restored plan, Path copy, Place place) {
    Path ledger = plan.ledgerFile();
    try {
      Path unfinished = WholeFiles.unfinished(ledger);
      try {
        Files.copy(copy, unfinished, StandardCopyOption.COPY_ATTRIBUTES);
        WholeFiles.force(unfinished);
        requireSame(plan.from(), unfinished);
        plan.aside()
            .filter(aside -> aside.lacking() > 0 || aside.fault().isPresent())
            .ifPresent(aside -> note(unfinished, plan, aside));
        WholeFiles.force(unfinished);
        place.put(unfinished, plan.aside().map(Restored.Aside::name).orElse(ledger));
      } finally {
        WholeFiles.unfinished(ledger);
      }
    } catch (IOException failed) {
      throw new LedgerException(
          "the backup cannot be put in the place of "
              + ledger
              + ": "
              + WholeFiles.why(failed)
              + "; nothing was changed",
          failed);
    }
  }

  private void note(Path unfinished, Restored plan, Restored.Aside aside) {
    LedgerSetAside event =
        event(
            aside.name(),
            aside.good(),
            "a backup took its place"
                + aside.fault().map(fault -> ", since it was damaged: " + fault).orElse(""));
    SqliteKeeper.append(unfinished, Chain.link(plan.from().note().end(), List.of(drafted(event))));
  }

  private static LedgerSetAside event(Path aside, ChainEnd good, String why) {
    return new LedgerSetAside(
        String.valueOf(aside.getFileName()), good.number(), good.hash().toString(), why);
  }

  private EventDraft drafted(LedgerEvent event) {
    Instant now = wall.now();
    return new EventDraft(event, monotonic.nowNs(), now);
  }

  @Override
  public SetAside setAside(Path ledgerFile, Optional<RigConfig> rig) {
    LedgerFiles.require(ledgerFile);
    return said(() -> wasSetAside(real(ledgerFile), rig));
  }

  private SetAside wasSetAside(Path ledger, Optional<RigConfig> rig) {
    try (Place place = Place.take(ledger)) {
      Standing there = SqliteKeeper.standing(ledger);
      String fault =
          there
              .fault()
              .orElseThrow(
                  () ->
                      new Refusal(
                          "the ledger "
                              + ledger
                              + " is whole up to event "
                              + there.good().number()
                              + ", so there is no reason to set it aside"));
      Path aside = asideName(ledger);
      List<EventDraft> drafts = new ArrayList<>();
      drafts.add(drafted(created(ledger, there, rig)));
      drafts.add(drafted(event(aside, there.good(), fault)));
      List<StoredEvent> begun = Chain.link(ChainEnd.EMPTY, drafts);
      Path unfinished = WholeFiles.unfinished(ledger);
      SqliteKeeper.make(unfinished, each -> begun.forEach(each));
      place.put(unfinished, aside);
      return new SetAside(ledger, aside, there.good(), fault);
    } catch (IOException failed) {
      throw new UncheckedIOException(failed);
    }
  }

  /** The new ledger belongs to the rig of the old one, if that can still be read. */
  private static LedgerCreated created(Path ledger, Standing there, Optional<RigConfig> rig) {
    Optional<LedgerCreated> named =
        rig.map(config -> new LedgerBinding(config.name(), config.kind()).created());
    if (there.first().isEmpty()) {
      return named.orElseThrow(
          () ->
              new Refusal(
                  "whose ledger "
                      + ledger
                      + " is can be read no more; name its rig with --rig RIG"));
    }
    LedgerCreated old = Backups.created(ledger);
    LedgerCreated begun = new LedgerCreated(old.rig(), old.rigKind(), LedgerBinding.SCHEMA);
    if (named.isPresent() && !named.get().equals(begun)) {
      throw new Refusal(
          "the ledger "
              + ledger
              + " belongs to the "
              + old.rigKind()
              + " rig '"
              + old.rig()
              + "', which is not the one named with --rig");
    }
    return begun;
  }
}
