package lodestep.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.MalformedInputException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import lodestep.adapter.file.WholeFiles;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.adapter.sqlite.SqliteKeeper;
import lodestep.adapter.sqlite.SqliteProof;
import lodestep.cli.KeepWork.BackupMade;
import lodestep.cli.KeepWork.BackupOrder;
import lodestep.config.RigConfig;
import lodestep.ledger.Backup;
import lodestep.ledger.Chain;
import lodestep.ledger.EventCodec;
import lodestep.ledger.Proof;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.Hash;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent.LedgerCreated;
import lodestep.port.LedgerEvent.LedgerSetAside;
import lodestep.port.LedgerEvent.RigDescribed;
import lodestep.port.LedgerException;
import lodestep.port.StoredEvent;

/**
 * Makes backups, each a folder of its own with the copy, its note and the rig's description. The
 * folder gets its name when all in it is synced and proven, so that what has a backup's name is a
 * whole backup. One thread.
 */
final class Backups {

  /** A moment as it stands in names of files. */
  static final DateTimeFormatter MADE =
      DateTimeFormatter.ofPattern("yyyy-MM-dd'T'HHmmss'Z'", Locale.ROOT).withZone(ZoneOffset.UTC);

  private static final String LOCK = ".lodestep-backup.lock";
  private static final String UNFINISHED = ".lodestep-backup.unfinished";
  private static final String GOING = ".lodestep-backup.going";

  private final String program;
  private final Instant now;

  /**
   * @param program version that makes them, and {@code now} by the wall clock
   */
  Backups(String program, Instant now) {
    this.program = program;
    this.now = now.truncatedTo(ChronoUnit.SECONDS);
  }

  List<BackupMade> make(BackupOrder order) {
    List<BackupMade> all = new ArrayList<>();
    all.add(tried(order, order.folder(), true));
    for (Path other : order.also()) {
      BackupMade made = tried(order, other, false);
      all.add(sameDisk(order.folder(), other) ? told(made, notSecond(order, other)) : made);
    }
    return all;
  }

  private static BackupMade told(BackupMade made, String fault) {
    return new BackupMade(
        made.folder(), made.made(), made.gone(), made.fault().or(() -> Optional.of(fault)));
  }

  private static String notSecond(BackupOrder order, Path other) {
    return String.format(
        "%s is on the same disk as %s, so it is no second copy; see that the other disk is in its"
            + " place",
        other, order.folder());
  }

  private static boolean sameDisk(Path one, Path other) {
    try {
      return Files.getFileStore(one).equals(Files.getFileStore(other));
    } catch (IOException notThere) {
      // One of them is missing, which is told on its own.
      return false;
    }
  }

  /** What cannot be done in one folder is told, and keeps no other from its copy. */
  private BackupMade tried(BackupOrder order, Path folder, boolean mayMake) {
    try {
      if (mayMake) {
        Files.createDirectories(folder);
      } else if (!Files.isDirectory(folder)) {
        return failed(folder, "there is no folder " + folder + "; see that its disk is in place");
      }
      return locked(order, folder.toRealPath());
    } catch (LedgerException refused) {
      return failed(folder, refused.sentence());
    } catch (IOException failed) {
      return failed(folder, "no backup can be made in " + folder + ": " + WholeFiles.why(failed));
    }
  }

  private static BackupMade failed(Path folder, String why) {
    return new BackupMade(folder, Optional.empty(), List.of(), Optional.of(why));
  }

  private BackupMade locked(BackupOrder order, Path folder) throws IOException {
    try (FileChannel channel =
            FileChannel.open(
                folder.resolve(LOCK), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
        FileLock lock = channel.tryLock()) {
      if (lock == null) {
        return failed(folder, "another backup is being made in " + folder + "; wait for its end");
      }
      WholeFiles.delete(folder.resolve(UNFINISHED));
      WholeFiles.delete(folder.resolve(GOING));
      try {
        return inFolder(order, folder);
      } finally {
        WholeFiles.delete(folder.resolve(UNFINISHED));
      }
    } catch (OverlappingFileLockException ours) {
      return failed(folder, "another backup is being made in " + folder + "; wait for its end");
    }
  }

  private BackupMade inFolder(BackupOrder order, Path folder) throws IOException {
    Path unfinished = Files.createDirectory(folder.resolve(UNFINISHED));
    Path copy = unfinished.resolve(Backup.LEDGER);
    SqliteKeeper.copy(order.ledgerFile(), copy);
    Backup note = note(order, copy, unfinished);
    List<BackupMade.Made> before = of(folder, note.first());
    prove(copy, before, order.ledgerFile());
    WholeFiles.write(unfinished.resolve(Backup.NOTE), note.text().getBytes(StandardCharsets.UTF_8));
    WholeFiles.forceFolder(unfinished);
    Path name = WholeFiles.free(folder.resolve(stem(note) + "-" + MADE.format(now)));
    WholeFiles.rename(unfinished, name);
    BackupMade.Made made = new BackupMade.Made(name, note);
    List<BackupMade.Made> all = new ArrayList<>(before);
    all.add(made);
    return new BackupMade(folder, Optional.of(made), pruned(order, folder, all), Optional.empty());
  }

  private static String stem(Backup note) {
    return (note.rig() + "-" + note.rigKind()).replaceAll("[^A-Za-z0-9-]+", "-");
  }

  /** The older backups are what an older copy put in the ledger's place is told by. */
  private static void prove(Path copy, List<BackupMade.Made> before, Path ledger) {
    Proof.Result result = SqliteProof.of(copy, anchors(copy, before), done -> {});
    Optional<String> fault =
        result.match(
            whole -> SqliteProof.fault(copy),
            broken -> Optional.of("event " + broken.number() + ": " + broken.what()));
    fault.ifPresent(
        why -> {
          throw new LedgerException(
              String.format(
                  "the ledger %s is not whole, so no backup was made and the older ones stay (%s)",
                  ledger, why));
        });
  }

  /**
   * Where a backup took the ledger's place, what was noted before of the events that it lacked is
   * not this ledger's any more; the event that says so is on record.
   */
  private static List<ChainEnd> anchors(Path copy, List<BackupMade.Made> before) {
    List<StoredEvent> forks = new ArrayList<>();
    try (LedgerArchive archive = SqliteArchive.open(copy)) {
      archive.forEachOfKind(EventCodec.kind(LedgerSetAside.class), forks::add);
    }
    return before.stream()
        .map(BackupMade.Made::note)
        .filter(
            note ->
                forks.stream()
                    .noneMatch(
                        fork ->
                            fork.number() <= note.end().number()
                                && fork.index().wallEpochMs() > note.made().toEpochMilli()))
        .map(Backup::end)
        .toList();
  }

  private Backup note(BackupOrder order, Path copy, Path unfinished) throws IOException {
    try (LedgerArchive archive = SqliteArchive.open(copy)) {
      StoredEvent first = first(archive);
      LedgerCreated created = created(first, order.ledgerFile());
      String text = order.rig().map(RigConfig::text).filter(t -> !t.isEmpty()).orElse(rig(archive));
      if (!text.isEmpty()) {
        WholeFiles.write(unfinished.resolve(Backup.RIG), text.getBytes(StandardCharsets.UTF_8));
      }
      return new Backup(
          created.rig(),
          created.rigKind(),
          first.hash(),
          archive.newest(),
          WholeFiles.sha256(copy),
          Files.size(copy),
          text.isEmpty() ? "" : Chain.sha256(Bytes.ofUtf8(text)).toString(),
          now,
          program);
    }
  }

  /** What the first event of a ledger says. */
  static LedgerCreated created(Path ledger) {
    try (LedgerArchive archive = SqliteArchive.open(ledger)) {
      return created(first(archive), ledger);
    }
  }

  private static StoredEvent first(LedgerArchive archive) {
    List<StoredEvent> first = new ArrayList<>();
    archive.forEach(1, 1, first::add);
    return first.stream()
        .findFirst()
        .orElseThrow(() -> new LedgerException("the ledger has no event 1; prove it"));
  }

  private static LedgerCreated created(StoredEvent first, Path ledger) {
    try {
      if (EventCodec.decode(first).event() instanceof LedgerCreated created) {
        return created;
      }
    } catch (IllegalArgumentException unreadable) {
      throw new LedgerException(
          "event 1 of the ledger " + ledger + " cannot be read; prove it", unreadable);
    }
    throw new LedgerException("event 1 of the ledger " + ledger + " creates none; prove it");
  }

  /** The newest description on record; empty if there is none. */
  static String rig(LedgerArchive archive) {
    String[] text = {""};
    archive.forEachOfKind(
        EventCodec.kind(RigDescribed.class),
        stored -> {
          if (EventCodec.decode(stored).event() instanceof RigDescribed rig) {
            text[0] = rig.text();
          }
        });
    return text[0];
  }

  private static List<Path> pruned(BackupOrder order, Path folder, List<BackupMade.Made> all)
      throws IOException {
    List<Path> gone = new ArrayList<>();
    if (order.keep().isPresent()) {
      for (BackupMade.Made spare : order.keep().get().spare(all, BackupMade.Made::note)) {
        // Under another name first: killed here, nothing with a backup's name lacks a file.
        WholeFiles.rename(spare.where(), folder.resolve(GOING));
        WholeFiles.delete(folder.resolve(GOING));
        gone.add(spare.where());
      }
    }
    return gone;
  }

  private static List<BackupMade.Made> of(Path folder, Hash first) {
    return in(folder).stream().filter(made -> made.note().first().equals(first)).toList();
  }

  /** All whole backups in a folder, of all ledgers, the one that reaches furthest first. */
  static List<BackupMade.Made> in(Path folder) {
    List<BackupMade.Made> found = new ArrayList<>();
    try (Stream<Path> inside = Files.list(folder)) {
      for (Path each : inside.toList()) {
        if (Files.isRegularFile(each.resolve(Backup.NOTE))
            && !String.valueOf(each.getFileName()).startsWith(".")) {
          read(each.resolve(Backup.NOTE))
              .ifPresent(note -> found.add(new BackupMade.Made(each, note)));
        }
      }
    } catch (IOException unreadable) {
      throw new LedgerException(
          "the folder " + folder + " cannot be read: " + WholeFiles.why(unreadable), unreadable);
    }
    found.sort(
        Comparator.comparingLong((BackupMade.Made made) -> made.note().end().number())
            .thenComparing(made -> made.note().made())
            .reversed());
    return found;
  }

  /** A note that cannot be understood is some other program's, or a newer one's. */
  static Optional<Backup> read(Path note) {
    try {
      return Optional.of(Backup.read(Files.readString(note)));
    } catch (IllegalArgumentException | MalformedInputException notOurs) {
      return Optional.empty();
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    }
  }
}
